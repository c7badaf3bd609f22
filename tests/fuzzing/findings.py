"""Files that once went wrong, each with its reader, as short as they could be made."""

__all__ = ["FINDINGS"]

_PLACE = '[builds.face]\nplace = [{ id = "s", part = "%s", at = %s, repeat = %s }]\n'
_AT_ONE_PLACE = "{ count = [1000, 1], step = [0, 0] }"

FINDINGS = {
    "every two of 1,000 pieces overlap, and each pair was reported": (
        "builds/face.toml",
        (_PLACE % ("slab", "[0, 0, 0]", _AT_ONE_PLACE)).encode(),
    ),
    "1,000 detailed pieces lie on each other, and all their cuboids were compared": (
        "builds/face.toml",
        (_PLACE % ("heap", "[0, 0]", _AT_ONE_PLACE)).encode(),
    ),
}
