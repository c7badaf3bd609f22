"""The order of work in words: short steps of taking down and of rebuilding."""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import replace

from packdown.model import Build, Step, StepKind
from packdown.teardown.order import Move
from packdown.teardown.step_writer import TABLE, StepWriter

__all__ = ["TABLE", "number", "write_steps"]


def write_steps(
    build: Build,
    parts: Sequence[Collection[str]],
    moves: Sequence[Move],
    where: Mapping[tuple[str, ...], str],
) -> tuple[list[Step], list[Step]]:
    """Say each move in words, in the order of taking down and in that of rebuilding.

    Parameters
    ----------
    build
        The build.
    parts
        Piece ids of its sub-assemblies; they are numbered from 1, as on labels.
    moves
        Its order of work.
    where
        For the pieces of each sub-assembly the id of its container.

    Returns
    -------
    take_down, rebuild
        Steps not yet numbered; the second list is the first one mirrored.
    """
    writer = StepWriter(build, parts, where)
    down = [writer.parting(move) for move in moves]
    up = [writer.joining(move) for move in reversed(moves)]
    return down, up


def number(steps: Iterable[Step]) -> tuple[Step, ...]:
    """Return the steps numbered from 1, each with those that must be done before it.

    These are the last that had any of its pieces at work, the one before at the same container,
    and, where loose keys go from one to the other, those that they come from; less those that
    another of them waits for.
    """
    numbered: list[Step] = []
    last: dict[str, int] = {}
    freed: dict[str | None, list[int]] = {}
    waits = [0]  # for each step the bits of all that must be done before it
    for n, step in enumerate(steps, start=1):
        moving = step.kind in (StepKind.PACK, StepKind.UNPACK)
        box = [f"container {step.from_ if step.to == TABLE else step.to}"] if moving else []
        used = [*(f"piece {name}" for name in step.pieces + step.stays), *box]
        gives = step.kind in (StepKind.PART, StepKind.UNPACK)
        before = {last[thing] for thing in used if thing in last}
        if step.keys and gives:
            freed.setdefault(step.build, []).append(n)
        elif step.keys:
            before.update(freed.get(step.build, ()))
        last.update(dict.fromkeys(used, n))
        after, known = [], 0
        for other in sorted(before, reverse=True):
            if not known >> other & 1:
                after.append(other)
                known |= waits[other] | 1 << other
        waits.append(known)
        numbered.append(replace(step, n=n, after=tuple(reversed(after))))
    return tuple(numbered)
