"""Sentences the reports share, in plain words."""

from collections import Counter
from collections.abc import Iterable, Sequence
from hashlib import sha256

from packdown.geometry import WayUp
from packdown.model import (
    ItemKind,
    JointState,
    Lining,
    PackedContainer,
    Plan,
    PlanBuild,
)
from packdown.report.lookup import Lookup
from packdown.units import format_minutes, format_weight

__all__ = [
    "PROPOSAL",
    "build_minutes",
    "counted",
    "gist",
    "headline",
    "holdings",
    "joint_words",
    "keys_freed",
    "left_out",
    "lining",
    "listed",
    "lying",
    "minutes_range",
    "piece_names",
    "plan_hash",
    "split_share",
    "split_words",
]

PROPOSAL = (
    "A proposal until it is carried out. Lengths are inside measures. Nothing here has been "
    "approved by anyone: for lifting, vehicles, parcels and flights defer to local rules and to "
    "the carrier."
)
"""Stands at the foot of what is printed."""

_LYING = {
    WayUp.UPRIGHT: "as it stands",
    WayUp.UPSIDE_DOWN: "upside down",
    WayUp.ON_LEFT: "on its left side",
    WayUp.ON_RIGHT: "on its right side",
    WayUp.ON_FRONT: "face down, on its front",
    WayUp.ON_BACK: "on its back",
}
_LINING = {Lining.NONE: "bare floor", Lining.FOAM: "foam floor", Lining.STEEL: "steel floor"}
_TURNED = {
    0: "",
    90: "a quarter turn to the left",
    180: "half a turn",
    270: "a quarter turn to the right",
}


def counted(number: int, noun: str, plural: str = "") -> str:
    """Return a number with its noun.

    >>> counted(1, "box", "boxes"), counted(3, "item")
    ('1 box', '3 items')
    """
    return f"{number} {noun if number == 1 else plural or noun + 's'}"


def listed(words: Sequence[str]) -> str:
    """Join words as in a sentence.

    >>> listed(["a", "b", "c"])
    'a, b and c'
    """
    return " and ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)


def joint_words(joints: Iterable[str]) -> str:
    """Name joints by the pieces they hold, as the file of their build does.

    >>> joint_words(["pier/post+arm", "pier/foot+post"])
    'post + arm, foot + post'
    """
    return ", ".join(joint.rpartition("/")[2].replace("+", " + ") for joint in joints)


def lying(way_up: WayUp, turn: int) -> str:
    """Say how an item lies.

    >>> lying(WayUp.ON_BACK, 180)
    'on its back, half a turn'
    """
    return ", ".join(word for word in (_LYING[way_up], _TURNED[turn]) if word)


def minutes_range(low_s: float, high_s: float) -> str:
    """Show a range of times.

    >>> minutes_range(600, 1230)
    '10 to 20 min'
    """
    if not high_s:
        return "no time"
    low, high = format_minutes(low_s), format_minutes(high_s)
    if low == high:
        return f"about {low}"
    if low.split()[1] == high.split()[1]:
        low = low.split()[0]
    return f"{low} to {high}"


def build_minutes(plan: Plan, build: PlanBuild) -> str:
    """Show the time for splitting and rebuilding one build."""
    rules = plan.rules
    return minutes_range(build.effort_s * rules.effort_low, build.effort_s * rules.effort_high)


def split_words(build: PlanBuild) -> str:
    """Say which joints of a build are split.

    Returns
    -------
    str
        Such as ``3 of 12 joints: 2 keyed, 1 stacked``.
    """
    split = [joint for joint in build.joints if joint.state is JointState.SPLIT]
    if not split:
        return "no joint"
    kinds = Counter(str(joint.kind) for joint in split)
    parts = ", ".join(f"{number} {kind}" for kind, number in sorted(kinds.items()))
    return f"{len(split)} of {counted(len(build.joints), 'joint')}: {parts}"


