"""Drawings on a page: the same lines and areas as in the pack book's page, as vectors."""

import re
from collections.abc import Iterator
from typing import NamedTuple
from xml.etree import ElementTree as ET

from packdown.report.printing.canvas import Box, Canvas, Letters
from packdown.report.printing.fitting import MM_BY_POINT
from packdown.report.printing.look import Colour, Pen, pen_for

__all__ = ["Picture", "draw_picture", "read_picture"]

_TOKEN = re.compile(r"[A-Za-z]|-?\d+(?:\.\d+)?")


class Picture(NamedTuple):
    """A drawing.

    Parameters
    ----------
    width, height
        Its size in its own units.
    title
        What it shows, in words.
    parts
        Paths and texts in order.
    corner
        What of its plane falls on its upper left corner.
    """

    width: float
    height: float
    title: str
    parts: tuple[ET.Element, ...]
    corner: tuple[float, float] = (0.0, 0.0)


def read_picture(drawing: str) -> Picture:
    """Take a drawing apart that was made to be a file of its own: paths and texts of classes.

    Raises
    ------
    ValueError
        If something else is in it, such as a reference to a symbol elsewhere.
    """
    root = ET.fromstring(drawing)  # noqa: S314 - drawn by us; names in it are escaped
    left, top, width, height = map(float, root.attrib["viewBox"].split())
    parts = tuple(element for element in root if element.tag != "title")
    strange = {element.tag for element in parts} - {"path", "text"}
    if strange:
        raise ValueError(f"a drawing has paths and texts, not {', '.join(sorted(strange))}")
    return Picture(width, height, root.findtext("title") or "", parts, (left, top))


def draw_picture(canvas: Canvas, box: Box, picture: Picture) -> None:
    """Draw a picture into a box of its own proportions, from the upper left corner."""
    scale = box.width / picture.width
    box = box._replace(x=box.x - picture.corner[0] * scale, y=box.y - picture.corner[1] * scale)
    paths = [part for part in picture.parts if part.tag == "path"]
    canvas.paint(box, scale, " ".join(_painted(paths)))
    for part in picture.parts:
        if part.tag == "text":
            _write(canvas, box, scale, part)


def _write(canvas: Canvas, box: Box, scale: float, part: ET.Element) -> None:
    """Write a text around its place."""
    pen = pen_for("text", part.attrib.get("class", ""))
    at = (box.x + float(part.attrib["x"]) * scale, box.y + float(part.attrib["y"]) * scale)
    points = pen.size * scale / MM_BY_POINT
    halo = pen.width * scale if pen.stroke and pen.is_under else 0.0
    look = Letters(points, pen.is_bold, pen.is_middle, halo)
    canvas.letter(at, part.text or "", look)


def _painted(paths: list[ET.Element]) -> Iterator[str]:
    """Yield the operators of paths, in order (ISO 32000-1:2008, 8.4.4, 8.5.2 and 8.5.3)."""
    last: Pen | None = None
    yield "1 j"
    for part in paths:
        pen = pen_for("path", part.attrib.get("class", ""))
        if pen != last:
            yield from _set(pen)
            last = pen
        lines = " ".join(_lines(part.attrib["d"]))
        if pen.is_under and pen.stroke and pen.fill:
            yield f"{lines} S {lines} f"
        elif pen.fill or pen.stroke:
            how = "S" if not pen.fill else "B" if pen.stroke else "f"
            yield f"{lines} {how}"


def _set(pen: Pen) -> Iterator[str]:
    if pen.fill:
        yield f"{_said(pen.fill)} rg"
    if pen.stroke:
        dash = " ".join(f"{length:g}" for length in pen.dash)
        yield f"{_said(pen.stroke)} RG {pen.width:g} w {int(pen.has_round_ends)} J [{dash}] 0 d"


def _said(colour: Colour) -> str:
    return " ".join(f"{share:.3f}" for share in colour)


def _lines(data: str) -> Iterator[str]:
    """Yield the operators of path data: places and steps in straight lines."""
    tokens = _TOKEN.findall(data)
    x = y = start_x = start_y = 0.0
    at, command = 0, ""
    while at < len(tokens):
        if tokens[at].isalpha():
            command = tokens[at]
            at += 1
        if command in "zZ":
            x, y = start_x, start_y
            yield "h"
            continue
        used = 1 if command in "hHvV" else 2
        values = [float(token) for token in tokens[at : at + used]]
        at += used
        x, y = _moved(command, (x, y), values)
        if command in "mM":
            start_x, start_y = x, y
        yield f"{x:g} {y:g} {'m' if command in 'mM' else 'l'}"
        command = {"m": "l", "M": "L"}.get(command, command)


def _moved(command: str, at: tuple[float, float], values: list[float]) -> tuple[float, float]:
    """Return where a command of path data leads (SVG 1.1, 8.3)."""
    x, y = at
    if command in "hH":
        return values[0] + (x if command == "h" else 0), y
    if command in "vV":
        return x, values[0] + (y if command == "v" else 0)
    if command in "lm":
        return x + values[0], y + values[1]
    if command in "LM":
        return values[0], values[1]
    raise ValueError(f"path data with {command}: only straight lines are drawn")
