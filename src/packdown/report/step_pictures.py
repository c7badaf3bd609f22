"""Pictures of steps that part or join: the moving part off its place, an arrow, the joints."""

from collections.abc import Mapping
from typing import NamedTuple

from packdown.geometry import Cuboid, Solid, Vector, bounds, meeting_face, translate
from packdown.model import Joint, PlanBuild, Step, StepKind
from packdown.report.inside import numbered
from packdown.report.joint_marks import arrow, joint_mark
from packdown.report.lookup import Lookup
from packdown.report.painting import Look, Painting
from packdown.report.projection import Camera
from packdown.report.scene import Thing, corners
from packdown.report.stages import Stage
from packdown.report.svg import Sheet, Spot, figure, front

__all__ = ["StepPicture", "step_pictures"]

SIDE_UM = 20_000
"""How deep a side counts as one, and how far above it an arrow is drawn."""
MOVING, STAYING = Look("n", "nl"), Look("o", "ol")


class StepPicture(NamedTuple):
    """One view of a step.

    Parameters
    ----------
    view
        Whence it is seen, in words.
    title
        What it shows.
    height
        Of the drawing, in its units.
    body
        The pieces and their numbers: the same for a step and for the one that undoes it.
    signs
        The arrow and the joints.
    """

    view: str
    title: str
    height: int
    body: str
    signs: str

    def drawing(self, body: str | None = None) -> str:
        """Return the drawing, its body perhaps by reference."""
        inner = self.body if body is None else body
        return figure(self.title, self.height, inner + self.signs)


def step_pictures(lookup: Lookup, build: PlanBuild, stage: Stage) -> tuple[StepPicture, ...]:
    """Draw a step from each of its views.

    Parameters
    ----------
    lookup
        The plan.
    build
        The build at work.
    stage
        The step: who moves, who stays, and whence it is seen.
    """
    number = {piece: n for n, part in enumerate(build.sub_assemblies, 1) for piece in part}
    joints = {joint.id: joint for joint in build.joints}
    own = [joints[name] for name in stage.step.joints if name in joints]
    return tuple(
        _seen_from(
            lookup,
            f"{build.name}, step {stage.step.n}, {seen.view.name}",
            stage,
            seen.view.name,
            seen.view.camera(stage.box),
            own,
            number,
        )
        for seen in stage.views
    )


def _seen_from(
    lookup: Lookup,
    title: str,
    stage: Stage,
    view: str,
    camera: Camera,
    joints: list[Joint],
    number: Mapping[str, int],
) -> StepPicture:
    solids = {**stage.staying, **stage.moving}
    things = [Thing(solid, number[piece]) for piece, solid in solids.items()]
    ends = [corner for thing in things for c in thing.cuboids for corner in corners(c)]
    sheet = Sheet.around(camera.project([*ends, *_way(stage)]).tolist())
    painting = Painting("", things, camera, sheet)
    looks = {n: MOVING if piece in stage.moving else STAYING for n, piece in enumerate(solids)}
    numbers = {number[piece] for piece in solids}
    words = numbered(painting, looks, {n: str(n) for n in numbers})
    pen = _Pen(lookup, stage, camera, sheet)
    return StepPicture(
        view=view,
        title=title,
        height=sheet.height,
        body=painting.flat(looks) + words + front(stage.box, camera, sheet),
        signs="".join(pen.joint(joint) for joint in joints) + pen.arrow(),
    )


class _Pen:
    """Draws signs over a stage seen by a camera."""

    def __init__(self, lookup: Lookup, stage: Stage, camera: Camera, sheet: Sheet) -> None:
        self.lookup, self.stage, self.camera, self.sheet = lookup, stage, camera, sheet

    def joint(self, joint: Joint) -> str:
        """Mark a joint where its faces meet, on both parts."""
        one, two = (self.lookup.pieces[piece].cuboids_um for piece in joint.pieces)
        place = _middle(meeting_face(one, two, joint.axis))
        here, there = self._spots([place, _moved(place, self.stage.offset_um)])
        return joint_mark(joint, here, there)

    def arrow(self) -> str:
        """Draw the way of the moving part from its place to where it is drawn, or back."""
        ends = self._spots(_way(self.stage))
        return arrow(*(reversed(ends) if _is_joining(self.stage.step) else ends))

    def _spots(self, points: list[Vector]) -> list[Spot]:
        return self.sheet.spots(self.camera.project(points))


def _way(stage: Stage) -> list[Vector]:
    """Return where the arrow of a stage lies: at the place of the moving part, and off it."""
    x, y, z = stage.offset_um
    drawn: Solid = tuple(c for solid in stage.moving.values() for c in solid)
    start = _trailing(translate(drawn, -x, -y, -z), stage.offset_um)
    return [start, _moved(start, stage.offset_um)]


def _is_joining(step: Step) -> bool:
    return step.kind is StepKind.JOIN


def _middle(box: Cuboid) -> Vector:
    return ((box.x0 + box.x1) // 2, (box.y0 + box.y1) // 2, (box.z0 + box.z1) // 2)


def _moved(point: Vector, by: Vector) -> Vector:
    return (point[0] + by[0], point[1] + by[1], point[2] + by[2])


def _trailing(solid: Solid, way: Vector) -> Vector:
    """Return the middle of the side of a solid that comes last when it moves.

    Where it moves along the table that is the top of the side, clear of the joints in it.
    """
    box = bounds(solid)
    middle = list(_middle(box))
    axis = max(range(3), key=lambda a: abs(way[a]))
    side = axis if way[axis] > 0 else axis + 3
    middle[axis] = box[side]
    if axis < 2:
        middle[2] = max(c.z1 for c in solid if abs(c[side] - box[side]) <= SIDE_UM) + SIDE_UM
    return (middle[0], middle[1], middle[2])
