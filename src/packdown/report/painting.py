"""A scene drawn once, from which pictures are put together that show some of its things.

In a page with many pictures of one scene each thing is a symbol, and a picture is a list of
references to symbols in painting order. A file of its own holds the same drawing written out.
"""

from collections.abc import Iterable, Mapping, Sequence
from itertools import groupby
from typing import NamedTuple

from packdown.report.labels import Region
from packdown.report.projection import Camera
from packdown.report.scene import Part, Thing, parts_of
from packdown.report.svg import Sheet, outline, path, segments
from packdown.report.tones import hatching

__all__ = ["SHADES", "Look", "Painting"]

SHADES = ("s", "f", "t")
"""Suffix of a fill by the axis a face looks along: side, front or top."""


class Look(NamedTuple):
    """How a thing is drawn: classes of its faces (a suffix for the side is added) and edges."""

    fill: str
    line: str
    is_hatched: bool = False


class _Run(NamedTuple):
    """Parts of one thing that follow each other in painting order."""

    thing: int
    parts: tuple[Part, ...]


class Painting:
    """Things seen from one eye, in painting order.

    Parameters
    ----------
    key
        Begins the ids of its symbols; no other painting of a page may have the same.
    things
        What can be shown.
    camera, sheet
        Whence it is seen, and where it falls on the drawing.
    seams
        Whether edges at which different owners touch are drawn heavy.
    """

    def __init__(
        self,
        key: str,
        things: Sequence[Thing],
        camera: Camera,
        sheet: Sheet,
        *,
        seams: bool = False,
    ) -> None:
        self.key, self.things, self.camera, self.sheet = key, things, camera, sheet
        parts = parts_of(things, camera, sheet, seams=seams)
        self.runs = [
            _Run(thing, tuple(own)) for thing, own in groupby(parts, key=lambda part: part.thing)
        ]
        self._used: set[int] = set()

    def flat(self, looks: Mapping[int, Look]) -> str:
        """Return the things of some indices written out."""
        return "".join(
            self._written(part, looks[run.thing])
            for run in self.runs
            if run.thing in looks
            for part in run.parts
        )

    def _written(self, part: Part, look: Look) -> str:
        tone = self.things[part.thing].tone
        faces = []
        for patch in part.patches:
            faces.append(path(look.fill + SHADES[patch.axis], outline(patch.outline)))
            if look.is_hatched:
                faces.append(hatching(tone, patch.outline))
        lines = path(look.line, segments(part.edges)) + path("seam", segments(part.seams))
        return "".join(faces) + lines

    def shared(self, roles: Mapping[int, str]) -> str:
        """Return references to the things of some indices, in groups of one class."""
        shown = [(n, run) for n, run in enumerate(self.runs) if run.thing in roles]
        self._used.update(n for n, _ in shown)
        return "".join(
            f'<g class="{role}">'
            + "".join(f'<use href="#{self.key}{n}"/>' for n, _ in own)
            + "</g>"
            for role, own in groupby(shown, key=lambda entry: roles[entry[1].thing])
        )

    def symbols(self) -> str:
        """Return all that was referred to, once each."""
        return "".join(
            f'<g id="{self.key}{n}">' + "".join(map(self._symbol, self.runs[n].parts)) + "</g>"
            for n in sorted(self._used)
        )

    def _symbol(self, part: Part) -> str:
        return self._written(part, Look("", "l", is_hatched=True))

    def regions(self, shown: Iterable[int]) -> list[Region]:
        """Return the patches of some things in painting order, for the placing of numbers."""
        chosen = set(shown)
        return [
            Region(self.things[run.thing].owner, patch.axis, patch.outline)
            for run in self.runs
            if run.thing in chosen
            for part in run.parts
            for patch in part.patches
        ]
