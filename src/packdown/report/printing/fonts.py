"""The fonts of printed pages, and what can be said in them.

Noto Sans sets Latin, Greek and Cyrillic; FiraGO adds Arabic, Hebrew, Thai, Georgian and
Devanagari; Noto Sans Symbols adds signs. All are under the SIL Open Font License.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import NamedTuple
from unicodedata import category, normalize

__all__ = ["FALLBACKS", "FAMILY", "MISSING", "Face", "font_files", "plain"]

FAMILY = "noto"
FALLBACKS = ("fira", "symbols")
"""Families to look in for what the first one lacks, in this order."""
MISSING = "\N{REPLACEMENT CHARACTER}"
"""Stands for every character that no font has."""
_SELECTORS = range(0xFE00, 0xFE10)
"""Characters that only choose between looks of the one before."""


class Face(NamedTuple):
    """One font: its family, its style (empty or ``B``), and its name in the package of fonts."""

    family: str
    style: str
    key: str


FACES = (
    Face(FAMILY, "", "notos"),
    Face(FAMILY, "B", "notosbo"),
    Face("fira", "", "figo"),
    Face("fira", "B", "figbo"),
    Face("symbols", "", "symbol2"),
)


@contextmanager
def font_files() -> Iterator[dict[Face, Path]]:
    """Lay the fonts into a folder while they are needed: they come as data, read as files."""
    import pymupdf_fonts  # noqa: PLC0415 - only printing needs it

    with TemporaryDirectory(prefix="packdown-fonts-", ignore_cleanup_errors=True) as folder:
        files = {face: Path(folder) / f"{face.key}.ttf" for face in FACES}
        for face, path in files.items():
            path.write_bytes(pymupdf_fonts.myfont(face.key))
        yield files


def plain(text: str) -> str:
    r"""Return a text as one line of visible characters, accents joined with their letters.

    >>> plain("Cafe\u0301\n\x00 box ")
    'Café box'
    """
    joined = normalize("NFC", text)
    return " ".join("".join(map(_shown, joined)).split())


def _shown(sign: str) -> str:
    """Return a character, a blank for one that controls, nothing for one that is never seen."""
    if category(sign) == "Cf" or ord(sign) in _SELECTORS:
        return ""
    return " " if category(sign) == "Cc" else sign
