"""Spreadsheets of different habits, all of our own invention."""

import datetime as dt
from collections.abc import Callable
from dataclasses import dataclass, field
from io import BytesIO
from typing import Any
from zipfile import ZIP_DEFLATED, ZipFile

import openpyxl
from openpyxl.styles import Font

__all__ = ["HABITS", "Habit", "workbook"]

Size = tuple[int, int, int]
WALL: tuple[Size, int, int] = ((64_000, 16_000, 64_000), 32, 6)
POST: tuple[Size, int, int] = ((12_500, 12_500, 70_000), 9, 14)
INCH_WALL: tuple[Size, int, int] = ((50_800, 12_700, 38_100), 32, 6)
INCH_POST: tuple[Size, int, int] = ((9_525, 9_525, 69_850), 9, 14)


@dataclass(frozen=True, kw_only=True)
class Habit:
    """A spreadsheet, and what must become of it.

    Parameters
    ----------
    file
        Its name.
    data
        Its contents.
    words
        Options of the import.
    parts
        For each part its size in micrometres, its weight in grams, and how many there are.
    refused
        Cell and words of each problem, where it must be refused.
    said
        Words that must stand in the preview.
    """

    file: str
    data: bytes
    words: tuple[str, ...] = ()
    parts: dict[str, tuple[Size, int, int]] = field(default_factory=dict)
    refused: tuple[tuple[str, str], ...] = ()
    said: tuple[str, ...] = ()


def workbook(fill: Callable[[Any], None], title: str = "Bits") -> bytes:
    """Return a workbook of one sheet that is filled by a function."""
    book = openpyxl.Workbook()
    book.active.title = title
    fill(book.active)
    stream = BytesIO()
    book.save(stream)
    return stream.getvalue()


def with_results(data: bytes, results: dict[str, str]) -> bytes:
    """Put results of formulas into a workbook, as a spreadsheet program saves them."""
    source, target = ZipFile(BytesIO(data)), BytesIO()
    with ZipFile(target, "w", ZIP_DEFLATED) as archive:
        for name in source.namelist():
            text = source.read(name)
            if name == "xl/worksheets/sheet1.xml":
                for cell, value in results.items():
                    head, mark, tail = text.partition(f'<c r="{cell}"'.encode())
                    tail = tail.replace(b"<v></v>", f"<v>{value}</v>".encode(), 1)
                    tail = tail.replace(b"<v />", f"<v>{value}</v>".encode(), 1)
                    text = head + mark + tail.replace(b"<v/>", f"<v>{value}</v>".encode(), 1)
            archive.writestr(name, text)
    return target.getvalue()


def _rows(*rows: tuple[object, ...]) -> Callable[[Any], None]:
    def fill(sheet: Any) -> None:  # noqa: ANN401 - openpyxl is untyped
        for row in rows:
            sheet.append(row)

    return fill


def _merged(sheet: Any) -> None:  # noqa: ANN401 - openpyxl is untyped
    sheet.append(("My pieces, counted in spring",))
    sheet.merge_cells("A1:F1")
    sheet.append(())
    sheet.append(("Piece", "Size (mm)", None, None, "Weight (g)", "How many"))
    sheet.append((None, "L", "W", "H", None, None))
    sheet.merge_cells("B3:D3")
    for column in "AEF":
        sheet.merge_cells(f"{column}3:{column}4")
    sheet["A3"].font = Font(bold=True)
    sheet.append(("Wall", 64, 16, 64, 32, 6))
    sheet.append(("Post", 12.5, 12.5, 70, 9, 14))


def _hidden(sheet: Any, *, needed: bool) -> None:  # noqa: ANN401 - openpyxl is untyped
    sheet.append(("Name", "Length mm", "Width mm", "Height mm", "Weight g", "Qty", "Paid"))
    sheet.append(("Wall", 64, 16, 64, 32, 6, 3.5))
    sheet.append(("Post", 12.5, 12.5, 70, 9, 14, 1.25))
    sheet.column_dimensions["E" if needed else "G"].hidden = True


def _hidden_row(sheet: Any) -> None:  # noqa: ANN401 - openpyxl is untyped
    _hidden(sheet, needed=False)
    sheet.append(("Sold long ago", 5, 5, 5, 1, 99, 0))
    sheet.row_dimensions[4].hidden = True


