"""A chapter for each build: the whole of it, its parts, and each step beside its pictures."""

from collections.abc import Sequence
from functools import partial

from packdown.model import JointState, Plan, PlanBuild, Step
from packdown.report import words
from packdown.report.bound_words import build_bound
from packdown.report.joint_marks import JOINT_WORDS, sign
from packdown.report.lookup import Lookup
from packdown.report.pictures import build_pictures, build_tones
from packdown.report.printing.cells import (
    SMALL,
    Cell,
    Find,
    PageNumber,
    Shown,
    Stack,
    Swatch,
    Tick,
    Words,
)
from packdown.report.printing.flow import Flow
from packdown.report.printing.picture import read_picture
from packdown.report.stages import stages
from packdown.report.step_groups import StepGroup, step_groups
from packdown.report.step_pictures import StepPicture, step_pictures
from packdown.report.tones import NUM_TONES
from packdown.report.weak_words import weak_sentences
from packdown.report.wish_words import wish_sentences

__all__ = ["add_build", "add_steps", "lists_of"]

PART = (8.0, 4.0, 0.6, 0.4, 10.0)
"""Shares of the columns: number, hatching, pieces, container, page."""
STEP = (4.0, 16.0, 1.0)
BESIDE = (4.0, 16.0, 0.42, 0.58)
"""The same with a picture."""
SIGN = (5.0, 1.0)
STEP_HIGH = 57.0
"""The most that a picture of a step is high, in millimetres: four steps a page."""
Drawn = tuple[StepGroup, Sequence[Shown]]
SIDES = ("From the front left", "From the back right")


def add_build(flow: Flow, lookup: Lookup, build: PlanBuild, find: Find) -> None:
    """Add the chapter of a build.

    Parameters
    ----------
    flow
        Where to.
    lookup
        The plan.
    build
        The build.
    find
        Tells the page of a container, once it is known.
    """
    flow.title(build.name)
    split = words.split_words(build)
    time = words.build_minutes(lookup.plan, build)
    parts = words.counted(len(build.sub_assemblies), "part")
    flow.say(f"{parts} to carry; {split} split; work: {time}, {build_bound(build)}")
    for owner, told in wish_sentences(lookup.plan):
        if owner == build.id:
            flow.say(told)
    for owner, what, told in weak_sentences(lookup.plan):
        if owner == build.id:
            flow.say(f"{what} {told}", bold=True)
    tail = "; heavy lines are where it comes apart" if len(build.sub_assemblies) > 1 else ""
    shown = [
        Shown(read_picture(drawn), side + tail, 95)
        for drawn, side in zip(build_pictures(lookup, build), SIDES, strict=True)
    ]
    flow.row(shown, [0.5, 0.5])
    _add_parts(flow, lookup, build, find)
    _add_signs(flow, build)
    for title, steps in lists_of(lookup.plan):
        add_steps(flow, title, _drawn(lookup, build, steps))


def lists_of(plan: Plan) -> tuple[tuple[str, tuple[Step, ...]], ...]:
    """Return both lists of steps with their titles."""
    return (("Take down", plan.steps.take_down), ("Rebuild", plan.steps.rebuild))


def _add_parts(flow: Flow, lookup: Lookup, build: PlanBuild, find: Find) -> None:
    flow.title("Parts to carry", 1, 10)
    tones = build_tones(build)
    for number, (pieces, tone) in enumerate(zip(build.sub_assemblies, tones, strict=True), 1):
        item = lookup.item_of_piece.get(pieces[0])
        place = lookup.places.get(item.id) if item else None
        count = words.counted(len(pieces), "piece")
        flow.row(
            [
                Words(str(number), bold=True),
                Swatch(tone % NUM_TONES),
                Stack([Words(words.piece_names(lookup, pieces)), Words(count, SMALL)]),
                Words(f"{place.container.name}, no. {place.number}" if place else "not packed"),
                PageNumber(partial(find, place.container.id if place else "")),
            ],
            PART,
            ruled=True,
        )


def _add_signs(flow: Flow, build: PlanBuild) -> None:
    """Say what the signs on the pictures of steps mean, for the joints that are split."""
    split = {joint.kind for joint in build.joints if joint.state is JointState.SPLIT}
    for kind, told in JOINT_WORDS.items():
        if kind in split:
            drawn = f'<svg viewBox="-50 -40 100 80">{sign(kind, (0, 0))}</svg>'
            flow.row([Shown(read_picture(drawn)), Words(told, SMALL)], SIGN)


def _drawn(lookup: Lookup, build: PlanBuild, steps: Sequence[Step]) -> list[Drawn]:
    """Return the steps of one list, each with its pictures if it parts or joins."""
    stage_by_step = {stage.step.n: stage for stage in stages(lookup, build, steps)}
    found: list[Drawn] = []
    for group in step_groups(lookup, [step for step in steps if step.build == build.id]):
        stage = stage_by_step.get(group.steps[0].n)
        pictures = step_pictures(lookup, build, stage) if stage else ()
        found.append((group, [_shown(picture) for picture in pictures]))
    return found


def _shown(picture: StepPicture) -> Shown:
    return Shown(read_picture(picture.drawing()), f"Seen {picture.view}", STEP_HIGH)


def add_steps(flow: Flow, title: str, steps: Sequence[Drawn]) -> None:
    """Add a list of steps; each stays on one page, and the title stays with the first."""
    rows = [_rows(group, pictures) for group, pictures in steps]
    heights = [sum(flow.height(*row) for row in own) + 2 * len(own) for own in rows]
    flow.title(title, 1, heights[0] if heights else 5)
    if not rows:
        flow.say("Nothing to do.")
    for own, height in zip(rows, heights, strict=True):
        flow.keep(height)
        for row in own:
            flow.row(*row, ruled=row is own[-1])


def _rows(group: StepGroup, pictures: Sequence[Shown]) -> list[tuple[list[Cell], Sequence[float]]]:
    """Return the rows of a step: one picture stands beside it, two stand below."""
    text: list[Cell] = [Words(group.text)]
    if group.notes:
        text.append(Words(" · ".join(group.notes), SMALL))
    head: list[Cell] = [Tick(), Words(group.number, bold=True), Stack(text)]
    if len(pictures) == 1:
        return [([*head, *pictures], BESIDE)]
    rows: list[tuple[list[Cell], Sequence[float]]] = [(head, STEP)]
    if pictures:
        rows.append(([*pictures], [0.5] * len(pictures)))
    return rows
