"""The terminal: fixed-width renderings."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from io import StringIO

from rich.console import Console

from packdown.model import Joint, JointState, Weak
from packdown.report import print_steps, summary, verification
from support.book_plan import book_plan

PLAN = book_plan()


def _printed(show: Callable[[Console], None], width: int = 80) -> str:
    out = StringIO()
    show(Console(file=out, width=width, color_system=None, highlight=False))
    return out.getvalue()


SUMMARY = _printed(lambda console: summary(PLAN, console))


def test_a_summary_fits_eighty_columns() -> None:
    """No line is longer, and none is cut off with an ellipsis."""
    assert all(len(line) <= 80 for line in SUMMARY.splitlines())
    assert "…" not in SUMMARY


def test_a_summary_says_how_much_goes_where() -> None:
    """The headline counts, and each used container has its line; unused ones have none."""
    used = [c for c in PLAN.containers if c.fill]
    packed = sum(len(c.fill) for c in used)
    assert f"{packed} items in {len(used)} containers" in SUMMARY
    assert all(c.name.split()[0] in SUMMARY for c in used)
    line = next(line for line in SUMMARY.splitlines() if line.startswith("Grey crate"))
    assert str(len(PLAN.containers[0].fill)) in line.split()


def test_a_summary_says_how_good_the_plan_is() -> None:
    """Bounds are words: proved least, or how far off at most."""
    full = _printed(lambda console: summary(replace(PLAN, not_packed=()), console))
    assert "at most 1 more than necessary" in full
    assert "proved least" in full
    assert "Not compared with the least possible" in SUMMARY


def test_a_summary_names_what_is_left_and_warns() -> None:
    """Reasons and cautions are printed."""
    assert all(f"({entry.item}): {entry.reason}"[:40] in SUMMARY for entry in PLAN.not_packed)
    assert "Heavy to lift" in SUMMARY
    assert "Small strong magnets" in SUMMARY


def test_a_summary_says_what_must_not_travel() -> None:
    """The whole build, one of its parts, and what to open; without any there is no such section."""
    build = PLAN.builds[0]
    whole = tuple(piece for sub in build.sub_assemblies for piece in sub)
    part = Weak(pieces=build.sub_assemblies[0], stands=False, open_joints=())
    opened = tuple(joint.id for joint in build.joints[:2])
    weak = (Weak(pieces=whole, stands=True, open_joints=opened), part)

    def printed(*entries: Weak) -> str:
        builds = (replace(build, weak=entries), *PLAN.builds[1:])
        shown = _printed(lambda console: summary(replace(PLAN, builds=builds), console))
        return " ".join(shown.split())

    assert "must not travel" not in " ".join(SUMMARY.split())
    names = ", ".join(name.rpartition("/")[2].replace("+", " + ") for name in opened)
    told = (
        f"{build.name} as a whole may stand on the shelf, not travel: open these joints: {names}."
    )
    assert f"{told} This plan takes it apart so that every part may travel." in printed(weak[0])
    both = printed(*weak)
    assert f"{told} !" in both
    count = len(part.pieces)
    assert (
        f"{build.name} part 1 ({count} pieces) may neither stand on the shelf nor travel: no joint "
        "that may be opened would help. This plan leaves it so: it is for the shelf."
    ) in both


def test_a_summary_tells_what_became_of_wishes() -> None:
    """Joints that are rather kept are counted apart from the work, those split are named."""
    build = PLAN.builds[0]
    split = next(joint for joint in build.joints if joint.state is JointState.SPLIT)
    kept = next(joint for joint in build.joints if joint.state is JointState.KEPT)

    def printed(*wished: Joint) -> str:
        joints = tuple(replace(each, spare_s=90 * (each in wished)) for each in build.joints)
        builds = (replace(build, joints=joints), *PLAN.builds[1:])
        shown = _printed(lambda console: summary(replace(PLAN, builds=builds), console))
        return " ".join(shown.split())

    name = split.id.rpartition("/")[2].replace("+", " + ")
    assert f"of 2 joints rather kept, 1 is split: {name}." in printed(split, kept)
    assert "of 1 joint rather kept, none is split." in printed(kept)
    assert "rather kept" not in SUMMARY


def test_cautions_come_only_where_they_are_due() -> None:
    """A light plan without magnets has none."""
    light = replace(
        PLAN,
        containers=tuple(c for c in PLAN.containers if c.id != "flat-tray"),
    )
    printed = _printed(lambda console: summary(light, console))
    assert "Heavy to lift" not in printed
    assert "magnets" not in printed


def test_markup_in_names_is_printed_as_it_is() -> None:
    """Square brackets in a name are no formatting."""
    odd = replace(PLAN.containers[0], name="[red]A[/red]")
    printed = _printed(
        lambda console: summary(replace(PLAN, containers=(odd, *PLAN.containers[1:])), console)
    )
    assert "[red]A[/red]" in printed


def test_steps_are_printed_both_ways() -> None:
    """Every step has its number; work is grouped by build."""
    for which in ("take_down", "rebuild"):
        printed = _printed(lambda console, which=which: print_steps(PLAN, which, console))  # type: ignore[misc]
        for step in getattr(PLAN.steps, which):
            assert any(line.split()[:1] == [str(step.n)] for line in printed.splitlines())
        assert "Lantern House" in printed
        assert "Loose pieces and bags" in printed


def test_no_steps_is_said() -> None:
    """Where nothing is to be done the list is not just empty."""
    idle = replace(PLAN, steps=replace(PLAN.steps, rebuild=()))
    assert "nothing to do" in _printed(lambda console: print_steps(idle, "rebuild", console))


@dataclass(frozen=True)
class _Rule:
    name: str
    sentence: str


@dataclass(frozen=True)
class _Violation:
    where: str
    message: str


@dataclass(frozen=True)
class _Report:
    rules: tuple[tuple[_Rule, tuple[_Violation, ...]], ...]


def test_a_verification_names_every_rule_and_what_breaks_it() -> None:
    """Kept rules are listed too: one sees what was checked."""
    kept = (_Rule("inside", "Everything lies within its container."), ())
    broken = (
        _Rule("support", "Every item is held up."),
        (_Violation("crate: hall", "held by 62 %, at least 80 %"),),
    )
    printed = _printed(lambda console: verification(_Report((kept, broken)), console))
    assert printed.splitlines()[0].rstrip() == (
        "kept   inside: Everything lies within its container."
    )
    assert "BROKEN support: Every item is held up." in printed
    assert "crate: hall: held by 62 %, at least 80 %" in printed
    assert printed.splitlines()[-1] == "1 of 2 rules broken."
    assert "All 1 rule kept." in _printed(lambda console: verification(_Report((kept,)), console))
