"""Where items lie: their pose, the walls, each other, and the way in from above."""

from collections.abc import Iterator
from itertools import combinations

from packdown.geometry import TURNS, Cuboid, WayUp, bounds, rotated
from packdown.model import Lining, PackedContainer
from packdown.units import format_length
from packdown.verify.lookup import Load, Loaded, Lookup, is_over, near
from packdown.verify.report import Broken

__all__ = [
    "clearance_is_kept",
    "first_needed_lies_free",
    "items_are_inside",
    "items_rest",
    "loading_order_works",
    "magnets_stand_on_steel",
    "nothing_overlaps",
    "poses_are_true",
    "sheets_have_room",
    "ways_up_are_allowed",
]


def poses_are_true(lookup: Lookup) -> Broken:
    """Yield placements whose cuboids are not those of the item, turned and moved."""
    for container in lookup.plan.containers:
        for place in container.fill:
            where = f"{container.id}/{place.item}"
            if place.turn not in TURNS:
                yield where, f"is turned by {place.turn} degrees, not by 0, 90, 180 or 270"
            elif place.item in lookup.items:
                solid = lookup.items[place.item].cuboids_um
                if place.cuboids_um != rotated(solid, place.way_up, place.turn, place.at_um)[0]:
                    yield where, "cuboids are not those of the item in its pose"


def ways_up_are_allowed(lookup: Lookup) -> Broken:
    """Yield items that lie as they must not."""
    for load, loaded in _everything(lookup):
        allowed = loaded.item.allowed_ways_up
        if loaded.place.way_up not in allowed:
            yield _at(load, loaded), f"lies {loaded.place.way_up}, allowed: {', '.join(allowed)}"


def items_are_inside(lookup: Lookup) -> Broken:
    """Yield items too close to a wall, through the floor or above the rim."""
    for load, loaded in _everything(lookup):
        for side, over in _overhang(load.container, bounds(loaded.cuboids)):
            yield _at(load, loaded), f"is {format_length(over)} too far {side}"


def _overhang(container: PackedContainer, box: Cuboid) -> Iterator[tuple[str, int]]:
    length, width, height = container.inner_um
    gap = container.clearance_um
    for side, over in (
        ("left", gap - box.x0),
        ("front", gap - box.y0),
        ("down", -box.z0),
        ("right", box.x1 - (length - gap)),
        ("back", box.y1 - (width - gap)),
        ("up", box.z1 - height),
    ):
        if over > 0:
            yield side, over


def nothing_overlaps(lookup: Lookup) -> Broken:
    """Yield pairs of items that share volume."""
    for load, one, two in _pairs(lookup):
        depth = _depth(one, two)
        if depth > 0:
            yield _at(load, one, two), f"reach {format_length(depth)} into each other"


def clearance_is_kept(lookup: Lookup) -> Broken:
    """Yield pairs of items side by side that are closer than the clearance."""
    for load, one, two in _pairs(lookup):
        clearance = load.container.clearance_um
        gaps = [
            max(a.x0 - b.x1, b.x0 - a.x1, a.y0 - b.y1, b.y0 - a.y1)
            for a in one.cuboids
            for b in two.cuboids
            if a.z0 < b.z1 and b.z0 < a.z1 and near(a, b, clearance)
        ]
        if gaps and min(gaps) >= 0:
            yield (
                _at(load, one, two),
                f"are {format_length(min(gaps))} apart, not {format_length(clearance)}",
            )


def loading_order_works(lookup: Lookup) -> Broken:
    """Yield items that cannot be lowered past what was loaded before."""
    for load, early, late in _pairs(lookup):
        if is_over(early, late, load.container.clearance_um):
            yield _at(load, late), f"lies under {early.id}, which is loaded before"


def items_rest(lookup: Lookup) -> Broken:
    """Yield items that float above where they come to rest."""
    for load in lookup.loads:
        for index, loaded in enumerate(load.items):
            if load.float_um(index) > 0:
                yield (
                    _at(load, loaded),
                    f"floats {format_length(load.float_um(index))} above its rest",
                )


def sheets_have_room(lookup: Lookup) -> Broken:
    """Yield items laid on others without room for the sheet between them."""
    for load, early, late in _pairs(lookup):
        clearance, sheet = load.container.clearance_um, load.container.sheet_um
        room = [
            over.z0 - under.z1
            for over in late.cuboids
            for under in early.cuboids
            if 0 <= over.z0 - under.z1 < sheet and near(over, under, clearance)
        ]
        if room:
            have, need = format_length(min(room)), format_length(sheet)
            yield _at(load, late), f"lies {have} above {early.id}, the sheet takes {need}"


def magnets_stand_on_steel(lookup: Lookup) -> Broken:
    """Yield items with magnets that do not stand upright on the floor of a steel-lined tray."""
    for load, loaded in _everything(lookup):
        if load.container.lining is Lining.STEEL and loaded.item.magnets:
            if loaded.place.way_up is not WayUp.UPRIGHT:
                yield _at(load, loaded), f"has magnets and lies {loaded.place.way_up}, not upright"
            if loaded.bottom != 0:
                yield (
                    _at(load, loaded),
                    f"has magnets and lies {format_length(loaded.bottom)} above the steel",
                )


def first_needed_lies_free(lookup: Lookup) -> Broken:
    """Yield items needed early that lie under items needed later."""
    for load, early, late in _pairs(lookup):
        rank, above = early.item.needed, late.item.needed
        if rank is None or (above is not None and above <= rank):
            continue
        if is_over(late, early, load.container.clearance_um):
            when = "at no set time" if above is None else f"as number {above}"
            yield _at(load, early), f"is needed as number {rank} but under {late.id}, needed {when}"


def _depth(one: Loaded, two: Loaded) -> int:
    """Return how far two items reach into each other; not positive if they do not."""
    return max(
        min(min(a[k + 3] - b[k], b[k + 3] - a[k]) for k in range(3))
        for a in one.cuboids
        for b in two.cuboids
    )


def _everything(lookup: Lookup) -> Iterator[tuple[Load, Loaded]]:
    for load in lookup.loads:
        for loaded in load.items:
            yield load, loaded


def _pairs(lookup: Lookup) -> Iterator[tuple[Load, Loaded, Loaded]]:
    """Yield each two items of a container, the one loaded first before the other."""
    for load in lookup.loads:
        for one, two in combinations(load.items, 2):
            yield load, one, two


def _at(load: Load, *items: Loaded) -> str:
    return f"{load.container.id}/" + " and ".join(loaded.id for loaded in items)
