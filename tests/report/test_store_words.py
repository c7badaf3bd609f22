"""What the store tells, in words: contents, builds, moves, counts, sweeps and plans."""

from dataclasses import replace

from packdown.report.counting import count_lines, sweep_lines
from packdown.report.listing import listing_lines, spread_lines
from packdown.report.moving import history_lines, moved_lines
from packdown.report.stowing import difference_lines
from packdown.store.counting import CountResult, Extra, Lost
from packdown.store.differences import Difference
from packdown.store.listed import ListedItem, Listing, Named, Spread, Stop
from packdown.store.moments import shown
from packdown.store.moving import Moved
from packdown.store.records import Box, State, Total
from packdown.store.stowing import Preview
from packdown.store.sweeping import Loose, Sweep
from packdown.store.undoing import Entry

LONG = Box(id="long", short_id="ZHKF08", name="Long box")
TALL = Box(id="tall", short_id="4GETYB", name="Tall box")
AT = "2026-03-01T18:30:00Z"


def item(number: int, name: str, layer: int, place: str, present: int = 1) -> ListedItem:
    """Return one thing in a container; two pieces were put in as one."""
    return ListedItem(
        number=number,
        name=name,
        kind="loose",
        layer=layer,
        place=place,
        present=present,
        num_pieces=max(1, present if present < 2 else 3),
        broken=0,
    )


def test_a_container_from_its_top() -> None:
    """What is met first comes first; equal things share a line."""
    listing = Listing(
        box=LONG,
        number=5,
        weight_g=1_500,
        payload_g=9_000,
        stacked_on=TALL,
        items=(
            item(1, "Mill", 1, "front", present=2),
            item(2, "Crate", 2, "left"),
            item(3, "Crate", 2, "back"),
            replace(item(4, "Anvil", 2, "back"), broken=1),
        ),
        by_hand=(Named(name="Tile", number=1),),
        missing=(Named(name="Gull", number=2),),
    )
    assert list(listing_lines(listing)) == [
        "Long box (ZHKF08): 5 pieces, 1.5 kg with the container",
        "  is carried on Tall box (4GETYB)",
        "  put in by hand, place not recorded",
        "    1 x Tile",
        "  second layer",
        "    Anvil (4): back, 1 broken",
        "    2 x Crate (2, 3): left / back",
        "  first layer",
        "    Mill (1): front, 1 piece of it taken out",
        "  missing, last seen here",
        "    2 x Gull",
    ]


def test_the_containers_of_a_build() -> None:
    """In the order in which to open them, with what stands on them."""
    spread = Spread(
        id="mill",
        name="Mill",
        number=7,
        stops=(
            Stop(box=LONG, lift_off=(TALL,), number=5, what=(Named(name="Mill part 1", number=5),)),
        ),
        elsewhere=(Total(state=State.OUT, box=None, number=2),),
    )
    assert list(spread_lines(spread)) == [
        "Mill: 7 pieces in 1 container, in the order in which to open them",
        "  1. Long box (ZHKF08): 5 pieces",
        "     lift Tall box off it first",
        "     Mill part 1: 5",
        "  out: 2",
    ]


def test_a_container_that_holds_too_much() -> None:
    """What may be put into it is told."""
    moved = Moved(change=4, pieces=("a", "b"), box=LONG, weight_g=2_100, payload_g=2_000)
    assert list(moved_lines(moved)) == [
        "2 pieces now in Long box (ZHKF08).",
        "It holds 2.1 kg and may hold 2.0 kg: take something out.",
    ]
    assert list(moved_lines(replace(moved, box=None, weight_g=0))) == ["2 pieces now out."]


def test_the_history() -> None:
    """The newest first; what was undone says so, and what is left off is counted."""
    entry = Entry(
        id=2, at=AT, verb="move", summary="moved mill out", undoes=None, num_rows=3, stands=False
    )
    lines = list(history_lines((entry, replace(entry, id=1, stands=True)), 1))
    assert lines == [
        f"   2  {shown(AT)}  moved mill out (undone)",
        "1 earlier change: say --limit 2.",
    ]


RESULT = CountResult(
    change=5,
    box=LONG,
    expected=6,
    found=3,
    missing=(
        Lost(name="Crate", number=1, places=((1, "front"),), seen=("stow", AT)),
        Lost(name="Tile", number=2, places=((1, "back"), (2, "left")), seen=None),
        Lost(name="Gull", number=1, places=(), seen=("move", AT)),
    ),
    extra=(
        Extra(name="Sack", number=1, state=State.MISSING, box=None),
        Extra(name="Bell", number=1, state=State.STOWED, box=TALL),
    ),
    broken=(Named(name="Jar", number=1),),
    uncounted=(Named(name="Rope", number=2),),
)


def test_a_count_ends_with_what_to_look_for() -> None:
    """Where each was last seen, and how."""
    assert list(count_lines(RESULT)) == [
        "Long box (ZHKF08): 3 of 6 pieces there.",
        "Broken: 1 x Jar",
        "Not counted: 2 x Rope",
        "Extra, recorded as here from now on:",
        "  1 x Sack, was missing",
        "  1 x Bell, should have been in Tall box (4GETYB): count that too",
        "Look for:",
        f"  1 x Crate, last seen in Long box, first layer, front, stowed on {shown(AT)}",
        "  2 x Tile, last seen in Long box, 2 places, one of them the first layer, back",
        f"  1 x Gull, last seen in Long box, moved there on {shown(AT)}",
    ]


def test_a_sweep_is_a_list_to_tick() -> None:
    """Build by build; what was never stowed is counted."""
    loose = Loose(
        state=State.OUT,
        name="Wall",
        build="Mill",
        event="Open day",
        number=2,
        seen_in=LONG,
        seen_at=AT,
    )
    other = replace(loose, build=None, state=State.MISSING, event=None, seen_in=None)
    assert list(sweep_lines(Sweep(loose=(loose, other), never_stowed=3))) == [
        "Not stowed yet: 4 pieces",
        "  Mill, out",
        "    [ ] 2 x Wall, for Open day, last seen in Long box (ZHKF08)",
        "  loose pieces, missing",
        "    [ ] 2 x Wall",
        "3 pieces never stowed: packdown stow PLAN records them.",
    ]
    assert list(sweep_lines(Sweep(loose=(), never_stowed=0))) == [
        "Everything that went out is stowed."
    ]


def test_what_a_plan_changes() -> None:
    """Container by container, whence things come."""
    crates = Difference(what="Crate", in_build=False, number=2, before="new", after="Long box")
    mill = Difference(what="Mill", in_build=True, number=1, before="out", after="Long box")
    preview = Preview(containers=("long",), differences=(crates, mill), after_change=3)
    assert list(difference_lines(preview)) == [
        "new -> Long box: 2 pieces",
        "  2 x Crate",
        "out -> Long box: 1 piece",
        "  1 piece of Mill",
    ]
    other = list(difference_lines(replace(preview, differences=(), other_workspaces=("Mine",))))
    assert other[0].startswith("So far this store holds Mine.")
    assert other[1] == "Every piece is already recorded where the plan puts it."
