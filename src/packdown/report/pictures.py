"""The drawings of a plan: containers layer by layer, and builds with their splits."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

from packdown.geometry import bounds
from packdown.model import JointState, PackedContainer, Piece, PlanBuild
from packdown.report.above import layer_from_above
from packdown.report.inside import Inside, numbered
from packdown.report.lookup import Lookup
from packdown.report.painting import Look, Painting
from packdown.report.projection import Camera
from packdown.report.scene import Thing, corners
from packdown.report.svg import Sheet, figure, front
from packdown.report.tones import NUM_TONES, tones_for

__all__ = [
    "OVERVIEWS",
    "LayerPictures",
    "build_pictures",
    "build_things",
    "build_tones",
    "container_picture",
    "container_tones",
    "inside_of",
    "layer_pictures",
    "layer_title",
    "layers_of",
    "marked_pictures",
    "standing_pictures",
]

OVERVIEWS = (("front left", -28.0), ("back right", 152.0))
"""Whence a whole build is drawn: words, and degrees from the front."""
NEW, OLD, MARKED = Look("n", "nl"), Look("o", "ol"), Look("q6", "nl")


@dataclass(frozen=True, slots=True, kw_only=True)
class LayerPictures:
    """One layer from above, and the container filled up to it."""

    layer: int
    above: str
    perspective: str


def container_tones(lookup: Lookup) -> dict[str, int]:
    """Return the tone of each build in drawings of containers; loose pieces have tone 0."""
    return {build.id: 1 + n % (NUM_TONES - 1) for n, build in enumerate(lookup.plan.builds)}


def inside_of(lookup: Lookup, container: PackedContainer, key: str = "") -> Inside:
    """Return what draws a container, its contents hatched by build."""
    tones = container_tones(lookup)
    return Inside(
        container,
        key,
        {
            number: tones.get(lookup.items[placement.item].build or "", 0)
            for number, placement in enumerate(container.fill, 1)
        },
    )


def container_picture(lookup: Lookup, container: PackedContainer) -> str:
    """Draw a container with all its contents, the walls towards the eye left out."""
    inside = inside_of(lookup, container)
    numbers = range(1, len(container.fill) + 1)
    looks = {n: Look(f"q{inside.tones[n]}", "e", is_hatched=True) for n in numbers}
    return inside.flat(looks, numbers, f"{container.name} with all its contents")


def layer_pictures(container: PackedContainer) -> tuple[LayerPictures, ...]:
    """Draw every layer of a container from above, and the container filled up to it."""
    inside = Inside(container)
    pictures = []
    for layer in layers_of(container):
        looks = {
            n: NEW if p.layer == layer else OLD
            for n, p in enumerate(container.fill, 1)
            if p.layer <= layer
        }
        new = [n for n, look in looks.items() if look is NEW]
        pictures.append(
            LayerPictures(
                layer=layer,
                above=layer_from_above(container, layer),
                perspective=inside.flat(looks, new, layer_title(container, layer)),
            )
        )
    return tuple(pictures)


def layers_of(container: PackedContainer) -> list[int]:
    """Return the layers of a container, the lowest first."""
    return sorted({placement.layer for placement in container.fill})


def layer_title(container: PackedContainer, layer: int) -> str:
    """Say what a picture of a container that is filled up to a layer shows."""
    return f"{container.name} filled up to layer {layer}; what is new is strong and numbered"


def marked_pictures(
    container: PackedContainer, number: int, lifted: Collection[int] = ()
) -> LayerPictures:
    """Draw a container with one item marked, as far as it is filled once that can be taken.

    Parameters
    ----------
    container
        The container with its fill.
    number
        Number of the item in loading order.
    lifted
        Numbers of items that are left out: they were taken out, or have to be first.
    """
    layer = container.fill[number - 1].layer
    looks = {
        n: MARKED if n == number else OLD
        for n, p in enumerate(container.fill, 1)
        if n not in lifted and p.layer <= layer
    }
    title = f"{container.name}, number {number} marked, without what is lifted out before it"
    return LayerPictures(
        layer=layer,
        above=layer_from_above(container, layer, {number}, lifted),
        perspective=Inside(container).flat(looks, [number], title),
    )


def build_tones(build: PlanBuild) -> tuple[int, ...]:
    """Return the tone of each sub-assembly; those that are split from each other differ."""
    owner = _owners(build)
    near: list[set[int]] = [set() for _ in build.sub_assemblies]
    for joint in build.joints:
        a, b = (owner[piece] for piece in joint.pieces)
        if joint.state is JointState.SPLIT and a != b:
            near[a].add(b)
            near[b].add(a)
    return tones_for(near)


def build_pictures(lookup: Lookup, build: PlanBuild) -> tuple[str, ...]:
    """Draw a build from its front left and from its back right, with its splits as seams."""
    things = build_things(lookup, build)
    texts = {thing.owner: str(thing.owner) for thing in things}
    return _both_sides(things, texts, build.name, "splits drawn heavy", seams=True)


def standing_pictures(
    pieces: Sequence[Piece], letters: Mapping[str, str], name: str
) -> tuple[str, ...]:
    """Draw a build from both sides, a tone and a letter for each part.

    Parameters
    ----------
    pieces
        Its pieces; they may overlap.
    letters
        The letter of each part.
    name
        What to call it.
    """
    tones = {part: 1 + n % (NUM_TONES - 1) for n, part in enumerate(letters)}
    things = [Thing(p.cuboids_um, number, tones[p.part]) for number, p in enumerate(pieces, 1)]
    texts = {number: letters[piece.part] for number, piece in enumerate(pieces, 1)}
    return _both_sides(things, texts, name, "a letter for each part", seams=False)


def build_things(lookup: Lookup, build: PlanBuild) -> list[Thing]:
    """Return the pieces of a build, numbered and hatched by sub-assembly."""
    tones = build_tones(build)
    return [
        Thing(lookup.pieces[piece].cuboids_um, own + 1, tones[own])
        for piece, own in _owners(build).items()
    ]


def _owners(build: PlanBuild) -> dict[str, int]:
    return {piece: index for index, pieces in enumerate(build.sub_assemblies) for piece in pieces}


def _both_sides(
    things: Sequence[Thing], texts: dict[int, str], name: str, words: str, *, seams: bool
) -> tuple[str, ...]:
    """Draw what stands on a table from its front left and from its back right."""
    box = bounds(cuboid for thing in things for cuboid in thing.cuboids)
    ends = [corner for thing in things for c in thing.cuboids for corner in corners(c)]
    looks = {n: Look(f"q{thing.tone}", "p", is_hatched=True) for n, thing in enumerate(things)}
    drawings = []
    for side, azimuth in OVERVIEWS:
        camera = Camera.looking_at(box, azimuth=azimuth, elevation=38)
        sheet = Sheet.around(camera.project(ends).tolist())
        painting = Painting("", things, camera, sheet, seams=seams)
        body = painting.flat(looks) + numbered(painting, looks, texts) + front(box, camera, sheet)
        drawings.append(figure(f"{name} from the {side}, {words}", sheet.height, body))
    return tuple(drawings)
