"""The sheets of labels that the program knows, from the file it ships with."""

from collections.abc import Mapping
from functools import cache

from packdown.data import data_folder
from packdown.errors import InputError, Problem
from packdown.files.place import Place
from packdown.files.table import Table, read_toml
from packdown.files.values import Reader, choice, length, list_of, text, whole
from packdown.model import LabelSheet
from packdown.units import Rounding

__all__ = ["read_label_sheets", "read_papers"]

MOST_LABELS = 100


def read_label_sheets() -> Mapping[str, LabelSheet]:
    """Read the known sheets of labels by name, in the order of the file.

    Raises
    ------
    InputError
        If the program's own file was changed so that it cannot be used.
    """
    return _read()[1]


def read_papers() -> Mapping[str, tuple[int, int]]:
    """Read width and height of the known sizes of paper by name.

    Raises
    ------
    InputError
        If the program's own file was changed so that it cannot be used.
    """
    return _read()[0]


@cache
def _read() -> tuple[Mapping[str, tuple[int, int]], Mapping[str, LabelSheet]]:
    found: list[Problem] = []
    path = data_folder("shared") / "label_sheets.toml"
    root = read_toml(path, Place(path.name, found))
    papers: dict[str, tuple[int, int]] = {}
    sheets: dict[str, LabelSheet] = {}
    if root:
        table = root.table("papers")
        papers = {name: table.need(name, _pair(length(Rounding.NEAREST))) for name in table}
        for name, entry in root.table("sheets").entries():
            sheet = _sheet(name, entry, papers)
            sheets |= {name: sheet} if sheet else {}
        root.done()
    if found:
        raise InputError(found)
    return papers, sheets


def _sheet(name: str, table: Table, papers: Mapping[str, tuple[int, int]]) -> LabelSheet | None:
    """Read one sheet; None stands for one that cannot be used."""
    lengths = _pair(length(Rounding.NEAREST, low=0))
    paper = table.need("paper", choice(papers))
    columns, rows = table.need("grid", _pair(whole(1, MOST_LABELS)))
    label = table.need("label", _pair(length(Rounding.NEAREST)))
    margin = table.need("margin", lengths)
    gap = table.need("gap", lengths)
    table.need("source", text)
    if not table.done():
        return None
    try:
        return LabelSheet(
            id=name,
            paper_um=paper,
            columns=columns,
            rows=rows,
            label_um=label,
            margin_um=margin,
            gap_um=gap,
        )
    except ValueError as error:
        table.place.report(str(error))
        return None


def _pair(reader: Reader[int]) -> Reader[tuple[int, int]]:
    """Return a reader of what goes across, and what goes down."""
    both = list_of(reader, 2, 2)

    def read(value: object, place: Place) -> tuple[int, int]:
        found = both(value, place)
        return (found[0], found[1]) if found else (1, 1)

    return read
