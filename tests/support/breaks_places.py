"""The good plan, and small plans of a few blocks, broken in one rule at a time: where items lie."""

from dataclasses import replace

from packdown.geometry import WayUp
from packdown.model import Lining, Piece, Plan
from support.altering import (
    with_container,
    with_item,
    with_objective,
    with_place,
    with_rules,
    with_spot,
    with_steps,
)
from support.breaks_contents import Break
from support.making import container, loose, mm, piece, place
from support.plans import GOOD, plan_of_pieces

__all__ = ["PLACES", "block", "crane", "in_one_box"]

POSES = (
    Break(
        "poses", "another place than said", "not those", with_place(GOOD, "t2", at_um=mm(135, 2, 8))
    ),
    Break(
        "lying",
        "a chimney on its head",
        "lies upside-down, allowed: upright",
        with_spot(GOOD, "chimney", (30, 2, 0), WayUp.UPSIDE_DOWN, turn=90),
    ),
    Break("inside", "too near a wall", "1 mm too far left", with_spot(GOOD, "s1", (1, 2, 0))),
    Break(
        "inside",
        "above the rim",
        "1 mm too far up",
        with_objective(
            with_container(GOOD, "tray", inner_um=mm(100, 60, 29)), volume_um3=2_822 * 10**12
        ),
    ),
    Break("inside", "by a hair", "0.001 mm too far left", with_spot(GOOD, "s1", (1.999, 2, 0))),
    Break("inside", "right", "1 mm too far right", with_spot(GOOD, "s1", (79, 2, 0))),
    Break("inside", "front", "1 mm too far front", with_spot(GOOD, "s1", (2, 1, 0))),
    Break("inside", "back", "1 mm too far back", with_spot(GOOD, "s1", (2, 39, 0))),
    Break("overlap", "by a hair", "0.001 mm into", with_spot(GOOD, "s1", (10.001, 2, 0))),
    Break("overlap", "a collision", "10 mm into each other", with_spot(GOOD, "s1", (20, 2, 0))),
    Break("clearance", "side by side", "1 mm apart, not 2 mm", with_spot(GOOD, "s1", (9, 2, 0))),
    Break("clearance", "to the right", "1 mm apart", with_spot(GOOD, "s1", (39, 2, 0))),
    Break("clearance", "behind", "1 mm apart", with_spot(GOOD, "s1", (28, 19, 0))),
    Break("clearance", "before", "1 mm apart", with_spot(GOOD, "chimney", (4, 23, 0), turn=90)),
    Break("clearance", "touching", "0 mm apart", with_spot(GOOD, "s1", (10, 2, 0))),
    Break(
        "rest",
        "a bag in the air",
        "floats 1 mm",
        with_spot(GOOD, "crates", (140, 6, 17), layer=3),
    ),
    Break(
        "rest", "by a hair", "floats 0.001 mm", with_spot(GOOD, "crates", (140, 6, 16.001), layer=3)
    ),
    # 30 of 40 mm in y, 60 of 62 mm in x.
    Break(
        "support",
        "a plank pushed out",
        "72.6%, not 80%",
        with_spot(GOOD, "p1", (2, 12, 23), support=1_800 / 2_480, layer=2),
    ),
    Break(
        "stated support", "false by 0.002", "0.968", with_place(GOOD, "p1", support=60 / 62 - 0.002)
    ),
    Break("layers", "one layer too few", "layer 2, it is 3", with_place(GOOD, "crates", layer=2)),
    Break(
        "load",
        "keys of 3 g",
        "3.0 g, may carry 2 g",
        with_item(GOOD, "half-1", carry_limit_g=2),
    ),
    Break(
        "load",
        "two thirds of a plank of 60 g",
        "40.0 g, may carry 39 g",
        with_item(GOOD, "d1", carry_limit_g=39),
    ),
    Break(
        "load",
        "crates of 8 g on a tile of 25 g",
        "33.0 g, may carry 32 g",
        with_item(GOOD, "t1", carry_limit_g=32),
    ),
    Break("tender", "keys on tender", "4.8 cm2", with_item(GOOD, "half-1", tender=(0,))),
    Break(
        "magnets on steel",
        "a statue on its side",
        "lies on-left",
        with_spot(GOOD, "s1", (2, 30, 0), WayUp.ON_LEFT),
    ),
    Break("first needed", "a plank at no time", "at no set", with_item(GOOD, "d1", needed=1)),
    Break(
        "first needed",
        "a plank needed second",
        "as number 1 but under p1, needed as number 2",
        with_item(with_item(GOOD, "d1", needed=1), "p1", needed=2),
    ),
)

