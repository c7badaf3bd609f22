"""Small groups against the proved optimum: ``cd tests && python -m benchmarks.small_groups``."""

from collections import Counter
from dataclasses import astuple, dataclass, fields
from functools import partial
from itertools import count
from typing import Annotated

import typer

from benchmarks.plain import show, timed, warm_up
from packdown.model import PackingProblem
from packdown.packing import exact, pack
from packdown.packing.bounds import NamedBounds, item_bounds, named_bounds
from packdown.packing.exact import Status
from support.small_groups import small_group

EFFORT = 8
"""The default of `packdown plan`."""

app = typer.Typer(add_completion=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """What came out for one group: the proved optimum, the packer's containers, the bounds."""

    seed: int
    optimum: int
    packed: int | None
    bound: int
    named: NamedBounds
    exact_s: float
    pack_s: float

    @property
    def equal(self) -> bool:
        """Whether the packer needs no more than the optimum."""
        return self.packed == self.optimum


def solved(seed: int, problem: PackingProblem, limit: float, effort: int) -> Case | Status:
    """Return a case if its optimum was proved, else what is known of it.

    Raises
    ------
    AssertionError
        If a bound, or the packer, contradicts the proof.
    """
    found, exact_s = timed(partial(exact, problem, limit=limit))
    if found.status is Status.INFEASIBLE and not pack(problem, effort=effort, seed=0).unpacked:
        raise AssertionError(f"case {seed}: packed, though that is said to be impossible")
    if found.status is not Status.OPTIMAL or found.containers is None:
        return found.status
    packing, pack_s = timed(partial(pack, problem, effort=effort, seed=0))
    bound, named = item_bounds(problem), named_bounds(problem)
    packed = None if packing.unpacked else len(packing.fills)
    if not bound.feasible or named is None or max(bound.containers, named.best) > found.containers:
        raise AssertionError(f"case {seed}: a bound is above the optimum")
    if packed is not None and packed < found.containers:
        raise AssertionError(f"case {seed}: the packer is below the proved optimum")
    return Case(
        seed=seed,
        optimum=found.containers,
        packed=packed,
        bound=bound.containers,
        named=named,
        exact_s=exact_s,
        pack_s=pack_s,
    )


@app.command()
def run(
    number: Annotated[int, typer.Option(help="How many proved cases.")] = 200,
    first: Annotated[int, typer.Option(help="Seed of the first one.")] = 0,
    limit: Annotated[float, typer.Option(help="Deterministic time of each proof.")] = 10.0,
    effort: Annotated[int, typer.Option(help="Effort of the packer.")] = EFFORT,
) -> None:
    """Pack random groups whose optimum is proved; print how often the packer reaches it."""
    warm_up()
    cases: list[Case] = []
    others: Counter[str] = Counter()
    for seed in count(first):
        found = solved(seed, small_group(seed), limit, effort)
        if isinstance(found, Case):
            cases.append(found)
        else:
            others[found.value] += 1
        if len(cases) == number:
            break
    groups = {optimum: [c for c in cases if c.optimum == optimum] for optimum in (1, 2, 3, 4)}
    show(
        f"{number} groups with a proved optimum from seed {first}, effort {effort}",
        ("fewest containers", "cases", "packer equal", "%", "bound equal", "proof s", "packer s"),
        [_row(str(name), own) for name, own in [*groups.items(), ("all", cases)] if own],
        f"Not proved, or no packing at all: {dict(others)}. "
        f"Missed: {[case.seed for case in cases if not case.equal]}. No bound is above an optimum.",
    )
    names = [field.name.replace("_", " ") for field in fields(NamedBounds)]
    show(
        "Each bound by itself: how often it is the optimum, and its mean",
        ("", *names, "counting", "optimum"),
        [
            ("met", *(_met(cases, index) for index in range(len(names))),
             sum(case.bound == case.optimum for case in cases), len(cases)),
            ("mean", *(sum(astuple(c.named)[i] for c in cases) / number for i in range(len(names))),
             sum(c.bound for c in cases) / number, sum(c.optimum for c in cases) / number),
        ],
    )  # fmt: skip


def _row(name: str, cases: list[Case]) -> tuple[object, ...]:
    equal = sum(case.equal for case in cases)
    return (
        name,
        len(cases),
        equal,
        100 * equal / len(cases),
        sum(case.bound == case.optimum for case in cases),
        sum(case.exact_s for case in cases) / len(cases),
        sum(case.pack_s for case in cases) / len(cases),
    )


def _met(cases: list[Case], index: int) -> int:
    return sum(astuple(case.named)[index] == case.optimum for case in cases)


if __name__ == "__main__":
    app()
