"""Drawings as files of their own, with the styles they need."""

import re
from collections.abc import Sequence

from packdown.report.svg import WIDE
from packdown.report.tones import stylesheet

__all__ = ["svg_file"]

_OPENING = re.compile(r'<svg role="img" viewBox="0 0 \d+ (?P<height>\d+)">')


def svg_file(drawings: Sequence[str]) -> str:
    """Return drawings below each other as one SVG file."""
    heights = [int(_OPENING.findall(drawing)[0]) for drawing in drawings]
    body = []
    for index, (drawing, height) in enumerate(zip(drawings, heights, strict=True)):
        place = f'y="{sum(heights[:index])}" width="{WIDE}" height="{height}" '
        body.append(drawing.replace("<svg ", f"<svg {place}", 1))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDE} {sum(heights)}">'
        f"<style>{stylesheet()}</style>{''.join(body)}</svg>\n"
    )
