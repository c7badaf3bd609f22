"""Drawings: well-formed, numbered, and true to what lies on top."""

import re
from dataclasses import replace
from xml.etree import ElementTree as ET

from packdown.geometry import Cuboid
from packdown.report.above import layer_from_above
from packdown.report.lookup import look_up
from packdown.report.pictures import (
    build_pictures,
    build_tones,
    container_picture,
    layer_pictures,
)
from packdown.report.projection import Camera
from packdown.report.svg import WIDE, Sheet, front
from support.book_plan import book_plan

LOOKUP = look_up(book_plan())
CRATE = LOOKUP.plan.containers[0]


def _parsed(drawing: str) -> ET.Element:
    return ET.fromstring(drawing)  # noqa: S314 -- drawn by the code under test


def _numbers(drawing: str) -> set[str]:
    return {element.text or "" for element in _parsed(drawing).iter("text")} - {"front"}


def _classes(drawing: str) -> set[str]:
    return {element.get("class", "") for element in _parsed(drawing).iter("path")}


def test_every_item_of_a_layer_is_numbered_from_above() -> None:
    """Seen from above nothing of the layer goes without its number."""
    for layer in {placement.layer for placement in CRATE.fill}:
        own = {str(n) for n, p in enumerate(CRATE.fill, 1) if p.layer == layer}
        assert _numbers(layer_from_above(CRATE, layer)) == own


def test_the_first_layer_has_nothing_below_it() -> None:
    """What lies below is pale; on the floor there is nothing."""
    first, second = layer_pictures(CRATE)[:2]
    pale = {"ot", "of", "os", "ol"}
    assert not pale & _classes(first.above)
    assert pale & _classes(second.above)
    assert pale & _classes(second.perspective)


def test_a_layer_shows_only_its_own_numbers() -> None:
    """The cumulative picture names what is new."""
    for drawn in layer_pictures(CRATE):
        own = {str(n) for n, p in enumerate(CRATE.fill, 1) if p.layer == drawn.layer}
        assert _numbers(drawn.perspective) <= own


def test_drawings_are_images_with_a_title() -> None:
    """Screen readers get a name; coordinates are whole."""
    drawing = container_picture(LOOKUP, CRATE)
    root = _parsed(drawing)
    assert root.get("role") == "img"
    assert (root.findtext("title") or "").startswith(CRATE.name)
    assert not re.search(r'd="[^"]*\.', drawing)


def test_names_are_escaped() -> None:
    """A container's name cannot break the drawing."""
    odd = replace(CRATE, name='<b>"A" & B</b>')
    assert _parsed(layer_from_above(odd, 1)).findtext("title", "").startswith(odd.name)


def test_a_build_shows_all_sub_assemblies_and_its_splits() -> None:
    """Between both views every sub-assembly has its number; seams are drawn heavy."""
    for build in LOOKUP.plan.builds:
        views = build_pictures(LOOKUP, build)
        numbers = {str(n) for n in range(1, len(build.sub_assemblies) + 1)}
        assert _numbers(views[0]) | _numbers(views[1]) == numbers
        assert all("seam" in _classes(view) for view in views)


def test_a_whole_build_has_no_seam() -> None:
    """Where nothing is split nothing is marked."""
    build = LOOKUP.plan.builds[0]
    whole = replace(
        build, sub_assemblies=(tuple(p for part in build.sub_assemblies for p in part),)
    )
    assert "seam" not in _classes(build_pictures(LOOKUP, whole)[0])


def test_split_sub_assemblies_differ_in_tone() -> None:
    """Neighbours never look alike."""
    for build in LOOKUP.plan.builds:
        tones = build_tones(build)
        owner = {p: n for n, part in enumerate(build.sub_assemblies) for p in part}
        for joint in build.joints:
            a, b = (owner[piece] for piece in joint.pieces)
            assert a == b or tones[a] != tones[b]


def test_covers_that_share_volume_are_drawn() -> None:
    """Stepped covers of two triangles may overlap a little; that is no reason to fail."""
    plan = LOOKUP.plan
    first = plan.pieces[0]
    (own,) = first.cuboids_um
    wide = replace(first, cuboids_um=(Cuboid(own.x0, own.y0, own.z0, own.x1 + 999, *own[4:]),))
    lookup = look_up(replace(plan, pieces=(wide, *plan.pieces[1:])))
    assert "<svg" in build_pictures(lookup, plan.builds[0])[0]


def test_the_word_front_stays_on_the_drawing() -> None:
    """Also where nothing stands near the front edge of what is drawn, which then lies outside."""
    box = Cuboid(0, 0, 0, 100, 100, 100)
    camera = Camera.looking_at(box)
    back = camera.project([(0, 100, 100), (100, 100, 100), (0, 100, 50)])
    sheet = Sheet.around(back.tolist())
    (found,) = ET.fromstring(f"<svg>{front(box, camera, sheet)}</svg>")  # noqa: S314
    assert 0 < int(found.get("x", "")) < WIDE
    assert 0 < int(found.get("y", "")) < sheet.height
