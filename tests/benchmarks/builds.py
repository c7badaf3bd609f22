"""How near to the least effort builds are split: ``cd tests && python -m benchmarks.builds``."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial
from random import Random
from typing import Annotated

import typer

from benchmarks.plain import show, timed
from packdown.files.defaults import read_defaults
from packdown.model import Build, Container, Rules
from packdown.teardown import Split, effort_bound, effort_of, split
from support.grown_builds import SHAPES, grown_build

MM = 1_000
BOXES = {"small": (200, 150, 120), "large": (346, 265, 174)}
KEY_G = 1
SHARES = (0.2, 0.5)  # of the weight of a build, one of which a box takes where payload counts

app = typer.Typer(add_completion=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Result:
    """How the split of one build came out."""

    shape: str
    box: str
    pieces: int
    effort_s: int
    bound_s: int
    stuck: int
    seconds: float

    @property
    def gap(self) -> float:
        """How far the effort can be above the least, as a share of the bound."""
        return (self.effort_s - self.bound_s) / max(1, self.bound_s)


def cases(count: int) -> Iterator[tuple[str, Build]]:
    """Yield builds of all shapes in turn, from 12 to 150 pieces."""
    settings = read_defaults().settings
    shapes = list(SHAPES)
    for number in range(count):
        shape = shapes[number % len(shapes)]
        most = 12 + (150 - 12) * number // max(1, count - 1)
        yield shape, grown_build(shape, most, settings, seed=number)


def measured(shape: str, box: str, build: Build, *, payload_g: int) -> Result:
    """Split a build for boxes of one size, see that it is one, and say how it came out."""
    defaults = read_defaults()
    settings, effort = defaults.settings, defaults.settings.effort
    inner = BOXES[box]
    size = (inner[0] * MM, inner[1] * MM, inner[2] * MM)
    container = Container(
        id=box,
        name=box,
        type=box,
        inner_um=size,
        outer_um=size,
        tare_g=0,
        payload_g=payload_g,
        clearance_um=defaults.clearance_um,
    )
    rules = Rules(
        support_percent=settings.support_percent,
        shock_factor=settings.shock_factor,
        joint_tolerance_um=settings.joint_tolerance_um,
        weight_limit_g=payload_g,
        place_s=effort.place_s,
        effort_low=effort.low / effort.usual,
        effort_high=effort.high / effort.usual,
        key_weight_g=KEY_G,
    )
    found: Split
    found, seconds = timed(partial(split, build, [container], settings, rules, KEY_G))
    bound, more = timed(partial(effort_bound, build, [container], settings, rules))
    assert sorted(p for sub in found.sub_assemblies for p in sub) == sorted(
        piece.id for piece in build.pieces
    )
    assert found.effort_s == effort_of(build, found.sub_assemblies, rules.place_s)
    assert bound <= found.effort_s
    return Result(
        shape=shape,
        box=box,
        pieces=len(build.pieces),
        effort_s=found.effort_s,
        bound_s=bound,
        stuck=len(found.stuck),
        seconds=seconds + more,
    )


def _payload(build: Build, number: int) -> int:
    """Return a payload of a part of the build's weight that takes at least four of its pieces."""
    share = Random(number).uniform(*SHARES)
    heaviest = max(piece.weight_g for piece in build.pieces)
    return max(4 * heaviest, round(share * sum(piece.weight_g for piece in build.pieces)))


def _row(name: str, results: list[Result]) -> tuple[object, ...]:
    gaps = [100 * result.gap for result in results]
    return (
        name,
        len(results),
        100 * sum(gap <= 0 for gap in gaps) / len(gaps),
        max(gaps),
        sum(gaps) / len(gaps),
        sum(result.stuck > 0 for result in results),
        sum(result.seconds for result in results) / len(results),
        max(result.seconds for result in results),
    )


def _report(title: str, results: list[Result]) -> None:
    rows = [_row(f"{box} box", [r for r in results if r.box == box]) for box in BOXES]
    rows += [_row(shape, [r for r in results if r.shape == shape]) for shape in SHAPES]
    head = ("case", "builds", "proved %", "worst %", "mean %", "stuck", "mean s", "worst s")
    show(title, head, [*rows, _row("all", results)])


@app.command()
def main(
    count: Annotated[int, typer.Option(help="Number of builds.")] = 140,
    *,
    single: Annotated[bool, typer.Option(help="Print every case.")] = False,
    payloads: Annotated[bool | None, typer.Option(help="Only with, or only without.")] = None,
) -> None:
    """Split seeded builds for boxes of two sizes, without and with payloads that count."""
    endless = 100 * read_defaults().settings.weight_limit_g
    for title, limited in (("Size alone", False), ("With payloads that count", True)):
        if payloads not in (None, limited):
            continue
        results = []
        for number, (shape, build) in enumerate(cases(count)):
            payload_g = _payload(build, number) if limited else endless
            for box in BOXES:
                results.append(measured(shape, box, build, payload_g=payload_g))
                if single:
                    typer.echo(f"{number} {results[-1]}")
        _report(title, results)


if __name__ == "__main__":
    app()
