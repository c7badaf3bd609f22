"""Drawings of where something was found."""

from xml.etree import ElementTree as ET

from packdown.geometry import Cuboid
from packdown.report.found import Spot, found_drawing, found_page, spots_of
from packdown.report.pictures import marked_pictures
from packdown.store.records import Box, Hit, HitKind, State, StowedItem, Total, Whereabouts
from support.stow_plans import stowing_plan

PLAN = stowing_plan({"long": [f"crate#{n}" for n in range(1, 11)]})
LONG = PLAN.containers[0]
BOX = Box(id="long", short_id="ZHKF08", name="Long <box>")
ITEM = StowedItem(
    number=1,
    item="crate#1",
    name="Crate",
    kind="loose",
    layer=1,
    box_um=Cuboid(2_000, 2_000, 0, 22_000, 22_000, 20_000),
    inner_um=LONG.inner_um,
    lift_first=((9, "Crate"),),
)
PLACE = Whereabouts(number=1, state=State.STOWED, box=BOX, item=ITEM)
HIT = Hit(
    kind=HitKind.PIECE,
    id="crate#1",
    name="Crate & <lid>",
    score=1.0,
    number=1,
    totals=(Total(state=State.STOWED, box=BOX, number=1),),
    places=(PLACE,),
)
SPOT = Spot(container=LONG, item=ITEM, gone=frozenset({10}))


def test_one_item_is_marked_and_numbered() -> None:
    """Only the marked item has its number; what was taken out is not drawn."""
    pictures = marked_pictures(LONG, 1, {9, 10})
    assert pictures.above.count("<text") == 2  # its number, and where the front is
    assert ">1</text>" in pictures.above
    assert ">1</text>" in pictures.perspective
    everything = marked_pictures(LONG, 9).perspective
    assert everything.count('class="ol"') > pictures.perspective.count('class="ol"')


def test_a_drawing_is_a_file_of_its_own() -> None:
    """It can be read as XML, and brings its own styles."""
    root = ET.fromstring(found_drawing(SPOT))  # noqa: S314 - our own drawing
    assert root.tag == "{http://www.w3.org/2000/svg}svg"
    assert root.find("{http://www.w3.org/2000/svg}style") is not None


def test_a_page_says_and_shows_where_it_is() -> None:
    """Names are escaped."""
    page = found_page(HIT, (SPOT,))
    assert "<h1>Crate &amp; &lt;lid&gt;</h1>" in page
    assert "Long &lt;box&gt; (ZHKF08): first layer, front left" in page
    assert page.count("<figure>") == 2


def test_only_known_places_are_drawn() -> None:
    """A place needs its container's plan."""
    present = {"long": dict.fromkeys(range(1, 10), "Crate")}
    assert spots_of((PLACE,), {"long": PLAN}, present) == (SPOT,)
    assert spots_of((PLACE,), {}, present) == ()
    out = Whereabouts(number=1, state=State.OUT)
    assert spots_of((out,), {"long": PLAN}, present) == ()
