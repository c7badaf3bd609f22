"""Pictures put together from a scene that was drawn once."""

import re

from packdown.geometry import Cuboid
from packdown.report.painting import Look, Painting
from packdown.report.projection import Camera
from packdown.report.scene import Thing, corners, parts_of
from packdown.report.svg import Sheet

BOX = Cuboid(0, 0, 0, 300, 200, 100)
CAMERA = Camera.looking_at(BOX)
SHEET = Sheet.around(CAMERA.project(list(corners(BOX))).tolist())
THINGS = [
    Thing((Cuboid(0, 0, 0, 100, 200, 100), Cuboid(100, 100, 0, 200, 200, 50)), 1, 2),
    Thing((Cuboid(100, 0, 0, 200, 100, 100),), 2, 1),
    Thing((Cuboid(200, 0, 0, 300, 200, 100),), 3),
]


def _painting(key: str = "k") -> Painting:
    return Painting(key, THINGS, CAMERA, SHEET)


def _data(drawing: str) -> list[str]:
    return re.findall(r' d="([^"]+)"', drawing)


def test_references_put_in_place_give_the_same_drawing() -> None:
    """Symbols hold, in the order of the references, what the drawing written out holds."""
    painting = _painting()
    picture = painting.shared({0: "o", 1: "n", 2: "o"})
    symbols = dict(re.findall(r'<g id="(\w+)">(.*?)</g>', painting.symbols()))
    put = "".join(symbols[name] for name in re.findall(r'href="#(\w+)"', picture))
    look = Look("x", "l", is_hatched=True)
    assert _data(put) == _data(_painting().flat(dict.fromkeys(range(3), look))) != []


def test_only_what_is_shown_becomes_a_symbol() -> None:
    """A picture of one thing needs no symbol of another."""
    painting = _painting()
    assert painting.symbols() == ""
    painting.shared({2: "n"})
    assert painting.symbols().count("<g ") == 1


def test_what_is_left_out_does_not_change_the_order_of_the_rest() -> None:
    """The parts of some things are a part of all, in the same order."""
    without = _data(_painting().flat({0: Look("x", "l"), 2: Look("x", "l")}))
    everything = iter(_data(_painting().flat(dict.fromkeys(range(3), Look("x", "l")))))
    assert all(any(one == other for other in everything) for one in without)


def test_sides_between_cuboids_of_one_thing_are_left_out() -> None:
    """The side of the lower cuboid that the higher one covers is not drawn."""
    parts = [part for part in parts_of(THINGS[:1], CAMERA, SHEET) if part.thing == 0]
    # An eye at the front left and above sees left, front and top of both; the left side of the
    # second cuboid lies against the first.
    assert sorted(len(part.patches) for part in parts) == [2, 3]


def test_seams_are_where_owners_touch() -> None:
    """Two blocks side by side share an edge at the top and at the front."""
    drawn = parts_of(THINGS[1:], CAMERA, SHEET, seams=True)
    assert any(part.seams for part in drawn)
    assert not any(part.seams for part in parts_of(THINGS[1:], CAMERA, SHEET))
