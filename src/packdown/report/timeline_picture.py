"""A timeline as a drawing: a row for each helper, a bar for each stint, minutes along the top."""

from collections.abc import Sequence

from packdown.model import Plan, Step, Timeline
from packdown.report.labels import FONTS, Label
from packdown.report.step_words import runs
from packdown.report.svg import WIDE, figure, outline, path, segments, text
from packdown.report.timeline import Stint, clock, stints
from packdown.report.tones import NUM_TONES, hatching, stylesheet

__all__ = ["timeline_drawing", "timeline_picture"]

LEFT, TOP, RIGHT = 110, 90, 24
ROW, BAR = 150, 110
KEY_ROW = 80
DIGIT = 0.6
"""Width of a letter in font sizes."""
TICKS_S = (15, 30, 60, 120, 300, 600, 900, 1_800, 3_600, 7_200)
FEWEST_TICKS = 9


def timeline_picture(plan: Plan, run: Sequence[Step], timeline: Timeline, title: str) -> str:
    """Return a timeline as SVG for a page that has the classes of drawings.

    Parameters
    ----------
    plan
        The plan.
    run
        Its steps of one direction.
    timeline
        When which of them is done; at least one.
    title
        What screen readers say of it.
    """
    found = stints(plan, run, timeline)
    names = sorted({(stint.letter, stint.name) for stint in found})
    tones = {letter: number % NUM_TONES for number, (letter, _) in enumerate(names)}
    bottom = TOP + ROW * timeline.helpers
    body = [_axis(timeline, bottom)]
    for helper in range(1, timeline.helpers + 1):
        middle = TOP + ROW * (helper - 1) + ROW // 2
        body.append(text(Label(LEFT // 2, middle, 0), str(helper)))
    body += [_bar(stint, timeline.length_s, tones[stint.letter]) for stint in found]
    body += [
        _key(letter, name, tones[letter], bottom + 40 + KEY_ROW * number)
        for number, (letter, name) in enumerate(names)
    ]
    return figure(title, bottom + 40 + KEY_ROW * len(names) + 10, "".join(body))


def timeline_drawing(plan: Plan, run: Sequence[Step], timeline: Timeline, title: str) -> str:
    """Return a timeline as a whole SVG file."""
    drawn = timeline_picture(plan, run, timeline, title)
    opening = '<svg xmlns="http://www.w3.org/2000/svg" '
    head, _, rest = drawn.removeprefix("<svg ").partition(">")
    return f"{opening}{head}><style>{stylesheet()}</style>{rest}\n"


def _at(seconds: float, length_s: int) -> int:
    return LEFT + round(seconds * (WIDE - LEFT - RIGHT) / length_s)


def _axis(timeline: Timeline, bottom: int) -> str:
    length = timeline.length_s
    step = next((tick for tick in TICKS_S if length < FEWEST_TICKS * tick), TICKS_S[-1])
    marks = range(0, length + 1, step)
    lines = [((_at(mark, length), TOP - 20), (_at(mark, length), bottom)) for mark in marks]
    words = [
        text(Label(max(_at(mark, length), LEFT), TOP - 50, 2), clock(mark), "cap")
        for mark in marks
        if _at(mark, length) < WIDE - 40
    ]
    return path("ol", segments(lines)) + "".join(words)


def _box(left: int, top: int, right: int, bottom: int, tone: int) -> str:
    corners = ((left, top), (right, top), (right, bottom), (left, bottom))
    line = outline(corners)
    return path(f"q{tone}t", line) + hatching(tone, corners) + path("p", line)


def _bar(stint: Stint, length_s: int, tone: int) -> str:
    left, right = _at(stint.start_s, length_s), _at(stint.end_s, length_s)
    top = TOP + ROW * (stint.helper - 1) + (ROW - BAR) // 2
    drawn = _box(left, top, max(right, left + 2), top + BAR, tone)
    middle = (left + right) // 2
    steps = runs(stint.steps)
    if right - left > FONTS[1] * DIGIT + 8:
        high = top + BAR // 2
        if right - left > len(steps) * FONTS[2] * DIGIT + 16:
            drawn += text(Label(middle, top + BAR - 28, 2), steps)
            high = top + 34
        drawn += text(Label(middle, high, 1), stint.letter)
    return drawn


def _key(letter: str, name: str, tone: int, top: int) -> str:
    box = _box(LEFT, top, LEFT + 90, top + 60, tone) + text(Label(LEFT + 45, top + 30, 1), letter)
    return box + text(Label(LEFT + 120, top + 30, 2), name, "on")
