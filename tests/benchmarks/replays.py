"""Plans of generated builds, replayed step by step: ``cd tests && python -m benchmarks.replays``.

The verifier, which knows no solver, takes each build down and builds it up again on its solids.
"""

from collections import Counter
from dataclasses import dataclass
from typing import Annotated

import typer

from benchmarks.builds import BOXES, KEY_G
from benchmarks.plain import show, timed
from packdown.files.defaults import read_defaults
from packdown.model import Build, Container, Plan, StepKind, Workspace
from packdown.planning import plan_workspace
from packdown.verify import verify
from support.grown_builds import SHAPES, grown_build

MM = 1_000
LEAST = 12
REPLAYED = (
    "step list", "take-down", "rebuild", "joint work", "paths", "keys", "pack steps",
    "unpack steps", "packed too early", "joined too early",
)  # fmt: skip

app = typer.Typer(add_completion=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Replay:
    """What came of one build."""

    shape: str
    pieces: int
    splits: int
    moves: int
    hands: int
    keys: int
    broken: tuple[str, ...]


def planned(build: Build, box: str) -> Plan:
    """Plan one build into as many boxes of one size as it needs."""
    defaults = read_defaults()
    inner = BOXES[box]
    size = (inner[0] * MM, inner[1] * MM, inner[2] * MM)
    boxes = tuple(
        Container(
            id=f"box-{number}",
            name=f"Box {number}",
            type=box,
            inner_um=size,
            outer_um=size,
            tare_g=0,
            payload_g=20_000,
        )
        for number in range(1 + len(build.pieces) // 2)
    )
    workspace = Workspace(
        name="Replay",
        settings=defaults.settings,
        parts=(),
        loose=(),
        builds=(build,),
        containers=boxes,
        key_weight_g=KEY_G,
    )
    return plan_workspace(workspace, effort=1)


def replay(number: int, most: int) -> Replay:
    """Plan and replay one build."""
    shape = tuple(SHAPES)[number % len(SHAPES)]
    size = LEAST + number % (most - LEAST + 1)
    build = grown_build(shape, size, read_defaults().settings, seed=number)
    plan = planned(build, tuple(BOXES)[number % len(BOXES)])
    report = verify(plan)
    steps = (*plan.steps.take_down, *plan.steps.rebuild)
    moves = [step for step in steps if step.kind in {StepKind.PART, StepKind.JOIN}]
    return Replay(
        shape=shape,
        pieces=len(build.pieces),
        splits=plan.objective.joints_split,
        moves=len(moves),
        hands=max((step.hands for step in moves), default=0),
        keys=plan.objective.keys_freed,
        broken=tuple(rule.name for rule, found in report.rules if found for _ in found),
    )


@app.command()
def run(
    number: Annotated[int, typer.Option(help="How many builds.")] = 300,
    most: Annotated[int, typer.Option(help="Most pieces of a build.")] = 60,
) -> None:
    """Print what was replayed for each shape, and every rule that was broken."""
    replays, seconds = timed(lambda: [replay(index, most) for index in range(number)])
    rows = []
    for shape in SHAPES:
        own = [one for one in replays if one.shape == shape]
        rows.append(
            (
                shape,
                len(own),
                sum(one.pieces for one in own),
                sum(one.splits for one in own),
                sum(one.moves for one in own),
                sum(one.keys for one in own),
                max((one.hands for one in own), default=0),
                sum(any(name in REPLAYED for name in one.broken) for one in own),
            )
        )
    broken = Counter(name for one in replays for name in one.broken)
    show(
        f"{number} builds of {LEAST} to {most} pieces taken down and built up again",
        ("shape", "builds", "pieces", "splits", "moves", "keys", "hands", "faulty"),
        rows,
        f"Broken rules of any kind: {dict(broken) or 'none'}. {seconds:.0f} s with planning.",
    )
    if broken:
        raise typer.Exit(1)


if __name__ == "__main__":
    app()
