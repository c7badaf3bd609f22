"""Where containers stand in a load space, and what each of them carries."""

from collections import Counter
from fractions import Fraction
from itertools import combinations

from packdown.geometry import Cuboid
from packdown.units import format_length, format_weight
from packdown.verify.load_lookup import LoadLookup
from packdown.verify.report import Broken

__all__ = [
    "containers_are_inside",
    "containers_are_loaded_once",
    "containers_rest",
    "containers_stay_upright",
    "heavy_stands_low",
    "load_is_spread",
    "nothing_is_above_the_seat_back",
    "nothing_overlaps",
    "payload_is_kept",
    "rims_are_used",
    "stack_limits_are_kept",
    "taken_away_stays_free",
]


def containers_are_loaded_once(lookup: LoadLookup) -> Broken:
    """Yield containers that are unknown, told of more than once, or nowhere."""
    known = Counter(one.id for one in lookup.loading.cargo)
    loaded = Counter(place.container for place in lookup.loading.loaded)
    left = Counter(one.container for one in lookup.loading.left)
    for name, number in known.items():
        if number > 1:
            yield name, f"is there {number} times"
        told = loaded[name] + left[name]
        if told != 1:
            yield name, "is neither loaded nor left" if not told else f"is told {told} times"
    for name in (loaded + left).keys() - known.keys():
        yield name, "is no container of this load"
    for one in lookup.loading.left:
        if not one.reason.strip():
            yield one.container, "is left without a reason"


def containers_stay_upright(lookup: LoadLookup) -> Broken:
    """Yield turns that are none about the vertical."""
    for one in lookup.stowed:
        if one.place.turn not in {0, 90}:
            yield one.name, f"is turned by {one.place.turn} degrees, not by 0 or 90"


def containers_are_inside(lookup: LoadLookup) -> Broken:
    """Yield containers that stick out of the load space."""
    for one in lookup.stowed:
        for axis, side in enumerate(("across", "along", "up")):
            low, high = one.box[axis], one.box[axis + 3]
            over = max(-low, high - lookup.loading.space.size_um[axis])
            if over > 0:
                yield one.name, f"sticks out {side} by {format_length(over)}"


def nothing_is_above_the_seat_back(lookup: LoadLookup) -> Broken:
    """Yield containers above the seat back, where no net or guard holds them."""
    space = lookup.loading.space
    for one in lookup.stowed:
        if not space.guarded and one.box.z1 > space.seat_back_um:
            top, seat = format_length(one.box.z1), format_length(space.seat_back_um)
            yield one.name, f"ends at {top}, the seat back at {seat}"


def taken_away_stays_free(lookup: LoadLookup) -> Broken:
    """Yield containers in a wheel arch or a slope."""
    for one in lookup.stowed:
        if any(one.box.overlaps(cut) for cut in lookup.loading.space.taken_um):
            yield one.name, "reaches into what is taken away from the inside"


def nothing_overlaps(lookup: LoadLookup) -> Broken:
    """Yield pairs that share volume, unless one stands in the rim of the other."""
    for a, b in combinations(lookup.stowed, 2):
        if a.box.overlaps(b.box) and not (lookup.sinks(a, b) or lookup.sinks(b, a)):
            yield f"{a.name}, {b.name}", "share volume"


def containers_rest(lookup: LoadLookup) -> Broken:
    """Yield containers that do not stand on the floor, or with all four corners on others."""
    for one in lookup.stowed:
        if one.box.z0 == 0 or any(lookup.sinks(one, low) for low in lookup.under[one.name]):
            continue
        free = [
            corner
            for corner in _corners(one.box)
            if not any(_holds(low.box, corner) for low in lookup.under[one.name])
        ]
        if free:
            yield one.name, f"{len(free)} of its corners are in the air"


def _corners(box: Cuboid) -> list[tuple[int, int]]:
    return [(x, y) for x in (box.x0, box.x1) for y in (box.y0, box.y1)]


def _holds(box: Cuboid, corner: tuple[int, int]) -> bool:
    return box.x0 <= corner[0] <= box.x1 and box.y0 <= corner[1] <= box.y1


def rims_are_used(lookup: LoadLookup) -> Broken:
    """Yield containers that stand on the rim of one into which they would sink."""
    for one in lookup.stowed:
        for low in lookup.under[one.name]:
            if low.cargo.nest_um and lookup.alike(one, low) and not lookup.sinks(one, low):
                yield one.name, f"would sink {format_length(low.cargo.nest_um)} into {low.name}"


def heavy_stands_low(lookup: LoadLookup) -> Broken:
    """Yield containers that stand on a lighter one."""
    percent = lookup.loading.rules.heavier_percent
    for one in lookup.stowed:
        for low in lookup.under[one.name]:
            if one.cargo.gross_g * 100 > low.cargo.gross_g * (100 + percent):
                own, other = format_weight(one.cargo.gross_g), format_weight(low.cargo.gross_g)
                yield one.name, f"weighs {own} and stands on {low.name} of {other}"


def stack_limits_are_kept(lookup: LoadLookup) -> Broken:
    """Yield containers that carry more than they may; all that stands on one counts whole."""
    for one in lookup.stowed:
        limit = one.cargo.stack_limit_g
        carried = sum(other.cargo.gross_g for other in lookup.above[one.name])
        if limit is not None and carried > limit:
            yield one.name, f"carries {format_weight(carried)}, it may {format_weight(limit)}"


def payload_is_kept(lookup: LoadLookup) -> Broken:
    """Yield a load that is too heavy."""
    total = sum(one.cargo.gross_g for one in lookup.stowed)
    space = lookup.loading.space
    if total > space.payload_g:
        most = format_weight(space.payload_g)
        yield space.id, f"is loaded with {format_weight(total)}, it may be with {most}"


def load_is_spread(lookup: LoadLookup) -> Broken:
    """Yield a load that is not light and has too much in one half of the length."""
    space, rules = lookup.loading.space, lookup.loading.rules
    total = sum(one.cargo.gross_g for one in lookup.stowed)
    if total * 100 <= space.payload_g * rules.spread_percent:
        return
    middle = Fraction(space.size_um[1], 2)
    front = Fraction(0)
    for one in lookup.stowed:
        beyond = min(max(one.box.y1 - middle, Fraction(0)), Fraction(one.box.size[1]))
        front += one.cargo.gross_g * beyond / one.box.size[1]
    for half, share in (("forward", front / total), ("rear", 1 - front / total)):
        if share * 100 > rules.half_percent:
            yield space.id, f"the {half} half has {float(share):.0%} of the load"