def _formulas(sheet: Any) -> None:  # noqa: ANN401 - openpyxl is untyped
    sheet.append(("Name", "Length mm", "Width mm", "Height mm", "Weight g", "Qty"))
    sheet.append(("Wall", "=4*16", 16, 64, 32, "=2+4"))
    sheet.append(("Post", 12.5, "=B3", 70, 9, 14))


def _merged_data(sheet: Any) -> None:  # noqa: ANN401 - openpyxl is untyped
    sheet.append(("Name", "Length mm", "Width mm", "Height mm", "Weight g", "Qty"))
    sheet.append(("Wall", 64, 16, 64, 32, 6))
    sheet.append(("Post", 12.5, 12.5, 70, None, 14))
    sheet.merge_cells("E2:E3")


def _errors(sheet: Any) -> None:  # noqa: ANN401 - openpyxl is untyped
    sheet.append(("Name", "Length mm", "Width mm", "Height mm", "Weight g", "Qty"))
    sheet.append(("Wall", "#REF!", 16, 64, 32, 6))
    sheet["B2"].data_type = "e"
    sheet.append(("Post", 12.5, 12.5, 70, 9, "lots"))


def _two_sheets() -> bytes:
    book = openpyxl.Workbook()
    book.active.title = "Read me"
    book.active.append(("This is about my pieces",))
    sheet = book.create_sheet("Pieces")
    _hidden(sheet, needed=False)
    book.create_sheet("Paints").append(("Name", "Colour"))
    stream = BytesIO()
    book.save(stream)
    return stream.getvalue()


BOTH = {"wall": WALL, "post": POST}
INCHES = {"wall": INCH_WALL, "post": INCH_POST}
_PLAIN = "Name,Length (mm),Width (mm),Height (mm),Weight (g),Qty\n"
_TAIL = "Wall,64,16,64,32,6\nPost,12.5,12.5,70,9,14\n"

