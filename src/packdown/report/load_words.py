"""A loaded vehicle in words: what stands where, what to strap, what stays, what to mind."""

from collections.abc import Iterator, Sequence

from packdown.geometry import Cuboid, footprint_overlap
from packdown.model import Loaded, Loading, Securing
from packdown.model.loading import placed_cuboid
from packdown.report.cautions import Caution
from packdown.report.words import listed
from packdown.units import format_weight

__all__ = ["left_lines", "load_cautions", "load_headline", "load_steps", "securing_lines"]

GRAVITY = 9.81
_SIDES = {"forward": "forward", "backward": "to the back", "left": "to the left",
          "right": "to the right"}  # fmt: skip


def load_headline(loading: Loading) -> str:
    """Return how much of the cargo is loaded, its weight, and the share of the room it takes."""
    cargo = {one.id: one for one in loading.cargo}
    inside = [cargo[place.container] for place in loading.loaded]
    weight = format_weight(sum(one.gross_g for one in inside))
    boxes = (placed_cuboid(cargo[p.container], p).volume for p in loading.loaded)
    share = sum(boxes) / max(1, loading.space.volume_um3)
    return (
        f"{loading.space.name}: {len(inside)} of {len(cargo)} containers, {weight} of "
        f"{format_weight(loading.space.payload_g)}, {share:.0%} of the room."
    )


def load_steps(loading: Loading) -> tuple[str, ...]:
    """Return one sentence for each container, in loading order."""
    cargo = {one.id: one for one in loading.cargo}
    boxes = {p.container: placed_cuboid(cargo[p.container], p) for p in loading.loaded}
    return tuple(
        f"{cargo[place.container].name}, {format_weight(cargo[place.container].gross_g)}: "
        f"{_where(loading, place, boxes)}."
        for place in loading.loaded
    )


def _where(loading: Loading, place: Loaded, boxes: dict[str, Cuboid]) -> str:
    """Say in which corner a container stands, on what, and how it is turned."""
    width, length, _ = loading.space.size_um
    box = boxes[place.container]
    reach = loading.rules.reach_um
    thirds = ("left", "middle", "right")
    across = thirds[min(2, 3 * (box.x0 + box.x1) // (2 * width))]
    names = {one.id: one.name for one in loading.cargo}
    if length - box.y1 <= reach:
        along = "against the seat back"
    elif box.y0 <= reach:
        along = "by the tailgate"
    else:
        along = "between seat back and tailgate"
    below = [
        names[other]
        for other, low in boxes.items()
        if other != place.container and low.z0 < box.z0 <= low.z1 and footprint_overlap(box, low)
    ]
    on = f"on {listed(below)}" if below else "on the floor"
    side = "its length front to back" if place.turn else "its length across"
    return f"{across}, {along}, {on}, {side}"


def securing_lines(loading: Loading) -> tuple[str, ...]:
    """Return what to strap or block, the strongest pull of each container first said."""
    names = {one.id: one.name for one in loading.cargo}
    by_container: dict[str, list[Securing]] = {}
    for entry in loading.securing:
        by_container.setdefault(entry.container, []).append(entry)
    return tuple(_strap(names[name], entries) for name, entries in by_container.items())


def _strap(name: str, entries: Sequence[Securing]) -> str:
    ways = listed([_SIDES[entry.side] for entry in entries])
    verbs = listed(
        [
            verb
            for verb, true in (
                ("slide", any(entry.slides for entry in entries)),
                ("tip", any(entry.tips for entry in entries)),
            )
            if true
        ]
    )
    force = max(entry.force_n for entry in entries)
    return (
        f"{name} can {verbs} {ways}: strap it or fill the gap; about {force:.0f} N, "
        f"as much as {format_weight(round(force / GRAVITY * 1_000))} weigh"
    )


def left_lines(loading: Loading) -> tuple[str, ...]:
    """Return what stays behind, and why."""
    names = {one.id: one.name for one in loading.cargo}
    return tuple(f"{names[one.container]}: {one.reason}" for one in loading.left)


def load_cautions(loading: Loading) -> tuple[Caution, ...]:
    """Return what to mind on the road, and whom to ask."""
    return tuple(_cautions(loading))


def _cautions(loading: Loading) -> Iterator[Caution]:
    rules, space = loading.rules, loading.space
    points = space.lashing_points
    eyes = f"There are {points} lashing points." if points else "No lashing points are known."
    yield Caution(
        title="Before you drive off",
        text=f"Forces are estimates for {rules.forward_g:g} g forward and {rules.other_g:g} g to "
        f"the other sides, friction {space.friction:g}. {eyes} Ask the maker of the vehicle, or "
        "look in its manual, what the points and the floor bear and how much may be loaded; for "
        "rules on securing loads ask the road authority. Pull at every container before you go.",
    )
    if space.guarded:
        yield Caution(
            title="Above the seat back",
            text="This load counts on a net or a guard above the seat back. Ask the maker of the "
            "vehicle, or of the net, what it holds.",
        )
