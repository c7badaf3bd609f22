"""Random problems over all rules, verified: ``cd tests && python -m benchmarks.random_rules``."""

from collections import Counter
from collections.abc import Callable
from typing import Annotated

import typer

from benchmarks.plain import show, timed, warm_up
from packdown.model import Lining, Packing, PackingProblem
from packdown.packing import pack
from support.packing_problems import random_problem, violations

LARGE = 60
"""Most items of every tenth problem; the others are small."""

app = typer.Typer(add_completion=False)

ACTIVE: dict[str, Callable[[PackingProblem], bool]] = {
    "support of part of the base": lambda p: p.rules.support_percent < 100,
    "support of the whole base": lambda p: p.rules.support_percent == 100,
    "clearance": lambda p: any(c.clearance_um for c in p.containers),
    "sheets": lambda p: any(c.sheet_um for c in p.containers),
    "ways up": lambda p: any(len(i.allowed_ways_up) < 6 for i in p.items),
    "load on items": lambda p: any(i.carry_limit_g is not None for i in p.items),
    "tender": lambda p: any(i.tender for i in p.items),
    "magnets on steel": lambda p: (
        any(i.magnets for i in p.items) and any(c.lining is Lining.STEEL for c in p.containers)
    ),
    "payload less than all items": lambda p: (
        min(c.payload_g for c in p.containers) < sum(i.weight_g for i in p.items)
    ),
    "stacked containers": lambda p: any(c.stacked_on for c in p.containers),
    "keep together": lambda p: bool(p.rules.keep_together),
    "keep apart": lambda p: bool(p.rules.keep_apart),
    "first needed": lambda p: any(i.needed is not None for i in p.items),
    "several cuboids": lambda p: any(len(i.cuboids_um) > 1 for i in p.items),
}
"""When a rule has a chance to bite."""


def stacked(packing: Packing) -> bool:
    """Whether any item lies on another."""
    return any(place.layer > 1 for fill in packing.fills for place in fill.placements)


@app.command()
def run(
    number: Annotated[int, typer.Option(help="How many problems.")] = 2_000,
    first: Annotated[int, typer.Option(help="Seed of the first one.")] = 0,
    effort: Annotated[int, typer.Option(help="Effort of the packer.")] = 4,
) -> None:
    """Pack random problems; print how many had each rule at work, and what the verifier found."""
    warm_up()
    active: Counter[str] = Counter()
    wrong: list[str] = []
    took, left, piled = 0.0, 0, 0
    for seed in range(first, first + number):
        asked = random_problem(seed, most_items=14 if seed % 10 else LARGE)
        packing, seconds = timed(lambda: pack(asked, effort=effort, seed=seed))  # noqa: B023
        took += seconds
        wrong += [f"problem {seed}: {fault}" for fault in violations(asked, packing)]
        active.update(name for name, at_work in ACTIVE.items() if at_work(asked))
        left += bool(packing.unpacked)
        piled += stacked(packing)
    show(
        f"{number} random problems from seed {first}, effort {effort}",
        ("rule", "problems with it"),
        [(name, active[name]) for name in ACTIVE],
        f"{piled} with items upon items, {left} with something left out; {took:.0f} s of packing.\n"
        f"Violations: {len(wrong)}. " + " ".join(wrong[:10]),
    )
    if wrong:
        raise typer.Exit(1)


if __name__ == "__main__":
    app()
