"""What rests on what: support, balance and load, added up over every path in exact fractions."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from packdown.geometry import Rect, inside_hull, lowest_faces, plan_of, rests_on
from packdown.units import format_weight
from packdown.verify.lookup import Load, Loaded, Lookup
from packdown.verify.report import Broken

__all__ = [
    "items_are_supported",
    "items_balance",
    "layers_are_counted",
    "loads_are_carried",
    "support_is_stated",
    "tender_is_spared",
]

SUPPORT_TOLERANCE = Fraction(1, 1_000)


@dataclass(frozen=True, slots=True)
class _Contact:
    """A rectangle in which an item rests on the floor (None) or on the item of an index."""

    under: int | None
    rect: Rect


def _contacts(load: Load, index: int) -> list[_Contact]:
    solid = load.items[index].cuboids
    found = [_Contact(None, plan_of(cuboid)) for cuboid in solid if cuboid.z0 == 0]
    for under, other in enumerate(load.below(index)):
        rects = rests_on(solid, other.cuboids, load.container.sheet_um)
        found.extend(_Contact(under, rect) for rect in rects)
    return found


def _resting(lookup: Lookup) -> Iterator[tuple[Load, int, Loaded]]:
    """Yield the items that do not float; of those that do, another rule tells."""
    for load in lookup.loads:
        for index, loaded in enumerate(load.items):
            if load.float_um(index) <= 0:
                yield load, index, loaded


def _support(load: Load, index: int) -> Fraction:
    """Return the share of an item's lowest faces that the floor or other items support."""
    loaded = load.items[index]
    if loaded.bottom == 0:
        return Fraction(1)
    lowest = [cuboid for cuboid in loaded.cuboids if cuboid.z0 == loaded.bottom]
    carried = sum(
        rect.area
        for other in load.below(index)
        for rect in rests_on(lowest, other.cuboids, load.container.sheet_um)
    )
    whole = sum(rect.area for rect in lowest_faces(loaded.cuboids))
    return Fraction(carried, whole) if whole else Fraction(0)


def items_are_supported(lookup: Lookup) -> Broken:
    """Yield items with too little under their lowest faces."""
    least = Fraction(lookup.plan.rules.support_percent, 100)
    for load, index, loaded in _resting(lookup):
        share = _support(load, index)
        if share < least:
            yield _at(load, loaded), f"is supported by {float(share):.1%}, not {float(least):.0%}"


def support_is_stated(lookup: Lookup) -> Broken:
    """Yield placements that state another support than they have."""
    for load, index, loaded in _resting(lookup):
        share = _support(load, index)
        if not abs(Fraction(loaded.place.support) - share) <= SUPPORT_TOLERANCE:
            yield (
                _at(load, loaded),
                f"states a support of {loaded.place.support:.3f}, it is {float(share):.3f}",
            )


def layers_are_counted(lookup: Lookup) -> Broken:
    """Yield placements whose layer is not one more than the highest they rest on."""
    for load in lookup.loads:
        for index, loaded in enumerate(load.items):
            contacts = _contacts(load, index)
            if contacts:
                under = (
                    0 if c.under is None else load.items[c.under].place.layer for c in contacts
                )
                layer = 1 + max(under)
                if loaded.place.layer != layer:
                    yield _at(load, loaded), f"states layer {loaded.place.layer}, it is {layer}"


@dataclass(frozen=True, slots=True)
class _Press:
    """A weight that rests on an item, and where it acts in plan."""

    weight_g: Fraction
    x: Fraction
    y: Fraction


def _acting(loaded: Loaded, pressing: list[_Press]) -> _Press:
    """Return the weight of an item with all that presses on it, and where the whole acts."""
    own = Fraction(loaded.item.weight_g)
    total = own + sum(press.weight_g for press in pressing)
    if total <= 0:
        return _Press(total, Fraction(loaded.centre[0]), Fraction(loaded.centre[1]))
    x, y, _ = loaded.centre
    return _Press(
        total,
        (own * x + sum(press.weight_g * press.x for press in pressing)) / total,
        (own * y + sum(press.weight_g * press.y for press in pressing)) / total,
    )


def _middle(rect: Rect) -> tuple[Fraction, Fraction]:
    return Fraction(rect.x0 + rect.x1, 2), Fraction(rect.y0 + rect.y1, 2)


def _presses(load: Load) -> list[list[_Press]]:
    """Return what presses on each item, handed down from the last loaded to the first.

    Each contact takes a share of the weight in proportion to its area. The shares act at the
    middles of the contacts, all shifted alike so that together they act where the weight does:
    what is handed down then is in equilibrium with it.
    """
    pressing: list[list[_Press]] = [[] for _ in load.items]
    for index in reversed(range(len(load.items))):
        whole = _acting(load.items[index], pressing[index])
        contacts = _contacts(load, index)
        area = sum(contact.rect.area for contact in contacts)
        spots = [(contact, *_middle(contact.rect)) for contact in contacts]
        shift_x = whole.x - sum((c.rect.area * x for c, x, _ in spots), Fraction()) / (area or 1)
        shift_y = whole.y - sum((c.rect.area * y for c, _, y in spots), Fraction()) / (area or 1)
        for contact, x, y in spots:
            if contact.under is not None:
                share = whole.weight_g * contact.rect.area / area
                pressing[contact.under].append(_Press(share, x + shift_x, y + shift_y))
    return pressing


def loads_are_carried(lookup: Lookup) -> Broken:
    """Yield items that carry more than they may."""
    for load in lookup.loads:
        for loaded, pressing in zip(load.items, _presses(load), strict=True):
            limit, weight = loaded.item.carry_limit_g, sum(p.weight_g for p in pressing)
            if limit is not None and weight > limit:
                yield (
                    _at(load, loaded),
                    f"carries {float(weight):.1f} g, may carry {format_weight(limit)}",
                )


def items_balance(lookup: Lookup) -> Broken:
    """Yield items that would tip: the weight acts outside the hull of what they rest on."""
    for load in lookup.loads:
        pressing = _presses(load)
        for index, loaded in enumerate(load.items):
            contacts = _contacts(load, index)
            whole = _acting(loaded, pressing[index])
            point = (whole.x, whole.y)
            if contacts and not inside_hull(point, [contact.rect for contact in contacts]):
                place = ", ".join(f"{float(part) / 1_000:.1f}" for part in point)
                yield (
                    _at(load, loaded),
                    f"tips: its weight acts at ({place}) mm, outside what it rests on",
                )


def tender_is_spared(lookup: Lookup) -> Broken:
    """Yield items that rest on a tender cuboid."""
    for load in lookup.loads:
        for index, loaded in enumerate(load.items):
            for other in load.below(index):
                tender = [other.cuboids[number] for number in other.item.tender]
                area = sum(
                    rect.area for rect in rests_on(loaded.cuboids, tender, load.container.sheet_um)
                )
                if area:
                    yield (
                        _at(load, loaded),
                        f"rests with {area / 10**8:.1f} cm2 on a tender side of {other.id}",
                    )


def _at(load: Load, loaded: Loaded) -> str:
    return f"{load.container.id}/{loaded.id}"