LIMITS = (
    Break("payload", "1 g too much", "225 g", with_container(GOOD, "box", payload_g=224)),
    Break("gross weight", "1 g too much", "725 g", with_rules(GOOD, weight_limit_g=724)),
    Break(
        "stacked containers",
        "1 g too much",
        "bears 341 g",
        with_container(GOOD, "box", stack_limit_g=340),
    ),
    Break(
        "keep together",
        "a block and a tile",
        "box, case",
        with_rules(GOOD, keep_together=(("d1", "t1"),)),
    ),
    Break("keep apart", "two tiles", "t1, t2", with_rules(GOOD, keep_apart=(("t1", "t2"),))),
)


def block(name: str, weight_g: int, *size: float) -> Piece:
    """Return a loose cuboid of a size in millimetres."""
    return piece(name, weight_g, mm(0, 0, 0, *size))


def crane(reach: float, build: str | None = None) -> Piece:
    """Return a post of 20 x 20 mm with an arm at 20 to 30 mm that reaches to the right."""
    return piece("crane", 28, mm(0, 0, 0, 20, 20, 20), mm(0, 0, 20, reach, 20, 30), build=build)


def in_one_box(
    *laid: tuple[Piece, tuple[float, float, float], float, int],
    lining: Lining = Lining.NONE,
    sheet: float = 0,
) -> Plan:
    """Return a plan of pieces in one box, each with its place, support and layer."""
    fill = [place(loose(one), at, support=support, layer=layer) for one, at, support, layer in laid]
    box = container("box", (150, 50, 90), *fill, lining=lining, sheet_um=round(sheet * 1_000))
    return plan_of_pieces(tuple(one for one, *_ in laid), (box,))


def _unpacked_first_to_last(plan: Plan) -> Plan:
    return with_steps(plan, "rebuild", lambda steps: steps[::-1])


SMALL = (
    # The block can only come out after the crane, so the crane is unpacked first.
    Break(
        "loading order",
        "a block under the arm of a crane that is there already",
        "lies under crane",
        _unpacked_first_to_last(
            in_one_box(
                (crane(50), (2, 2, 0), 1, 1), (block("low", 9, 20, 20, 10), (26, 2, 0), 1, 1)
            )
        ),
    ),
    # The plank lies on two blocks of 20 mm, 2 mm above a third: the sheet takes 3 mm.
    Break(
        "sheets",
        "no room for the sheet over a third block",
        "2 mm above third, the sheet takes 3 mm",
        in_one_box(
            (block("one", 9, 30, 20, 20), (2, 2, 0), 1, 1),
            (block("third", 1, 2, 20, 21), (34, 2, 0), 1, 1),
            (block("two", 9, 30, 20, 20), (38, 2, 0), 1, 1),
            (block("plank", 9, 66, 20, 4), (2, 2, 23), 60 / 66, 2),
            sheet=3,
        ),
    ),
    # (8 x 10 + 20 x 50) / 28 = 38.6 mm, and its foot reaches to 20 mm.
    Break(
        "balance",
        "a crane that tips over its foot",
        "tips: its weight acts at (40.6, 12.0) mm",
        in_one_box((crane(100), (2, 2, 0), 1, 1)),
    ),
    # Alone (8 x 10 + 10 x 25) / 18 = 18.3 mm; with as much again at 40 mm it acts at 29.2 mm.
    Break(
        "balance",
        "a crane that tips under a weight on its arm",
        "tips: its weight acts at (31.2, 12.0) mm",
        in_one_box(
            (crane(50), (2, 2, 0), 1, 1), (block("weight", 28, 20, 20, 10), (32, 2, 30), 1, 2)
        ),
    ),
    Break(
        "magnets on steel",
        "a statue on a tile",
        "8 mm above the steel",
        in_one_box(
            (block("tile", 9, 40, 40, 8), (2, 2, 0), 1, 1),
            (replace(block("statue", 9, 20, 20, 30), magnets=2), (2, 2, 8), 1, 2),
            lining=Lining.STEEL,
        ),
    ),
    # The crane leans on the block: all it rests on holds it, its own foot does not.
    Break(
        "footing",
        "a crane that leans on a block",
        "tips over its own footing upright",
        in_one_box(
            (block("prop", 9, 20, 20, 20), (62, 2, 0), 1, 1),
            (crane(100, build="yard"), (2, 2, 0), 1, 2),
        ),
    ),
)

PLACES = (*POSES, *LIMITS, *SMALL)