def keys_freed(build: PlanBuild) -> int:
    """Count the keys that come free when a build is split."""
    return sum(joint.keys for joint in build.joints if joint.state is JointState.SPLIT)


def split_share(build: PlanBuild) -> str:
    """Say how many joints of a build are split, and of how many.

    Returns
    -------
    str
        Such as ``3 of 12``.
    """
    split = sum(joint.state is JointState.SPLIT for joint in build.joints)
    return f"{split} of {len(build.joints)}"


def lining(kind: Lining) -> str:
    """Name the floor of a container."""
    return _LINING[kind]


def gist(lookup: Lookup, container: PackedContainer) -> str:
    """Say in a few words what lies in a container.

    Returns
    -------
    str
        Such as ``Gatehouse, Mill, 4 loose, 1 bag``.
    """
    items = [lookup.items[placement.item] for placement in container.fill]
    kinds = Counter(item.kind for item in items)
    told = list(dict.fromkeys(name for item in items if (name := lookup.build_name(item))))
    if kinds[ItemKind.LOOSE]:
        told.append(f"{kinds[ItemKind.LOOSE]} loose")
    if kinds[ItemKind.BAG]:
        told.append(counted(kinds[ItemKind.BAG], "bag"))
    return ", ".join(told)


def holdings(lookup: Lookup, container: PackedContainer, kinds: int = 4) -> str:
    """Say by name what lies in a container: parts of builds, then the rest, most of it first.

    Parameters
    ----------
    lookup
        The plan.
    container
        One of its containers.
    kinds
        How many kinds of loose pieces and bags are named; the others are counted.
    """
    items = [lookup.items[placement.item] for placement in container.fill]
    builds = Counter(name for item in items if (name := lookup.build_name(item)))
    others = Counter(item.name for item in items if not lookup.build_name(item)).most_common()
    told = [counted(n, f"part of {name}", f"parts of {name}") for name, n in builds.items()]
    told += [f"{n} x {name}" for name, n in others[:kinds]]
    rest = sum(n for _, n in others[kinds:])
    return ", ".join(told) + (f" and {rest} more" if rest else "")


def piece_names(lookup: Lookup, pieces: Sequence[str]) -> str:
    """Name the pieces of a sub-assembly by kind, most frequent first."""
    names = Counter(lookup.pieces[piece].name for piece in pieces)
    return ", ".join(f"{n} x {name}" for name, n in names.most_common())


def plan_hash(plan: Plan) -> str:
    """Return twelve signs that tell this plan from every other."""
    return sha256(repr(plan).encode()).hexdigest()[:12]


def headline(lookup: Lookup) -> str:
    """Say in one or two sentences what the plan does."""
    plan = lookup.plan
    packed = counted(len(lookup.places), "item")
    boxes = counted(len(lookup.used), "container")
    whole = sum(len(build.sub_assemblies) == 1 for build in plan.builds)
    told = f"{packed} in {boxes}, {format_weight(plan.objective.weight_g)} altogether."
    if plan.builds:
        built = counted(len(plan.builds), "build")
        stays = f"{whole or 'none'} {'stays' if whole == 1 else 'stay'} whole"
        stay = "all stay whole" if whole == len(plan.builds) else stays
        split = plan.objective.joints_split
        verb = "is" if split == 1 else "are"
        told += f" Of {built}, {stay}; {counted(split, 'joint')} {verb} split."
    if plan.not_packed:
        told += f" {counted(len(plan.not_packed), 'item')} found no place."
    return told


def left_out(lookup: Lookup) -> tuple[tuple[str, str], ...]:
    """Return what is not packed and why; things of one name and one reason are counted."""
    groups: dict[tuple[str, str], list[str]] = {}
    for entry in lookup.plan.not_packed:
        name = lookup.items[entry.item].name
        groups.setdefault((name, entry.reason), []).append(entry.item)
    return tuple(
        (f"{len(ids)} x {name}" if len(ids) > 1 else f"{name} ({ids[0]})", reason)
        for (name, reason), ids in groups.items()
    )
