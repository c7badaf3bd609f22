"""Groups of pieces that must share a container, or must not."""

from collections.abc import Collection, Iterable, Mapping

from packdown.errors import nearest
from packdown.files.table import Table
from packdown.files.values import list_of, text
from packdown.model import Build, Part, Piece

__all__ = ["Groups", "Members", "members_of", "read_groups"]

Groups = tuple[tuple[str, ...], ...]
Members = Mapping[str, Mapping[str, tuple[str, ...]]]
_WORDS = list_of(text, least=1)


def members_of(
    parts: Mapping[str, Part | None], builds: Mapping[str, Build | None], loose: Iterable[Piece]
) -> Members:
    """Return the ids of the pieces behind every name that a group may use.

    Returns
    -------
    Members
        For each of ``builds``, ``parts``, ``pieces`` and ``tags``: names with their pieces.
    """
    found: dict[str, dict[str, list[str]]] = {
        "builds": {build: [] for build in builds},
        "parts": {part: [] for part in parts},
        "pieces": {},
        "tags": {},
    }
    standing = [(piece, build) for build in builds.values() if build for piece in build.pieces]
    for piece, build in [*standing, *((piece, None) for piece in loose)]:
        part = parts.get(piece.part)
        names = {
            "builds": (build.id,) if build else (),
            "parts": (part.id,) if part else (),
            "pieces": (piece.id,),
            "tags": {*(build.tags if build else ()), *(part.tags if part else ())},
        }
        for kind, words in names.items():
            for word in words:
                found[kind].setdefault(word, []).append(piece.id)
    return {
        kind: {word: tuple(ids) for word, ids in words.items()} for kind, words in found.items()
    }


def read_groups(root: Table, key: str, members: Members, known: Collection[str]) -> Groups:
    """Read ``keep_together`` or ``keep_apart`` as groups of piece ids.

    Parameters
    ----------
    root
        The file.
    key
        Which of the two.
    members
        What may be named.
    known
        The kinds of name that are all known; only those are checked.
    """
    groups = []
    for table in root.tables(key):
        ids: dict[str, None] = {}
        for kind, names in members.items():
            for index, word in enumerate(table.get(kind, _WORDS, ())):
                ids.update(dict.fromkeys(names.get(word, ())))
                if word not in names and kind in known:
                    table.place.at(kind).at(index).report(
                        f'there is no "{word}" among the {kind}', nearest(word, names)
                    )
        if table.done() and not ids and len(known) == len(members):
            table.place.report("names no piece", f"give any of {', '.join(members)}")
        groups.append(tuple(ids))
    return tuple(groups)