HABITS: dict[str, Habit] = {
    "plain": Habit(file="a.csv", data=(_PLAIN + _TAIL).encode(), parts=BOTH),
    "byte-order mark and tabs": Habit(
        file="b.tsv",
        data=b"\xef\xbb\xbf" + (_PLAIN + _TAIL).replace(",", "\t").encode(),
        parts=BOTH,
    ),
    "decimal commas behind semicolons": Habit(
        file="c.csv",
        data="Bezeichnung;Länge;Breite;Höhe;Gewicht;Anzahl\r\nWall;64;16;64;0,032 kg;6\r\n"
        "Post;12,5;1,25 cm;70;9 g;14\r\n".encode("cp1252"),
        words=(
            "--column", "Bezeichnung=name", "--column", "Länge=length", "--column", "Breite=width",
            "--column", "Höhe=height", "--column", "Gewicht=weight", "--column", "Anzahl=count",
            "--units", "mm",
        ),
        parts=BOTH,
        said=("Windows-1252", "comma"),
    ),
    "inches with fractions": Habit(
        file="d.csv",
        data='Item,L,W,H,Weight,Qty\nWall,2",1/2 in,1 1/2 in,32 g,6\n'
        'Post,3/8 in,0.375 in,2-3/4 in,9 g,x14\n'.replace('2",', '"2""",').encode(),
        parts=INCHES,
    ),
    "fractions as signs and a unit above": Habit(
        file="e.csv",
        data=(
            "item;L (in);W (in);H (in);Weight (g);Qty\nWall;2;½;1½;32;6\nPost;⅜;⅜;2¾;9;14\n"
        ).encode(),
        parts=INCHES,
    ),
    "mixed units": Habit(
        file="f.csv",
        data=b"what,length,width,height,weight,qty\nWall,6.4 cm,16 mm,0.064 m,32 g,6 pcs\n"
        b"Post,12.5mm,1.25cm,70mm,0.009kg,14\n",
        parts=BOTH,
    ),
    "sizes in one column": Habit(
        file="g.csv",
        data="Part;Dimensions;Weight;Number owned\nWall;64 x 16 x 64 mm;32 g;6\n"
        "Post;12.5\u00d712.5\u00d770 mm;9 g;14\n".encode(),
        parts=BOTH,
    ),
    "blank rows, titles, a second heading, a total": Habit(
        file="h.csv",
        data=(
            ",,,,,\nMy list,,,,,\n,,,,,\n" + _PLAIN + "\nWALLS,,,,,\nWall,64,16,64,32,6\n\n,,,,,\n"
            + _PLAIN + "Posts:,,,,,\nPost,12.5,12.5,70,9,14\n,,,,Total,20\n"
        ).encode(),
        parts=BOTH,
        said=("a title, 'WALLS'", "a total", "the heading again"),
    ),
    "merged headings of two rows": Habit(file="i.xlsx", data=workbook(_merged), parts=BOTH),
    "a hidden column that is not needed": Habit(
        file="j.xlsx", data=workbook(lambda sheet: _hidden(sheet, needed=False)), parts=BOTH
    ),
    "a hidden column that is needed": Habit(
        file="k.xlsx",
        data=workbook(lambda sheet: _hidden(sheet, needed=True)),
        refused=(("Bits!E1", "hidden"),),
    ),
    "a hidden row": Habit(
        file="l.xlsx", data=workbook(_hidden_row), parts=BOTH, said=("hidden are not read: 4",)
    ),
    "formulas with results": Habit(
        file="m.xlsx",
        data=with_results(workbook(_formulas), {"B2": "64", "F2": "6", "C3": "12.5"}),
        parts=BOTH,
    ),
    "formulas without results": Habit(
        file="n.xlsx",
        data=workbook(_formulas),
        refused=(("Bits!B2", "formula"), ("Bits!F2", "formula"), ("Bits!C3", "formula")),
    ),
    "merged cells among the data": Habit(
        file="o.xlsx", data=workbook(_merged_data), refused=(("row 2, Weight g", "merged"),)
    ),
    "errors and words for numbers": Habit(
        file="p.xlsx",
        data=workbook(_errors),
        refused=(("Bits!B2", "#REF!"), ("Bits!F3", "no whole number")),
    ),
    "a fraction that became a date": Habit(
        file="q.xlsx",
        data=workbook(
            _rows(
                ("Name", "Length in", "Width in", "Height in", "Weight g", "Qty"),
                ("Wall", 2, dt.date(2024, 2, 1), 1.5, 32, 6),
            )
        ),
        refused=(("Bits!C2", "date"),),
    ),
    "several sheets": Habit(
        file="r.xlsx", data=_two_sheets(), parts=BOTH, said=("Read me, Paints",)
    ),
    "UTF-16 from a spreadsheet program": Habit(
        file="s.txt", data=(_PLAIN + _TAIL).replace(",", "\t").encode("utf-16"), parts=BOTH
    ),
    "a number that can be read in two ways": Habit(
        file="t.csv",
        data=b'Name,Length (mm),Width (mm),Height (mm),Weight (g),Qty\nWall,64,16,"1,234",32,6\n',
        refused=(("line 2, column 4", "--decimal"),),
    ),
    "no units anywhere": Habit(
        file="u.csv",
        data=b"Name,Length,Width,Height,Weight,Qty\nWall,64,16,64,32,6\n",
        refused=(
            ("line 2, column 2", "no unit"), ("line 2, column 3", "no unit"),
            ("line 2, column 4", "no unit"), ("line 2, column 5", "no unit"),
        ),
    ),
    "the same piece twice": Habit(
        file="v.csv",
        data=(_PLAIN + _TAIL + "wall,64,16,64,32,1\n").encode(),
        refused=(("line 4, column 1", "line 2, column 1"),),
    ),
    "too many of one": Habit(
        file="w.csv",
        data=(_PLAIN + "Wall,64,16,64,32,1000000000\n").encode(),
        refused=(("line 2, column 6", "more than 10,000"),),
    ),
    "a separator line and columns of no use": Habit(
        file="x.csv",
        data=(
            b"sep=;\nPhoto;Name;Length (cm);Width (cm);Height (cm);Weight (kg);Qty;Bought\n"
            b"1.jpg;Wall;6,4;1,6;6,4;0,032;6;May\n2.jpg;Post;1,25;1,25;7;0,009;14;June\n"
        ),
        parts=BOTH,
        said=("not used: Photo, Bought",),
    ),
}  # fmt: skip
