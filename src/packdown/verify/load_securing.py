"""What slides and what tips, worked out anew for the rule that all of it is told."""

from fractions import Fraction

from packdown.geometry import Cuboid
from packdown.model import Securing
from packdown.verify.load_lookup import LoadLookup, Stowed
from packdown.verify.report import Broken

__all__ = ["what_moves_is_told"]

GRAVITY = 9.81
SLACK_N = 0.11
"""Forces are told to a tenth of a newton."""
_OUT = {"left": (-1, 0), "right": (1, 0), "forward": (0, 1), "backward": (0, -1)}


def what_moves_is_told(lookup: LoadLookup) -> Broken:
    """Yield containers whose sliding or tipping is not told as it is."""
    told: dict[tuple[str, str], Securing] = {}
    for entry in lookup.loading.securing:
        if (entry.container, entry.side) in told:
            yield entry.container, f"is told twice to go {entry.side}"
        told[entry.container, entry.side] = entry
    for one in lookup.stowed:
        for side in _OUT:
            slides, tips, force = _moves(lookup, one, side)
            entry_or_none = told.pop((one.name, side), None)
            said = entry_or_none or Securing(
                container=one.name, side="left", slides=False, tips=False, force_n=0.0
            )
            if (said.slides, said.tips) != (slides, tips):
                yield one.name, f"{_verbs(slides=slides, tips=tips)} {side}, and that is not told"
            elif abs(said.force_n - force) > SLACK_N:
                yield one.name, f"needs {force:.1f} N {side}, told are {said.force_n:.1f} N"
    for name, side in told:
        yield name, f"is told to go {side}, but is not loaded"


def _verbs(*, slides: bool, tips: bool) -> str:
    words = [word for word, true in (("slides", slides), ("tips", tips)) if true]
    return " and ".join(words) or "stays, not going"


def _moves(lookup: LoadLookup, one: Stowed, side: str) -> tuple[bool, bool, float]:
    """Return whether one slides, whether it tips, and the force that holds it."""
    rules, friction = lookup.loading.rules, lookup.loading.space.friction
    push = rules.forward_g if side == "forward" else rules.other_g
    group = (one, *lookup.above[one.name])
    weight = sum(member.cargo.gross_g for member in group)
    dx, dy = _OUT[side]
    arm = [
        Fraction(sum(m.cargo.gross_g * m.centre_um[axis] for m in group), weight)
        for axis in range(3)
    ]
    base = one.box
    reach = {"left": arm[0] - base.x0, "right": base.x1 - arm[0],
             "forward": base.y1 - arm[1], "backward": arm[1] - base.y0}[side]  # fmt: skip
    height = arm[2] - base.z0
    in_a_rim = any(lookup.sinks(one, low) for low in lookup.under[one.name])
    slides = push > friction and not in_a_rim and not _stops(lookup, one, (dx, dy))
    falls = push * float(height) > float(reach)
    tops = [top for m in group for top in _tops(lookup, m, (dx, dy))]
    tips = falls and not any(top >= arm[2] for top in tops)
    newtons = weight / 1_000 * GRAVITY
    force = (push - friction) * newtons if slides else 0.0
    if tips:
        force = max(force, (push * float(height) - float(reach)) / base.size[2] * newtons)
    return slides, tips, force


def _stops(lookup: LoadLookup, one: Stowed, way: tuple[int, int]) -> bool:
    return any(True for _ in _tops(lookup, one, way))


def _tops(lookup: LoadLookup, one: Stowed, way: tuple[int, int]) -> list[int]:
    """Return up to which height each thing that cannot give way stops a container."""
    space, gap = lookup.loading.space, lookup.loading.rules.reach_um
    box = one.box
    room = {(-1, 0): box.x0, (1, 0): space.size_um[0] - box.x1,
            (0, 1): space.size_um[1] - box.y1, (0, -1): box.y0}[way]  # fmt: skip
    tops = [box.z1] if room <= gap else []
    beside = [cut for cut in space.taken_um if _next_to(box, cut, way, gap)]
    beside += [
        other.box
        for other in lookup.stowed
        if other is not one and _next_to(box, other.box, way, gap) and _stops(lookup, other, way)
    ]
    return [*tops, *(min(other.z1, box.z1) for other in beside)]


def _next_to(a: Cuboid, b: Cuboid, way: tuple[int, int], gap: int) -> bool:
    """Whether `b` is within reach of `a` on one side, face to face."""
    dx, dy = way
    if a.z0 >= b.z1 or b.z0 >= a.z1:
        return False
    if dx:
        between = b.x0 - a.x1 if dx > 0 else a.x0 - b.x1
        return 0 <= between <= gap and a.y0 < b.y1 and b.y0 < a.y1
    between = b.y0 - a.y1 if dy > 0 else a.y0 - b.y1
    return 0 <= between <= gap and a.x0 < b.x1 and b.x0 < a.x1
