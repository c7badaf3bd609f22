"""Cases that users of general packing libraries report as missed, and sizes that fit exactly."""

import pytest

from benchmarks.plain import as_box, check, item_of, open_rules, plain_container
from packdown.geometry import Vector, WayUp
from packdown.model import PackingProblem
from packdown.packing import pack

Size = tuple[int, int, int]
FLAT = (WayUp.UPRIGHT,)


def problem_of(
    sizes: list[Size], inner: Size, ways_up: tuple[WayUp, ...] = tuple(WayUp)
) -> PackingProblem:
    """Return boxes for one container, in millimetres, without clearance."""
    items = [
        item_of(f"item-{index}", as_box(_um(size)), 1, ways_up=ways_up)
        for index, size in enumerate(sizes)
    ]
    return PackingProblem(
        items=tuple(items),
        containers=(plain_container("box", _um(inner)),),
        rules=open_rules(support_percent=80),
    )


def _um(size: Size) -> Vector:
    length, width, height = size
    return (1_000 * length, 1_000 * width, 1_000 * height)


REPORTED: list[tuple[list[Size], Size]] = [
    ([(65, 66, 83)] * 27, (200, 200, 300)),
    ([(40, 30, 30)] * 3, (90, 40, 30)),
    ([(210, 110, 180)] * 3, (400, 220, 220)),
    ([(3, 1, 2)] * 5, (6, 1, 5)),
    ([(3, 1, 2)] * 5, (5, 1, 6)),
    ([(3, 3, 1), (3, 3, 1), (3, 2, 1)], (3, 3, 3)),
    ([(2, 3, 1)] * 4, (4, 6, 1)),
]


@pytest.mark.parametrize(("sizes", "inner"), REPORTED)
@pytest.mark.parametrize("reverse", [False, True], ids=["as-given", "reversed"])
def test_what_fits_is_packed(sizes: list[Size], inner: Size, *, reverse: bool) -> None:
    """Everything is packed, inside, apart and supported, in whatever order it comes.

    From public reports of users of general packing libraries.
    """
    problem = problem_of(sizes[::-1] if reverse else sizes, inner)
    packing = pack(problem, effort=4, seed=0)
    assert not packing.unpacked
    assert check(problem, packing).total == 0


def test_one_more_small_item_drops_no_big_one() -> None:
    """Adding an item of a cell to four plates that fill the box leaves the plates in it."""
    plates: list[Size] = [(2, 3, 1)] * 4
    packing = pack(problem_of([*plates, (1, 1, 1)], (4, 6, 1)), effort=4, seed=0)
    assert packing.unpacked == ("item-4",)


def test_what_does_not_fit_is_reported() -> None:
    """Leftovers are named, not lost: five plates for a place of four."""
    problem = problem_of([(2, 3, 1)] * 5, (4, 6, 1))
    packing = pack(problem, effort=4, seed=0)
    assert len(packing.unpacked) == 1
    assert check(problem, packing).total == 0


def test_the_same_answer_comes_twice() -> None:
    """The same problem, effort and seed give the same packing."""
    problem = problem_of([(65, 66, 83)] * 20 + [(40, 30, 30)] * 9, (200, 200, 300))
    assert pack(problem, effort=3, seed=5) == pack(problem, effort=3, seed=5)


def test_a_deadline_is_kept() -> None:
    """Told to stop at once, the packer gives its first packing, with every item accounted for."""
    problem = problem_of([(65, 66, 83)] * 27, (200, 200, 300))
    packing = pack(problem, effort=10**6, seed=0, stop=lambda: True)
    assert packing.fills
    assert check(problem, packing).total == 0


def test_four_boxes_fill_a_pallet_layer() -> None:
    """Four modules of 600 x 400 cover 1200 x 800 without waste (ISO 3394, ISO 3676)."""
    problem = problem_of([(600, 400, 280)] * 4, (1_200, 800, 280), FLAT)
    assert not pack(problem, effort=4, seed=0).unpacked
    assert pack(
        problem_of([(600, 400, 280)] * 5, (1_200, 800, 280), FLAT), effort=4, seed=0
    ).unpacked


@pytest.mark.parametrize("board", [(44, 60), (48, 48), (72, 48)])
def test_boards_of_play_fit_two_tables(board: tuple[int, int]) -> None:
    """Two tables of 72 x 30 in side by side take boards of 44 x 60, 48 x 48 and 72 x 48 in.

    Common practice, no source. One unit stands for an inch.
    """
    problem = problem_of([(*board, 1)], (72, 60, 1), FLAT)
    assert not pack(problem, effort=1, seed=0).unpacked


def test_load_carriers_take_their_squares() -> None:
    """A carrier of 346 x 265 mm inside (VDA 4500) takes 130 tiles of 25.4 mm in one layer."""
    tile = (25_400, 25_400, 8_000)
    problem = PackingProblem(
        items=tuple(
            item_of(f"tile-{index}", as_box(tile), 1, ways_up=FLAT) for index in range(131)
        ),
        containers=(plain_container("carrier", (346_000, 265_000, 8_000)),),
        rules=open_rules(support_percent=80),
    )
    assert len(pack(problem, effort=1, seed=0).unpacked) == 1
