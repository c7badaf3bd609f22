"""What the page needs to turn things in 3D."""

import gzip
import json
from base64 import b64decode

from packdown.geometry import bounds
from packdown.report.book.turning import UNIT_UM, library, packed, solids
from packdown.report.lookup import look_up
from support.book_plan import book_plan

PLAN = book_plan()
LOOKUP = look_up(PLAN)
DATA = json.loads(solids(LOOKUP))


def test_the_library_comes_out_of_the_wheel_whole() -> None:
    """Its licence stands at its head, and it ends where it says what it gives to the page."""
    text = library()
    assert "SPDX-License-Identifier: MIT" in text[:300]
    assert text.count("{") == text.count("}") or text.endswith("));")
    assert 400_000 < len(text) < 1_500_000


def test_packed_text_can_be_unpacked_and_is_always_the_same() -> None:
    """No date is in it."""
    text = "stairs, stairs, stairs"
    assert gzip.decompress(b64decode(packed(text))).decode() == text
    assert packed(text) == packed(text)


def test_containers_hold_every_item_where_it_lies() -> None:
    """Corners agree with the plan to a tenth of a millimetre."""
    for container in LOOKUP.used:
        items = DATA["containers"][container.id]["items"]
        assert [layer for layer, *_ in items] == [p.layer for p in container.fill]
        for (_, corners, edges), placement in zip(items, container.fill, strict=True):
            box = bounds(placement.cuboids_um)
            assert min(corners[0::6]) == round(box.x0 / UNIT_UM)
            assert max(corners[5::6]) == round(box.z1 / UNIT_UM)
            assert len(edges) % 6 == 0
            assert len(edges) > 0


def test_builds_have_a_stage_for_each_joining() -> None:
    """What moves and what stays are told apart, and together they are the pieces of the step."""
    for build in PLAN.builds:
        data = DATA["builds"][build.id]
        names = [piece for part in build.sub_assemblies for piece in part]
        joins = [s for s in PLAN.steps.rebuild if s.build == build.id and s.direction]
        assert len(data["stages"]) == len(joins)
        for (moving, staying, offset), step in zip(data["stages"], joins, strict=True):
            assert [names[n] for n in moving] == list(step.pieces)
            assert [names[n] for n in staying] == list(step.stays)
            assert any(offset)
