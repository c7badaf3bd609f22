"""A plan, its steps and its verification in the terminal."""

from collections.abc import Sequence
from typing import Literal, Protocol

from rich.console import Console
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from packdown.model import Plan, Step
from packdown.report import bound_words, words
from packdown.report.blocks import columns, point, section
from packdown.report.cautions import cautions
from packdown.report.lookup import Lookup, look_up
from packdown.report.step_words import step_notes
from packdown.report.straight_words import straight_sentences
from packdown.report.weak_words import weak_sentences
from packdown.report.wish_words import wish_sentences
from packdown.units import format_weight

__all__ = [
    "StepList",
    "VerificationReport",
    "print_steps",
    "steps_table",
    "summary",
    "verification",
]

StepList = Literal["take_down", "rebuild"]
_TITLES: dict[StepList, str] = {"take_down": "Taking down", "rebuild": "Rebuilding"}
_CELLS = 8
"""Width of the bar that shows how full a container is."""


class _Rule(Protocol):
    @property
    def name(self) -> str: ...
    @property
    def sentence(self) -> str: ...


class _Violation(Protocol):
    @property
    def where(self) -> str: ...
    @property
    def message(self) -> str: ...


class VerificationReport(Protocol):
    """What a verification says: each rule with all that breaks it."""

    @property
    def rules(self) -> Sequence[tuple[_Rule, Sequence[_Violation]]]:
        """Every rule with its violations."""


def summary(plan: Plan, console: Console) -> None:
    """Print what a plan does: what goes where, what is split, what is left, how good it is."""
    lookup = look_up(plan)
    console.print(Text(plan.workspace, style="bold"))
    console.print(Text(words.headline(lookup)))
    if lookup.used:
        section("What goes where", console)
        console.print(_containers(lookup))
    if plan.builds:
        section("What to split", console)
        console.print(_builds(plan))
        for _, sentence in (*straight_sentences(plan), *wish_sentences(plan)):
            point(sentence, console)
    weak = weak_sentences(plan)
    if weak:
        section("What must not travel as it is", console)
        for _, what, sentence in weak:
            point(f"{what} {sentence}", console, mark="!")
    if plan.not_packed:
        section("Not packed", console)
        for what, reason in words.left_out(lookup):
            point(f"{what}: {reason}", console)
    section("How good it is", console)
    if plan.not_packed:
        point(bound_words.BOUNDS_NEED_ALL, console)
    console.print(_bounds(plan))
    for caution in cautions(lookup):
        section(caution.title, console)
        point(caution.text, console, mark="!")


def _containers(lookup: Lookup) -> Table:
    table = columns(
        ("container", "left"),
        ("holds", "left"),
        ("items", "right"),
        ("layers", "right"),
        ("full", "right"),
        ("gross", "right"),
    )
    for container in lookup.used:
        gross = lookup.gross_g(container)
        share = lookup.fill_share(container)
        table.add_row(
            Text(container.name),
            Text(words.gist(lookup, container)),
            str(len(container.fill)),
            str(max(placement.layer for placement in container.fill)),
            f"{_bar(share)} {share:4.0%}",
            format_weight(gross) + (" !" if gross > lookup.plan.rules.lift_limit_g else ""),
        )
    return table


def _bar(share: float) -> str:
    full = min(_CELLS, round(share * _CELLS))
    return "#" * full + "." * (_CELLS - full)


def _builds(plan: Plan) -> Table:
    table = columns(
        ("build", "left"),
        ("joints split", "right"),
        ("at least", "right"),
        ("to carry", "right"),
        ("keys", "right"),
        ("time", "right"),
        ("bound", "left"),
    )
    for build in plan.builds:
        table.add_row(
            Text(build.name),
            words.split_share(build),
            bound_words.fewest_joints(build),
            str(len(build.sub_assemblies)),
            str(words.keys_freed(build)),
            words.build_minutes(plan, build),
            bound_words.build_bound(build),
        )
    return table


def _bounds(plan: Plan) -> Table:
    table = Table.grid(padding=(0, 2))
    for what, shown, bound in bound_words.bounds_sentences(plan):
        table.add_row(what, shown, bound)
    return table


def steps_table(plan: Plan, which: StepList) -> Table:
    """Return the steps one way as a table.

    Parameters
    ----------
    plan
        The plan.
    which
        ``take_down`` or ``rebuild``.
    """
    lookup = look_up(plan)
    table = columns(("", "right"), ("step", "left"), ("where and with what", "left"))
    heading: str | None = ""
    for step in getattr(plan.steps, which):
        if step.build != heading:
            heading = step.build
            table.add_row("", Text(_work(lookup, step), style="bold"), "")
        notes = "\n".join(step_notes(lookup, step))
        table.add_row(str(step.n), Text(step.text), Text(notes))
    return table


def _work(lookup: Lookup, step: Step) -> str:
    return lookup.builds[step.build].name if step.build else "Loose pieces and bags"


def print_steps(plan: Plan, which: StepList, console: Console) -> None:
    """Print the steps one way."""
    section(_TITLES[which], console)
    if getattr(plan.steps, which):
        console.print(steps_table(plan, which))
    else:
        point("nothing to do", console)


def verification(report: VerificationReport, console: Console) -> None:
    """Print every rule by name: that it is kept, or all that breaks it."""
    for rule, violations in report.rules:
        grid = Table.grid(padding=(0, 1))
        grid.add_column(width=6)
        grid.add_column()
        verdict = Text("BROKEN", style="bold red") if violations else Text("kept", style="green")
        grid.add_row(verdict, Text.assemble((rule.name, "bold"), ": ", rule.sentence))
        console.print(grid)
        for violation in violations:
            console.print(Padding(Text(f"{violation.where}: {violation.message}"), (0, 0, 0, 9)))
    broken = sum(bool(violations) for _, violations in report.rules)
    total = words.counted(len(report.rules), "rule")
    console.print(f"All {total} kept." if not broken else f"{broken} of {total} broken.")
