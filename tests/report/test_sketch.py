"""Builds sketched in characters: what begins at each height, seen from above."""

from dataclasses import replace

from packdown.report.pictures import standing_pictures
from packdown.report.sketch import sketch, sketch_lines
from packdown.report.standalone import svg_file
from support.making import mm, piece

FLOORS = [
    piece(f"b/F-1{column}1", 60, mm(64 * k, 0, 0, 64 * k + 64, 64, 8), build="b")
    for k, column in enumerate("ab")
]
WALL = piece("b/back", 30, mm(0, 48, 8, 128, 64, 58), build="b")
PIECES = [*FLOORS, WALL]
PARTS = ("floor", "floor", "wall")


def named() -> list[str]:
    """Return the lines of the sketch of two floors and a wall along their back."""
    pieces = [replace(one, part=part, name=part) for one, part in zip(PIECES, PARTS, strict=True)]
    return list(sketch_lines(*sketch(pieces, 32_000)))


def test_a_sketch_shows_each_height_from_the_table_up() -> None:
    """A square is four characters wide and two lines deep; the last line is the front.

    128 x 64 mm are 4 x 2 squares of 32 mm: 16 characters in 4 lines. The wall lies 48 to 64 mm
    from the front: in the last of four bands of 16 mm.
    """
    assert named() == [
        "0 mm: F 2 x floor",
        *["  FFFFFFFFffffffff"] * 4,
        "8 mm: W 1 x wall",
        "  WWWWWWWWWWWWWWWW",
        *["  ................"] * 3,
        "Each map shows what begins at that height; its last line is the front.",
    ]


def test_a_large_build_is_sketched_smaller() -> None:
    """However wide a build is, no line is longer than 96 characters."""
    wide = [piece("b/x", 60, mm(0, 0, 0, 9_000, 500, 8), build="b")]
    _, (storey,) = sketch(wide, 32_000)
    assert {len(row) for row in storey.rows} == {96}


def test_a_piece_that_came_down_too_far_shows_at_another_height() -> None:
    """Two floors on a wall, one beside it: the sketch has that one at 0 mm."""
    pieces = [
        piece("b/w", 30, mm(0, 0, 0, 64, 64, 50), build="b"),
        piece("b/f", 60, mm(0, 0, 50, 64, 64, 58), build="b"),
        piece("b/g", 60, mm(64, 0, 0, 128, 64, 8), build="b"),
    ]
    _, storeys = sketch(pieces, None)
    assert [(s.height_um, [p.id for p in s.pieces]) for s in storeys] == [
        (0, ["b/w", "b/g"]),
        (50_000, ["b/f"]),
    ]


def test_a_picture_of_a_build_is_a_file_of_its_own() -> None:
    """Both sides below each other, with the styles in it and a letter for each part."""
    letters = dict(zip((p.part for p in PIECES), "XYZ", strict=True))
    file = svg_file(standing_pictures(PIECES, letters, "A <b> {x}"))
    assert file.startswith('<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 1600 ')
    assert file.count("<svg ") == 3
    assert "A &lt;b&gt; {x} from the back right" in file
    assert all(f">{letter}</text>" in file for letter in letters.values())
    assert 'class="seam"' not in file
