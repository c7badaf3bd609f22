"""Labels on sheets of labels: one for each container, from any label of the first sheet on."""

from collections.abc import Sequence
from dataclasses import dataclass

from packdown.model import LabelSheet, PackedContainer, Plan
from packdown.report.lookup import look_up
from packdown.report.printing.canvas import Box, Canvas, canvas
from packdown.report.printing.drawing import draw_frame
from packdown.report.printing.label import draw_label, make_label

__all__ = ["Printed", "print_labels"]

HAIRLINE = 0.1
"""Width of the edges of labels on a trial print, in millimetres."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Printed:
    """A document to print.

    Parameters
    ----------
    data
        The PDF.
    pages
        How many it has.
    missing
        Characters of names that no font has, in order; a sign stands for each.
    """

    data: bytes
    pages: int
    missing: tuple[str, ...]


def print_labels(
    plan: Plan,
    containers: Sequence[PackedContainer],
    sheet: LabelSheet,
    *,
    start: int = 1,
    shift_um: tuple[int, int] = (0, 0),
    copies: int = 1,
    edges: bool = False,
) -> Printed:
    """Print the labels of some containers of a plan.

    Parameters
    ----------
    plan
        The plan.
    containers
        Its containers that get a label.
    sheet
        Where the labels lie.
    start
        The first free label of the first sheet, counted from 1, row by row.
    shift_um
        How far to move everything to the right and down, to make up for a printer.
    copies
        Labels for each container.
    edges
        Whether to draw the edges of the labels, for a trial on plain paper.

    Raises
    ------
    ValueError
        If the sheet has no label `start`.
    """
    if not 1 <= start <= sheet.per_sheet:
        raise ValueError(f"label sheet {sheet.id} has no label {start}")
    lookup = look_up(plan)
    labels = [make_label(lookup, container) for container in containers for _ in range(copies)]
    width, height = (side / 1_000 for side in sheet.paper_um)
    with canvas((width, height), f"Labels: {plan.workspace}") as page:
        page_count = 0
        for number, label in enumerate(labels, start - 1):
            place = number % sheet.per_sheet
            if place == 0 or not page_count:
                page.new_page()
                page_count += 1
                if edges:
                    _draw_edges(page, sheet, shift_um)
            draw_label(page, label, _box(sheet, place, shift_um))
        return Printed(data=page.finish(), pages=page_count, missing=tuple(sorted(page.missing)))


def _box(sheet: LabelSheet, place: int, shift_um: tuple[int, int]) -> Box:
    left, top = sheet.corner(place)
    width, height = sheet.label_um
    return Box(
        (left + shift_um[0]) / 1_000, (top + shift_um[1]) / 1_000, width / 1_000, height / 1_000
    )


def _draw_edges(page: Canvas, sheet: LabelSheet, shift_um: tuple[int, int]) -> None:
    for place in range(sheet.per_sheet):
        draw_frame(page, _box(sheet, place, shift_um), HAIRLINE)
