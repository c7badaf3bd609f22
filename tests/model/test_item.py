"""Covers of sub-assemblies whose joints stand open."""

from hypothesis import given, settings
from hypothesis import strategies as st

from packdown.geometry import bounds
from packdown.model import Joint, JointKind, Piece, grown
from support.making import joint, mm, piece

TOLERANCE = 200


def _length(pieces: list[Piece], joints: list[Joint]) -> int:
    covers = grown(pieces, joints, TOLERANCE)
    return bounds(cuboid for cover in covers for cuboid in cover).x1


def _keyed(one: str, two: str, axis: int) -> Joint:
    return joint(JointKind.KEYED, (one, two), axis, 1, 1_000, 10)


def test_row_grows_by_its_seams() -> None:
    """A row of four modules can be three times the tolerance longer."""
    row = [piece(f"m{n}", 10, mm(50 * n, 0, 0, 50 * n + 50, 50, 10)) for n in range(4)]
    joints = [_keyed(f"m{n}", f"m{n + 1}", 0) for n in range(3)]
    assert _length(row, joints) == 200_000 + 3 * TOLERANCE


def test_running_bond_is_pushed_along() -> None:
    """A piece that hangs on one side of an open seam and ends beyond it is pushed along.

    The second row holds only to the right module of the first, across the depth; when the seam
    in the first row opens, it moves too, although it begins before that seam.
    """
    pieces = [
        piece("left", 10, mm(0, 0, 0, 50, 50, 10)),
        piece("right", 10, mm(50, 0, 0, 100, 50, 10)),
        piece("behind", 10, mm(40, 50, 0, 110, 100, 10)),
    ]
    joints = [_keyed("left", "right", 0), _keyed("right", "behind", 1)]
    assert _length(pieces, joints) == 110_000 + TOLERANCE


def test_glued_joints_do_not_open() -> None:
    """Glue leaves no gap."""
    pieces = [piece("a", 10, mm(0, 0, 0, 50, 50, 10)), piece("b", 10, mm(50, 0, 0, 100, 50, 10))]
    glued = joint(JointKind.GLUED, ("a", "b"), 0, 0, 0, 0)
    assert _length(pieces, [glued]) == 100_000


@settings(max_examples=100, deadline=None)
@given(
    st.lists(st.tuples(st.integers(1, 60), st.integers(0, TOLERANCE)), min_size=1, max_size=6),
    st.integers(0, 5),
)
def test_cover_holds_a_row_however_it_opens(row: list[tuple[int, int]], drop: int) -> None:
    """Whatever each joint of a row opens by, up to the tolerance, every piece is in its cover."""
    pieces, opened, start = [], [], 0
    for number, (length, _) in enumerate(row):
        end = start + 1_000 * length
        pieces.append(piece(f"m{number}", 10, mm(start / 1_000, 0, 0, end / 1_000, 50, 10 + drop)))
        start = end
    joints = [_keyed(f"m{n}", f"m{n + 1}", 0) for n in range(len(row) - 1)]
    shift = 0
    for one, (_, gap) in zip(pieces, row, strict=True):
        opened.append(one.cuboids_um[0].moved(shift, 0, 0))
        shift += gap
    for cover, real in zip(grown(pieces, joints, TOLERANCE), opened, strict=True):
        assert bounds((*cover, real)) == bounds(cover)
