"""Packing lists: for each container one page with all that is in it."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from packdown.model import PackedContainer, Plan, short_id
from packdown.report import words
from packdown.report.cautions import cautions
from packdown.report.lookup import Lookup, look_up
from packdown.report.printing.canvas import Box, Canvas, canvas
from packdown.report.printing.contents import grouped_contents
from packdown.report.printing.drawing import (
    CODE_MODULES,
    GAP,
    draw_code,
    draw_frame,
    draw_mark,
    draw_marks,
    marks_height,
)
from packdown.report.printing.fitting import fit, line_height, sizes
from packdown.report.printing.marks import Mark, MarkKind, handling_marks
from packdown.report.printing.sheets import Printed
from packdown.report.printing.table import draw_table
from packdown.units import format_length, format_size, format_weight

__all__ = ["print_lists"]

MARGIN = 15.0
"""Empty edge of the paper, in millimetres."""
MODULE = 0.75
"""Side of a module of the code, in millimetres."""
MARK = 13.0
"""Side of a handling mark, in millimetres."""
CENTRE = 3.8
"""Side of the mark for the centre of gravity, as high as a line of text."""
BODY = sizes(9, 6)
SMALL = sizes(7, 5)
FOOTNOTE = f"Handling marks are drawn after ISO 780. {words.PROPOSAL}"


def print_lists(
    plan: Plan, containers: Sequence[PackedContainer], paper_um: tuple[int, int]
) -> Printed:
    """Print the packing lists of some containers of a plan, each on one page.

    Parameters
    ----------
    plan
        The plan.
    containers
        Its containers that get a list.
    paper_um
        Width and height of the paper.
    """
    lookup = look_up(plan)
    width, height = (side / 1_000 for side in paper_um)
    with canvas((width, height), f"Packing lists: {plan.workspace}") as page:
        for container in containers:
            page.new_page()
            inner = Box(MARGIN, MARGIN, width - 2 * MARGIN, height - 2 * MARGIN)
            _draw_page(page, lookup, container, inner)
        data = page.finish()
        return Printed(data=data, pages=len(containers), missing=tuple(sorted(page.missing)))


def _draw_page(page: Canvas, lookup: Lookup, container: PackedContainer, box: Box) -> None:
    rest = _draw_foot(page, lookup.plan, box)
    rest = _draw_head(page, lookup, container, rest)
    rest = _draw_facts(page, lookup, container, rest)
    rest = _draw_cautions(page, lookup, container, rest)
    draw_table(page, grouped_contents(lookup, container), rest)


def _draw_foot(page: Canvas, plan: Plan, box: Box) -> Box:
    """Write which plan this is at the foot of a page; return what is left above."""
    stamp = f"Plan {words.plan_hash(plan)}, made with Packdown {plan.created_with}. {FOOTNOTE}"
    height = 3 * line_height(SMALL[0])
    page.put(box.foot(height), stamp, SMALL, 3)
    return box.above(height + GAP)


def _draw_head(page: Canvas, lookup: Lookup, container: PackedContainer, box: Box) -> Box:
    """Draw code and name at the top of a page; return what is left below."""
    side = CODE_MODULES * MODULE
    code = Box(box.x + box.width - side, box.y - 4 * MODULE, side, side)
    draw_code(page, (code.x, code.y), MODULE, short_id(container.id))
    told = fit(short_id(container.id), page.measure(bold=True), (side, 6), (11,), 1)
    page.write(code.below(side)._replace(height=6), told, bold=True, align="middle")
    room = box._replace(width=box.width - side - GAP, height=side)
    kind = page.put(room, f"Packing list: {lookup.plan.workspace}", BODY, 1)
    name = room.below(kind.height)._replace(height=13)
    title = page.put(name, container.name, sizes(24, 10), 2, bold=True)
    page.put(room.below(kind.height + title.height), _size_words(lookup, container), BODY, 2)
    return box.below(code.y - box.y + side + told.height + GAP)


def _size_words(lookup: Lookup, container: PackedContainer) -> str:
    told = [f"Inside {format_size(container.inner_um)}", words.lining(container.lining)]
    if container.sheet_um:
        told.append(f"sheets of {format_length(container.sheet_um)} on what carries")
    below = lookup.containers.get(container.stacked_on or "")
    if below:
        told.append(f"stands on {below.name}")
    return ", ".join(told)


def _draw_facts(page: Canvas, lookup: Lookup, container: PackedContainer, box: Box) -> Box:
    """Draw the marks, and beside them weights and layers; return what is left below."""
    marks = handling_marks(lookup, container)
    draw_marks(page, (box.x, box.y), MARK, marks)
    left = len(marks) * (MARK + GAP) + 2 * GAP
    beside = Box(box.x + left, box.y, box.width - left, 30)
    gross = f"{format_weight(lookup.gross_g(container))} gross"
    told = page.put(beside, gross, sizes(18, 8), 1, bold=True)
    for sentence in _facts(lookup, container):
        beside = beside.below(told.height)
        told = page.put(beside, sentence, BODY, 3)
    beside = beside.below(told.height)
    draw_mark(page, (beside.x, beside.y), CENTRE, Mark(kind=MarkKind.CENTRE))
    right = CENTRE + GAP
    room = beside._replace(x=beside.x + right, width=beside.width - right)
    told = page.put(room, _centre_words(lookup, container), BODY, 2)
    used = max(marks_height(MARK), beside.y + told.height - box.y)
    return box.below(used + 2 * GAP)


def _facts(lookup: Lookup, container: PackedContainer) -> tuple[str, ...]:
    """Say how the weight comes together, and how many items are in which layer."""
    contents = format_weight(lookup.gross_g(container) - container.tare_g)
    layers = Counter(placement.layer for placement in container.fill)
    by_layer = ", ".join(str(layers[layer]) for layer in sorted(layers))
    items = words.counted(len(container.fill), "item")
    many = f"{words.counted(len(layers), 'layer')}, from the floor up {by_layer}"
    return (
        f"Contents {contents}, container {format_weight(container.tare_g)}.",
        f"{items} in {many if len(layers) > 1 else '1 layer'}.",
    )


def _centre_words(lookup: Lookup, container: PackedContainer) -> str:
    x, y, z = (f"{round(at / 1_000)} mm" for at in lookup.centre_um(container))
    return f"Centre of gravity of the contents: {x} from the left, {y} from the front, {z} up."


def _draw_cautions(page: Canvas, lookup: Lookup, container: PackedContainer, box: Box) -> Box:
    """Write the cautions in full, framed; return what is left below."""
    unnamed = replace(container, name="this container")  # a long name could crowd out the advice
    for caution in cautions(lookup, [unnamed]):
        inner = Box(box.x + 2, box.y + 1, box.width - 4, 30)
        title = page.put(inner, caution.title, BODY, 1, bold=True)
        text = page.put(inner.below(title.height), caution.text, sizes(8, 6))
        height = title.height + text.height + 2
        draw_frame(page, box._replace(height=height), 0.4)
        box = box.below(height + 1.5 * GAP)
    return box
