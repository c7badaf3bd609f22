"""Containers in perspective, the walls towards the eye left out."""

from collections.abc import Iterable, Mapping
from functools import cached_property

from packdown.geometry import Cuboid
from packdown.model import PackedContainer
from packdown.report.creases import creases
from packdown.report.labels import place_labels
from packdown.report.painting import Look, Painting
from packdown.report.projection import Camera, faces_away, faces_toward
from packdown.report.scene import Thing, corners
from packdown.report.svg import WIDE, Sheet, figure, front, outline, path, segments, text

__all__ = ["Inside", "numbered"]

LEAST_ROOM = 8
"""Drawing units that must be free around a number in a perspective."""
ELEVATION = 44


class Inside:
    """Pictures of one container and of what lies in it.

    Parameters
    ----------
    container
        The container with its fill.
    key
        Begins the ids of symbols.
    tones
        Hatching by number in loading order; none for those that are left out.
    """

    def __init__(
        self, container: PackedContainer, key: str = "", tones: Mapping[int, int] | None = None
    ) -> None:
        self.container, self.key, self.tones = container, key, tones or {}
        self.box = Cuboid(0, 0, 0, *container.inner_um)
        self.camera = Camera.looking_at(self.box, elevation=ELEVATION)
        self.sheet = Sheet.around(self.camera.project(list(corners(self.box))).tolist())
        self._shell_used = False

    @cached_property
    def painting(self) -> Painting:
        """What lies in the container, in painting order."""
        things = [
            Thing(placement.cuboids_um, number, self.tones.get(number, 0))
            for number, placement in enumerate(self.container.fill, 1)
        ]
        return Painting(f"{self.key}-", things, self.camera, self.sheet)

    def flat(self, looks: Mapping[int, Look], numbers: Iterable[int], title: str) -> str:
        """Draw some items, by number in loading order, as a drawing of its own."""
        shown = {number - 1: look for number, look in looks.items()}
        body = self._back() + self.painting.flat(shown) + self._rim()
        return self._finished(body, shown, numbers, title)

    def shared(self, roles: Mapping[int, str], numbers: Iterable[int], title: str) -> str:
        """Draw some items in the looks that some classes give, as references to symbols."""
        self._shell_used = True
        shown = {number - 1: role for number, role in roles.items()}
        back, rim = (f'<use href="#{self.key}{part}"/>' for part in "br")
        return self._finished(back + self.painting.shared(shown) + rim, shown, numbers, title)

    def symbols(self) -> str:
        """Return the symbols that shared drawings refer to."""
        if not self._shell_used:
            return ""
        shell = ((self.key + "b", self._back()), (self.key + "r", self._rim()))
        return (
            "".join(f'<g id="{name}">{body}</g>' for name, body in shell) + self.painting.symbols()
        )

    def _finished(self, body: str, shown: Iterable[int], numbers: Iterable[int], title: str) -> str:
        words = numbered(self.painting, shown, {n: str(n) for n in numbers})
        front_words = front(self.box, self.camera, self.sheet)
        return figure(title, self.sheet.height, body + words + front_words)

    def _back(self) -> str:
        return "".join(
            path(
                "w" + "sft"[face.side.axis],
                outline(self.sheet.spots(self.camera.project(face.corners))),
            )
            for face in faces_away(self.box, self.camera.eye)
        )

    def _rim(self) -> str:
        near = {face.side for face in faces_toward(self.box, self.camera.eye)}
        rim = [edge for edge in creases((self.box,))[0] if edge.sides & near]
        ends = self.sheet.spots(self.camera.project([p for e in rim for p in (e.start, e.end)]))
        return path("rim", segments(zip(ends[::2], ends[1::2], strict=True)))


def numbered(painting: Painting, shown: Iterable[int], texts: Mapping[int, str]) -> str:
    """Write texts, by owner, on what is seen of some things of a painting."""
    size = (WIDE, painting.sheet.height)
    labels = place_labels(painting.regions(shown), size, dict(texts), LEAST_ROOM)
    return "".join(text(label, texts[owner], "b") for owner, label in sorted(labels.items()))
