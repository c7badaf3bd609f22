"""The first chapter: what goes where, what is split, how good it is, what can hurt."""

from functools import partial

from packdown.model import PackedContainer, PlanBuild
from packdown.report import words
from packdown.report.bound_words import BOUNDS_NEED_ALL, bounds_sentences, build_bound
from packdown.report.cautions import cautions, short_cautions
from packdown.report.lookup import Lookup
from packdown.report.printing.cells import (
    SMALL,
    Bar,
    Find,
    PageNumber,
    Stack,
    Words,
)
from packdown.report.printing.flow import Flow
from packdown.report.weak_words import weak_sentences
from packdown.units import format_weight

__all__ = ["add_cautions", "add_summary"]

BOXES = (0.3, 0.7, 22.0, 10.0, 18.0, 10.0)
"""Shares of the columns: container, contents, how full as a bar and in per cent, weight, page."""
SPLITS = (0.3, 0.7, 18.0, 26.0, 10.0)
BOUNDS = (0.3, 0.3, 0.4)
ESTIMATES = (
    "Times are estimates: the range runs from practised to unhurried hands. The plan is as good "
    "as the measures it was given; try a tight fit with a hand below the piece before you let go."
)


def add_summary(flow: Flow, lookup: Lookup, find: Find) -> None:
    """Add what everybody reads first.

    Parameters
    ----------
    flow
        Where to.
    lookup
        The plan.
    find
        Tells the page of a container or a build, once it is known.
    """
    plan = lookup.plan
    flow.title("Summary")
    flow.say(words.headline(lookup), 11)
    left = words.left_out(lookup)
    if left:
        flow.title("Not packed", 1)
        for what, reason in left:
            flow.row([Words(what, bold=True), Words(reason)], [0.4, 0.6], ruled=True)
    flow.title("What goes where", 1, 12)
    _head(flow, ("Container", "Holds", "Full", "", "Gross", "Page"), BOXES)
    for container in lookup.used:
        _add_box(flow, lookup, container, find)
    spare = [container.name for container in plan.containers if not container.fill]
    if spare:
        flow.say(f"Not needed: {', '.join(spare)}.")
    if plan.builds:
        flow.title("What to split", 1, 12)
        _head(flow, ("Build", "Joints", "To carry", "Time", "Page"), SPLITS)
        for build in plan.builds:
            _add_split(flow, lookup, build, find)
    flow.title("How good it is", 1, 12)
    if plan.not_packed:
        flow.say(BOUNDS_NEED_ALL)
    for what, shown, bound in bounds_sentences(plan):
        flow.row([Words(what), Words(shown, bold=True), Words(bound)], BOUNDS, ruled=True)


def _head(flow: Flow, names: tuple[str, ...], shares: tuple[float, ...]) -> None:
    right = {"Gross", "Page", "To carry"}
    flow.row(
        [Words(name, SMALL, align="right" if name in right else "left") for name in names],
        shares,
        ruled=True,
    )


def _add_box(flow: Flow, lookup: Lookup, container: PackedContainer, find: Find) -> None:
    share = lookup.fill_share(container)
    warnings = [Words(told, SMALL, bold=True) for told in short_cautions(lookup, container)]
    flow.row(
        [
            Words(container.name, bold=True),
            Stack([Words(words.holdings(lookup, container)), *warnings]),
            Bar(share),
            Words(f"{round(100 * share)} %", align="right"),
            Words(format_weight(lookup.gross_g(container)), align="right"),
            PageNumber(partial(find, container.id)),
        ],
        BOXES,
        ruled=True,
    )


def _add_split(flow: Flow, lookup: Lookup, build: PlanBuild, find: Find) -> None:
    parts = len(build.sub_assemblies)
    told = "stays whole" if parts == 1 else f"split {words.split_words(build)}"
    keys = words.keys_freed(build)
    freed = f"; {words.counted(keys, 'key')} come free" if keys else ""
    weak = [
        Words(f"{what} {sentence}", SMALL, bold=True)
        for owner, what, sentence in weak_sentences(lookup.plan)
        if owner == build.id
    ]
    flow.row(
        [
            Words(build.name, bold=True),
            Stack([Words(told + freed), Words(build_bound(build), SMALL), *weak]),
            Words(str(parts), align="right"),
            Words(words.build_minutes(lookup.plan, build)),
            PageNumber(partial(find, f"build {build.id}")),
        ],
        SPLITS,
        ruled=True,
    )


def add_cautions(flow: Flow, lookup: Lookup) -> None:
    """Add the cautions in full."""
    flow.title("Before you start", 1, 25)
    for caution in cautions(lookup):
        flow.framed(Stack([Words(caution.title, 10, bold=True), Words(caution.text)]))
    flow.say(ESTIMATES)
