"""What may stand on the shelf and not travel, and the joints to open for that reason."""

from collections.abc import Collection, Sequence
from dataclasses import replace

from packdown.model import Build, Settings, Weak
from packdown.teardown.assembly import Assembler
from packdown.teardown.graph import graph_of
from packdown.teardown.room import Room
from packdown.teardown.split import carried_parts
from packdown.teardown.windows import Windows

__all__ = ["weak_parts"]

FAR = 10**9
#: For anything: what is split for it is split for its strength alone.
ANYWHERE = Room(size_um=(FAR, FAR, FAR), payload_g=FAR, steel=False)


def weak_parts(
    build: Build,
    sub_assemblies: Sequence[Collection[str]],
    settings: Settings,
    key_weight_g: int,
) -> tuple[Weak, ...]:
    """Return what of a build must not travel as it is: of the whole, and of its sub-assemblies.

    Of a build that falls into several parts that no joint holds together, each is looked at. The
    joints to open are those of the cheapest cuts found that leave parts which may travel, however
    large; single pieces are never looked at.

    Parameters
    ----------
    build
        The build.
    sub_assemblies
        Piece ids of each sub-assembly; each holds at the shock factor of the settings.
    settings
        Shock factors and tolerance of the joints.
    key_weight_g
        Weight of one key.
    """
    graph = graph_of(build)
    masks = dict.fromkeys(graph.components(graph.all))
    held = [graph.mask(sub) for sub in sub_assemblies]
    if settings.shock_factor < settings.travel_factor:
        masks.update(dict.fromkeys(held))
    else:
        masks = {mask: None for mask in masks if mask not in held}
    parts = (_part(build, graph.ids(mask)) for mask in masks if mask.bit_count() > 1)
    found = (_weakness(part, settings, key_weight_g) for part in parts)
    return tuple(weak for weak in found if weak)


def _part(build: Build, pieces: Collection[str]) -> Build:
    """Return some pieces of a build, and the joints between them, as a build of its own."""
    if len(pieces) == len(build.pieces):
        return build
    inside = set(pieces)
    return replace(
        build,
        pieces=tuple(piece for piece in build.pieces if piece.id in inside),
        joints=tuple(joint for joint in build.joints if inside.issuperset(joint.pieces)),
    )


def _weakness(part: Build, settings: Settings, key_weight_g: int) -> Weak | None:
    travelling = replace(settings, shock_factor=settings.travel_factor)
    if _holds(part, travelling, key_weight_g):
        return None
    shelved = replace(settings, shock_factor=settings.shelf_factor)
    windows = Windows(
        Assembler(part, travelling, key_weight_g), (ANYWHERE,), settings.effort.place_s
    )
    parts = carried_parts(windows, refine=False)
    helps = all(windows.whole(mask) or mask.bit_count() == 1 for mask in parts)
    kept = {joint.id for mask in parts for joint in windows.graph.inner(mask)}
    return Weak(
        pieces=tuple(piece.id for piece in part.pieces),
        stands=_holds(part, shelved, key_weight_g),
        open_joints=tuple(j.id for j in part.joints if helps and j.id not in kept),
    )


def _holds(part: Build, settings: Settings, key_weight_g: int) -> bool:
    """Whether a build lies safely as one in some way up."""
    assembler = Assembler(part, settings, key_weight_g)
    return any(assembler.safe_ways(assembler.graph.all))
