"""Builds drawn in the files of a workspace: read as pieces, joints and problems."""

import re
from pathlib import Path

import pytest

from packdown.files import read_workspace
from packdown.geometry import Cuboid, WayUp, bounds
from packdown.model import Build, Grade, JointKind, Piece
from support.drawn_builds import HALL, PARTS, workspace
from support.workspaces import problems_in


def build_of(folder: Path, build: str, parts: str = PARTS) -> Build:
    """Return the only build of a workspace."""
    (found,) = read_workspace(workspace(folder, build, parts)).builds
    return found


def box_of(build: Build, name: str) -> Cuboid:
    """Return the box around a piece, in millimetres."""
    return Cuboid(*(um // 1_000 for um in bounds(piece_of(build, name).cuboids_um)))


def piece_of(build: Build, name: str) -> Piece:
    """Return a piece by its id in the build."""
    return next(piece for piece in build.pieces if piece.id == f"{build.id}/{name}")


def test_a_hall_of_forty_pieces_takes_25_lines(tmp_path: Path) -> None:
    """Two storeys of 6 x 4 squares: floors, walls, corners, posts, a stair, all of them joined."""
    assert len(HALL.strip().splitlines()) <= 25
    hall = build_of(tmp_path, HALL)
    assert len(hall.pieces) == 40
    assert hall.grade is Grade.PLACED
    joined = {piece for joint in hall.joints for piece in joint.pieces}
    assert joined == {piece.id for piece in hall.pieces}
    assert {joint.kind for joint in hall.joints} == {JointKind.KEYED, JointKind.STACKED}


def test_the_hall_of_the_guide(tmp_path: Path) -> None:
    """The drawing in the guide stands: two rows of floors, two floors more on the walls."""
    guide = (Path(__file__).parents[3] / "README.md").read_text(encoding="utf-8")
    drawn = re.search(r"^\[builds\.hall\].*?^\'\'\'$.*?", guide, flags=re.DOTALL | re.MULTILINE)
    assert drawn
    hall = build_of(tmp_path, drawn[0])
    assert box_of(hall, "F-2b1") == (128, 0, 58, 192, 64, 66)
    assert len(hall.pieces) == 18


def test_where_pieces_stand_in_their_cells(tmp_path: Path) -> None:
    """Against edges, in corners and in the middle, and turned with the arrow."""
    build = build_of(
        tmp_path,
        """
        [builds.shed]
        cell = 2
        symbols = { F = "floor", w = { part = "wall", on = "front" }, p = "post",
          c = { part = "post", on = "front-left" }, l = { part = "wall", on = "front-line" },
          s = { part = "post", on = "left", shift = [0.5, "-2 mm"] } }
        plan = '''
        Fww>w^w<  Fccc>
        Fp        Fs>l
        '''
        """.replace(",\n          ", ", "),
    )
    assert box_of(build, "F-1b2") == (64, 64, 0, 128, 128, 8)
    assert box_of(build, "w-1a2") == (10, 64, 8, 54, 74, 58)  # along the front of its cell
    assert box_of(build, "w-1a2-2") == (54, 74, 8, 64, 118, 58)  # right
    assert box_of(build, "w-1a2-3") == (10, 118, 8, 54, 128, 58)  # back
    assert box_of(build, "w-1a2-4") == (0, 74, 8, 10, 118, 58)  # left
    assert box_of(build, "p-1a1") == (26, 26, 8, 38, 38, 58)
    assert box_of(build, "c-1b2") == (64, 64, 8, 76, 76, 58)
    assert box_of(build, "c-1b2-3") == (116, 64, 8, 128, 76, 58)
    assert box_of(build, "l-1b1") == (74, -5, 8, 118, 5, 58)  # half in the next cell
    # On the left, off by (16, -2) mm: a quarter turn makes that the front, off by (2, 16) mm.
    assert box_of(build, "s-1b1") == (92, 16, 8, 104, 28, 58)


def problems(folder: Path, build: str) -> list[str]:
    """Return the problems of a workspace with a build, as text."""
    return [str(problem) for problem in problems_in(workspace(folder, build))]


@pytest.mark.parametrize(
    ("build", "words"),
    [
        ("plan = 'X'\nsymbols = { F = 'floor' }", 'plan: level 1, cell a1: unknown symbol "X"'),
        ("plan = 'F'\nsymbols = { F = 'flor' }", 'symbols.F.part: unknown part "flor"'),
        ("plan = 'F'\nsymbols = { FF = 'floor' }", "expected one letter or digit"),
        ("plan = 'F'\nsymbols = { F = { part = 'floor', on = 'frnt' } }", 'did you mean "front"'),
        ("plan = ':p'\nsymbols = { p = 'post' }", "cell a1: nothing reaches in here"),
        ("plan = 'p!'\nsymbols = { p = { part = 'post', way_up = 'on-left' } }", "marked with !"),
        ("plan = 'F F'\nsymbols = { F = 'floor' }", "F-1a1 and F-1b1 overlap by 8 mm"),
        ("plan = 'F'\ncell = 0\nsymbols = { F = 'floor' }", "cell: expected a length above 0"),
        ("plan = '''\n-- at x 1\nF'''\nsymbols = { F = 'floor' }", "level 1: 'x' is not a length"),
        (
            "plan = 'F'\nsymbols = { F = 'floor' }\nnames = { rug = 'F-1a2' }",
            'names.rug: unknown piece "F-1a2" (did you mean "F-1a1"?)',
        ),
        ("plan = ''", "expected text in quotation marks"),
        ("plan = '.'", "expected at least one piece"),
        ("plan = 5", "plan: expected text"),
        ("plan = 'F'\nsymbols = 3", "symbols: expected a table"),
        ("plan = 'F'\nsize = []\nsymbols = { F = 'floor' }", "exactly one way to describe it"),
    ],
)
def test_slips_are_named(tmp_path: Path, build: str, words: str) -> None:
    """Every slip says in which level and which cell it is, or at which entry."""
    found = problems(tmp_path, f"[builds.shed]\n{build}")
    assert any(words in problem for problem in found), found


def test_upper_floors_stay_level(tmp_path: Path) -> None:
    """Floors that touch come down as one; what stands apart comes down by itself."""
    build = build_of(
        tmp_path,
        """
        [builds.shed]
        cell = 2
        names = { mast = "p-3b1" }
        symbols = { F = "floor", p = "post" }
        plan = '''
        Fp F . F
        --
        F  F . F
        -- height 66mm
        . p
        '''
        """,
    )
    heights = {piece.id: bounds(piece.cuboids_um).z0 // 1_000 for piece in build.pieces}
    assert heights["shed/F-2a1"] == heights["shed/F-2b1"] == 58
    assert heights["shed/F-2d1"] == 8
    assert heights["shed/mast"] == 66


def test_pieces_off_the_grid_are_listed_beside_the_drawing(tmp_path: Path) -> None:
    """A build may have both; the list comes down last, and joints may name both."""
    build = build_of(
        tmp_path,
        """
        [symbols]
        F = "floor"
        [builds.shed]
        plan = "F"
        glued = [["F-1a1", "pole"]]
        place = [{ id = "pole", part = "post", at = ["13 mm", "17 mm"] }]
        """,
    )
    assert box_of(build, "pole") == (13, 17, 8, 25, 29, 58)
    assert [joint.kind for joint in build.joints] == [JointKind.GLUED]


def test_an_upside_down_floor(tmp_path: Path) -> None:
    """The mark ! turns a piece over before the arrow turns it."""
    build = build_of(tmp_path, '[builds.shed]\nsymbols = { F = "floor" }\nplan = "F!>"')
    floor = piece_of(build, "F-1a1")
    assert floor.magnets == 0
    assert WayUp.UPRIGHT in floor.ways_up
