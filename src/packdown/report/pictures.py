"""The drawings of a plan: containers layer by layer, and builds with their splits."""

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass

from packdown.geometry import Cuboid, bounds
from packdown.model import JointState, PackedContainer, PlanBuild
from packdown.report.above import layer_from_above
from packdown.report.creases import creases
from packdown.report.labels import Label, Region, place_labels
from packdown.report.lookup import Lookup
from packdown.report.projection import Camera, faces_away, faces_toward
from packdown.report.scene import Thing, corners, paint
from packdown.report.svg import WIDE, Sheet, figure, outline, path, segments, text
from packdown.report.tones import NUM_TONES, tones_for

__all__ = [
    "LayerPictures",
    "build_pictures",
    "build_tones",
    "container_picture",
    "container_tones",
    "layer_pictures",
    "marked_pictures",
]

LEAST_ROOM = 8
"""Drawing units that must be free around a number in a perspective."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LayerPictures:
    """One layer from above, and the container filled up to it."""

    layer: int
    above: str
    perspective: str


def container_tones(lookup: Lookup) -> dict[str, int]:
    """Return the tone of each build in drawings of containers; loose pieces have tone 0."""
    return {build.id: 1 + n % (NUM_TONES - 1) for n, build in enumerate(lookup.plan.builds)}


def container_picture(lookup: Lookup, container: PackedContainer) -> str:
    """Draw a container with all its contents, the walls towards the eye left out."""
    tones = container_tones(lookup)
    things = []
    for number, placement in enumerate(container.fill, 1):
        tone = tones.get(lookup.items[placement.item].build or "", 0)
        things.append(Thing(placement.cuboids_um, f"q{tone}", "e", number, tone))
    numbers = range(1, len(things) + 1)
    return _inside(container, things, numbers, f"{container.name} with all its contents")


def layer_pictures(container: PackedContainer) -> tuple[LayerPictures, ...]:
    """Draw every layer of a container from above, and the container filled up to it."""
    pictures = []
    for layer in sorted({placement.layer for placement in container.fill}):
        shown = [(n, p) for n, p in enumerate(container.fill, 1) if p.layer <= layer]
        things = [
            Thing(p.cuboids_um, *(("n", "nl") if p.layer == layer else ("o", "ol")), n)
            for n, p in shown
        ]
        new = [n for n, p in shown if p.layer == layer]
        title = f"{container.name} filled up to layer {layer}; what is new is strong and numbered"
        pictures.append(
            LayerPictures(
                layer=layer,
                above=layer_from_above(container, layer),
                perspective=_inside(container, things, new, title),
            )
        )
    return tuple(pictures)


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
    things = [
        Thing(p.cuboids_um, *(("q6", "nl") if n == number else ("o", "ol")), n)
        for n, p in enumerate(container.fill, 1)
        if n not in lifted and p.layer <= layer
    ]
    title = f"{container.name}, number {number} marked, without what is lifted out before it"
    return LayerPictures(
        layer=layer,
        above=layer_from_above(container, layer, {number}, lifted),
        perspective=_inside(container, things, [number], title),
    )


def _inside(
    container: PackedContainer, things: Sequence[Thing], numbers: Iterable[int], title: str
) -> str:
    box = Cuboid(0, 0, 0, *container.inner_um)
    camera = Camera.looking_at(box, elevation=44)
    sheet = Sheet.around(camera.project(list(corners(box))).tolist())
    body = [
        path(
            "w" + "sft"[face.side.axis],
            outline([sheet.at(p) for p in camera.project(face.corners)]),
        )
        for face in faces_away(box, camera.eye)
    ]
    drawn, regions = paint(things, camera, sheet)
    near = {face.side for face in faces_toward(box, camera.eye)}
    rim = [edge for edge in creases((box,))[0] if edge.sides & near]
    ends = [sheet.at(p) for p in camera.project([p for e in rim for p in (e.start, e.end)])]
    body += [drawn, path("rim", segments(zip(ends[::2], ends[1::2], strict=True)))]
    body.append(_numbers(regions, sheet, {n: str(n) for n in numbers}))
    body.append(_front(box, camera, sheet))
    return figure(title, sheet.height, "".join(body))


def _numbers(regions: Sequence[Region], sheet: Sheet, texts: dict[int, str]) -> str:
    labels = place_labels(regions, (WIDE, sheet.height), texts, LEAST_ROOM)
    return "".join(text(label, texts[owner], "b") for owner, label in sorted(labels.items()))


def _front(box: Cuboid, camera: Camera, sheet: Sheet) -> str:
    """Write where the front is, below the middle of its lower edge."""
    if camera.eye[1] > box.y0:
        return ""
    middle = ((box.x0 + box.x1) // 2, box.y0, box.z0)
    x, y = sheet.at(camera.project([middle])[0])
    return text(Label(x, y + 44, 2), "front", "cap")


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
    owner, tones = _owners(build), build_tones(build)
    things = [
        Thing(lookup.pieces[piece].cuboids_um, f"q{tones[own]}", "p", own + 1, tones[own])
        for piece, own in owner.items()
    ]
    box = bounds(cuboid for thing in things for cuboid in thing.cuboids)
    views = (("front left", -28.0), ("back right", 152.0))
    return tuple(
        _standing(things, box, azimuth, f"{build.name} from the {side}, splits drawn heavy")
        for side, azimuth in views
    )


def _owners(build: PlanBuild) -> dict[str, int]:
    return {piece: index for index, pieces in enumerate(build.sub_assemblies) for piece in pieces}


def _standing(things: Sequence[Thing], box: Cuboid, azimuth: float, title: str) -> str:
    camera = Camera.looking_at(box, azimuth=azimuth, elevation=38)
    ends = [corner for thing in things for c in thing.cuboids for corner in corners(c)]
    sheet = Sheet.around(camera.project(ends).tolist())
    drawn, regions = paint(things, camera, sheet, seams=True)
    texts = {thing.owner: str(thing.owner) for thing in things}
    body = drawn + _numbers(regions, sheet, texts) + _front(box, camera, sheet)
    return figure(title, sheet.height, body)
