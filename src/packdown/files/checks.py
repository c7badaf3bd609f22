"""Checks of a whole workspace: is there something to pack, and anything to pack it into."""

from collections.abc import Iterable, Mapping, Sequence

from packdown.files.parts import Parts
from packdown.files.place import Place
from packdown.geometry import WayUp, size
from packdown.model import (
    Build,
    Container,
    Grade,
    Lining,
    Part,
    Piece,
    Rules,
    Settings,
    usable_payloads,
)
from packdown.units import format_size, format_weight

__all__ = ["check_containers", "check_filled", "rules_of"]

_HEIGHT_AXIS = {
    WayUp.UPRIGHT: 2,
    WayUp.UPSIDE_DOWN: 2,
    WayUp.ON_LEFT: 0,
    WayUp.ON_RIGHT: 0,
    WayUp.ON_FRONT: 1,
    WayUp.ON_BACK: 1,
}


def check_filled(root: Place, builds: Iterable[Build], loose: Sequence[Piece]) -> None:
    """Report a collection without any piece."""
    if not loose and not any(build.pieces for build in builds):
        root.report(
            "the collection is empty: no builds and no loose pieces",
            "define parts, then count them in counts.csv or place them in builds",
        )


def check_containers(
    place: Place,
    containers: Sequence[Container],
    builds: Sequence[Build],
    loose: Sequence[Piece],
    parts: Parts,
    settings: Settings,
) -> None:
    """Report containers nothing can go into, and parts that can go into no container.

    Measured builds and units may be larger than every container: a plan lists them as not packed.
    """
    if not containers:
        place.report("expected at least one container")
        return
    payloads = usable_payloads(containers, rules_of(settings))
    standing = [piece for build in builds for piece in build.pieces]
    lightest = min(piece.weight_g for piece in (*loose, *standing))
    for container in containers:
        if payloads[container.id] < lightest:
            place.at(container.id).report(
                f"nothing can go in: it may hold {format_weight(payloads[container.id])}, "
                f"and the lightest piece weighs {format_weight(lightest)}",
                "mind its tare, the weight limit and what the containers below it may bear",
            )
    placed = [piece for b in builds if b.grade is Grade.PLACED for piece in b.pieces]
    for part in sorted({piece.part for piece in (*loose, *placed)}):
        found = parts.by_id[part]
        if found:
            _check_part(found, parts.places[part], containers, payloads, lightest)


def _check_part(
    part: Part,
    place: Place,
    containers: Sequence[Container],
    payloads: Mapping[str, int],
    lightest_g: int,
) -> None:
    most = max(payloads.values())
    if not any(_fits(part, container) for container in containers):
        largest = max(containers, key=lambda container: container.volume_um3)
        place.report(
            f"is larger than every container, {format_size(size(part.cover_um))}, "
            "in every way it may lie",
            f"the inside of {largest.id} is {format_size(largest.inner_um)}, less the clearance",
        )
    elif part.weight_g > most >= lightest_g:
        place.at("weight").report(
            f"weighs {format_weight(part.weight_g)}, "
            f"and no container may hold more than {format_weight(most)}"
        )


def _fits(part: Part, container: Container) -> bool:
    """Whether a part lies in an otherwise empty container in some way it may lie."""
    extent = size(part.cover_um)
    edge = 2 * container.clearance_um
    across = sorted(side - edge for side in container.inner_um[:2])
    pinned = container.lining is Lining.STEEL and part.magnets > 0
    ways = {WayUp.UPRIGHT} & set(part.ways_up) if pinned else set(part.ways_up)
    for height in {_HEIGHT_AXIS[way] for way in ways}:
        base = sorted(side for axis, side in enumerate(extent) if axis != height)
        if (
            extent[height] <= container.inner_um[2]
            and base[0] <= across[0]
            and base[1] <= across[1]
        ):
            return True
    return False


def rules_of(settings: Settings) -> Rules:
    """Return the rules as far as payloads depend on them."""
    return Rules(
        support_percent=settings.support_percent,
        shock_factor=settings.shock_factor,
        joint_tolerance_um=settings.joint_tolerance_um,
        weight_limit_g=settings.weight_limit_g,
        place_s=settings.effort.place_s,
        effort_low=settings.effort.low,
        effort_high=settings.effort.high,
        key_weight_g=0,
    )
