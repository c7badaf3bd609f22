"""No plan is too broken to be verified, and no loss goes unnoticed."""

from collections.abc import Callable, Iterator
from dataclasses import fields, is_dataclass, replace
from functools import cache
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from packdown.geometry import Cuboid, Direction, WayUp
from packdown.model import Plan
from packdown.verify import verify
from support.breaks_contents import HAUNTED
from support.plans import GOOD

Path = tuple[str | int, ...]

FREE_TO_LOSE = {"keep_together", "keep_apart", "ways_up", "allowed_ways_up", "core_um"}
"""Fields that may lose entries: fewer groups and ways up, and less in the way."""
UNUSED = (("containers",), 3)
"""The spare container, which may stay at home."""


def _paths(thing: Any, path: Path = ()) -> Iterator[tuple[Path, Any]]:  # noqa: ANN401 - any field
    """Yield everything inside a plan with the way to it."""
    yield path, thing
    if is_dataclass(thing):
        for entry in fields(thing):
            yield from _paths(getattr(thing, entry.name), (*path, entry.name))
    elif isinstance(thing, tuple) and not isinstance(thing, Cuboid):
        for index, inner in enumerate(thing):
            yield from _paths(inner, (*path, index))


def _changed(thing: Any, path: Path, new: Any) -> Any:  # noqa: ANN401 - any field
    """Return a copy of a plan with one thing in it changed."""
    if not path:
        return new
    head, *rest = path
    if isinstance(head, int):
        return (*thing[:head], _changed(thing[head], tuple(rest), new), *thing[head + 1 :])
    return replace(thing, **{head: _changed(getattr(thing, head), tuple(rest), new)})


@cache
def _changeable() -> tuple[tuple[Path, Any], ...]:
    return tuple(
        (path, old)
        for path, old in _paths(GOOD)
        if old is not None and not is_dataclass(old) and not _has_set_length(path)
    )


SAME_KIND: tuple[tuple[Any, Callable[[Any], st.SearchStrategy[Any]]], ...] = (
    (bool, lambda _: st.booleans()),
    (int, lambda _: st.integers(-(10**6), 10**6)),
    (float, lambda _: st.floats(0, 2)),
    (WayUp, lambda _: st.sampled_from(WayUp)),
    (Direction, lambda _: st.sampled_from(Direction)),
    (str, lambda _: st.sampled_from(["nowhere", "f1", "box", "half-1", "mill", "f1+f2", ""])),
    (Cuboid, lambda _: st.tuples(*[st.integers(0, 90_000)] * 6).map(Cuboid._make)),
    (tuple, lambda old: st.sampled_from([(), old[:-1], old[::-1], old + old])),
)
"""Values of the same type, as a file might hold them."""


def _has_set_length(path: Path) -> bool:
    """Whether a tuple is a point, a size, or the two pieces of a joint."""
    points = {"inner_um", "outer_um", "at_um", "centre_um"}
    return path[-1] in points or (path[-1] == "pieces" and "joints" in path)


@st.composite
def _broken_plans(draw: st.DrawFn) -> Plan:
    """Change up to four things anywhere in the good plan."""
    plan = GOOD
    for _ in range(draw(st.integers(1, 4))):
        path, old = draw(st.sampled_from(_changeable()))
        new = draw(next(make(old) for kind, make in SAME_KIND if isinstance(old, kind)))
        try:
            plan = _changed(plan, path, new)
        except (ValueError, IndexError):  # the model itself refuses it, or it is gone already
            continue
    return plan


@settings(max_examples=300, deadline=None)
@given(_broken_plans())
def test_no_plan_stops_the_verifier(plan: Plan) -> None:
    """A plan may be wrong in any way its types allow: the verifier tells, and does not fail."""
    report = verify(plan)
    assert report.ok == (not report.violations)


def test_every_loss_is_noticed() -> None:
    """Whatever single entry is lost from the good plan, some rule is broken."""
    unnoticed = []
    for path, value in _changeable():
        if not isinstance(value, tuple) or isinstance(value, Cuboid) or FREE_TO_LOSE & {*path}:
            continue
        for index in range(len(value)):
            try:
                plan = _changed(GOOD, path, value[:index] + value[index + 1 :])
            except ValueError:  # the model itself refuses it
                continue
            if verify(plan).ok and (path, index) != UNUSED:
                unnoticed.append((*path, index))
    assert unnoticed == []


def test_several_breaks_are_all_listed() -> None:
    """A plan that breaks three rules gets three reports."""
    plan = replace(
        HAUNTED, rules=replace(GOOD.rules, keep_apart=(("t1", "t2"),), weight_limit_g=724)
    )
    assert [found.rule for found in verify(plan).violations] == [
        "placed once",
        "gross weight",
        "keep apart",
    ]


def test_placements_without_any_area_are_refused() -> None:
    """Cuboids as flat as a sheet of no width stand on nothing; they are named, not divided by."""
    for number, container in enumerate(GOOD.containers):
        for place, placement in enumerate(container.fill):
            flat = tuple(
                Cuboid(c.x0, c.y0, c.z0 + 1, c.x0, c.y1, c.z1 + 1) for c in placement.cuboids_um
            )
            path = ("containers", number, "fill", place, "cuboids_um")
            assert not verify(_changed(GOOD, path, flat)).ok
