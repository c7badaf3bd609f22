"""Which nodes a container and a build become: pieces by the names on their labels, in groups."""

from collections.abc import Iterator, Sequence

from packdown.geometry import Cuboid, Solid, bounds, rotated, translate
from packdown.model import ItemKind, PackedContainer, Placement, PlanBuild, Step
from packdown.report.gltf.document import Document, Look
from packdown.report.lookup import Lookup
from packdown.report.pictures import build_tones, container_tones
from packdown.report.tones import colour

__all__ = ["build_glb", "container_glb"]

SHELL_UM = 1_000
"""How thick the walls around the inside of a container are shown: nominal, not measured."""
SHELL = Look(name="container", colour="#8a949c", opacity=0.25)


def container_glb(lookup: Lookup, container: PackedContainer, layer: int | None = None) -> bytes:
    """Return a container with what lies in it as binary glTF.

    Its nodes are one group a layer, in it one group a sub-assembly, in it the pieces; a bag is
    one solid. Around its inside stands a translucent shell.

    Parameters
    ----------
    lookup
        The plan.
    container
        The container.
    layer
        The highest layer to be shown; all unless told.
    """
    document = Document()
    nodes = [document.thing(f"{container.name}, inside", _shell(container), SHELL, {})]
    for level in sorted({placement.layer for placement in container.fill}):
        if layer is None or level <= layer:
            own = [p for p in container.fill if p.layer == level]
            things = [_item(document, lookup, placement) for placement in own]
            nodes.append(document.group(f"Layer {level}", things, {"layer": level}))
    root = document.group(container.name, nodes, {"id": container.id})
    return document.finish(container.name, [root])


def _item(document: Document, lookup: Lookup, placement: Placement) -> int:
    item = lookup.items[placement.item]
    tones = container_tones(lookup)
    build = lookup.builds.get(item.build or "")
    look = Look(
        name=build.name if build else "loose", colour=colour(tones.get(item.build or "", 0))
    )
    if item.kind is ItemKind.BAG:
        return document.thing(item.name, placement.cuboids_um, look, {"id": item.id})
    solids = [lookup.pieces[piece].cuboids_um for piece in item.pieces]
    nodes = [
        document.thing(lookup.pieces[piece].name, solid, look, {"id": piece})
        for piece, solid in zip(item.pieces, _lying(lookup, placement, solids), strict=True)
    ]
    return nodes[0] if len(nodes) == 1 else document.group(item.name, nodes, {"id": item.id})


def _lying(lookup: Lookup, placement: Placement, solids: Sequence[Solid]) -> Iterator[Solid]:
    """Yield solids of pieces of an item as they lie in its container.

    What joints may stand open is part of the item, not of the pieces: they are shown pushed up.
    """
    item = lookup.items[placement.item]
    way_up, turn = placement.way_up, placement.turn
    _, shift = rotated(item.cuboids_um, way_up, turn, placement.at_um)
    low = bounds(cuboid for solid in solids for cuboid in solid)
    for solid in solids:
        own = translate(solid, -low.x0, -low.y0, -low.z0)
        lying, back = rotated(own, way_up, turn)
        yield translate(lying, *(a - b for a, b in zip(shift, back, strict=True)))


def _shell(container: PackedContainer) -> Solid:
    """Return a floor and four walls around the inside of a container."""
    length, width, height = container.inner_um
    by = SHELL_UM
    return (
        Cuboid(-by, -by, -by, length + by, width + by, 0),
        Cuboid(-by, -by, 0, 0, width + by, height),
        Cuboid(length, -by, 0, length + by, width + by, height),
        Cuboid(0, -by, 0, length, 0, height),
        Cuboid(0, width, 0, length, width + by, height),
    )


def build_glb(lookup: Lookup, build: PlanBuild, step: Step | None = None) -> bytes:
    """Return a build as binary glTF: one group a sub-assembly, in it the pieces.

    Parameters
    ----------
    lookup
        The plan.
    build
        The build.
    step
        A step of it that parts or joins: what it is about is shown put together, and nothing
        else. The whole build unless told.
    """
    document = Document()
    shown = {*step.pieces, *step.stays} if step else lookup.pieces.keys()
    groups = []
    tones = build_tones(build)
    for number, (part, tone) in enumerate(zip(build.sub_assemblies, tones, strict=True), 1):
        look = Look(name=f"part {number}", colour=colour(tone))
        nodes = [
            document.thing(piece.name, piece.cuboids_um, look, {"id": piece.id})
            for piece in (lookup.pieces[name] for name in part)
            if piece.id in shown
        ]
        if nodes:
            groups.append(document.group(f"{build.name} {number}", nodes, {"part": number}))
    return document.finish(build.name, [document.group(build.name, groups, {"id": build.id})])
