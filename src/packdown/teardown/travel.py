"""What may stand on the shelf and not travel, and the joints to open for that reason."""

from collections.abc import Collection, Sequence
from dataclasses import replace

from packdown.model import Build, Settings, Weak
from packdown.teardown.assembly import Assembler
from packdown.teardown.graph import graph_of
from packdown.teardown.loosen import loosened

__all__ = ["weak_parts"]


def weak_parts(
    build: Build,
    sub_assemblies: Sequence[Collection[str]],
    settings: Settings,
    key_weight_g: int,
) -> tuple[Weak, ...]:
    """Return what of a build must not travel as it is: of the whole, and of its sub-assemblies.

    Of a build that falls into several parts that no joint holds together, each is looked at;
    single pieces never are. For the joints to open see `loosened`.

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
    wholes = graph.components(graph.all)
    held = [graph.mask(sub) for sub in sub_assemblies]
    if settings.shock_factor < settings.travel_factor:
        masks = list(dict.fromkeys([*wholes, *held]))
    else:
        masks = [mask for mask in wholes if mask not in held]
    travelling, shelved = (
        Assembler(build, replace(settings, shock_factor=factor), key_weight_g)
        for factor in (settings.travel_factor, settings.shelf_factor)
    )
    return tuple(
        _weak(travelling, shelved, mask)
        for mask in masks
        if mask.bit_count() > 1 and not any(travelling.safe_ways(mask))
    )


def _weak(travelling: Assembler, shelved: Assembler, mask: int) -> Weak:
    graph = travelling.graph
    parts = loosened(travelling, mask)
    helps = all(part.bit_count() == 1 or any(travelling.safe_ways(part)) for part in parts)
    kept = {joint.id for part in parts for joint in graph.inner(part)}
    return Weak(
        pieces=graph.ids(mask),
        stands=any(shelved.safe_ways(mask)),
        open_joints=tuple(j.id for j in graph.inner(mask) if helps and j.id not in kept),
    )
