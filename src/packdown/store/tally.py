"""From answers to pieces: which are there, which are broken, which are missing."""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from packdown.errors import Problem
from packdown.store.expecting import Expected, Line, Thing

__all__ = ["Answer", "Rest", "Seen", "Surplus", "Tally", "tally"]


class Rest(StrEnum):
    """What holds of things that no answer names."""

    UNCOUNTED = "uncounted"
    THERE = "there"
    MISSING = "missing"


class Seen(StrEnum):
    """What became of one expected piece."""

    WHOLE = "whole"
    BROKEN = "broken"
    MISSING = "missing"
    UNCOUNTED = "uncounted"


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """What was found of one line.

    Parameters
    ----------
    what
        A line, or anything known to the store: a part, a piece, an item.
    found
        How many pieces are there.
    broken
        How many of those are broken; None for as many as before.
    entry
        Where the answer stands, to name it in errors.
    """

    what: str
    found: int
    broken: int | None = None
    entry: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Surplus:
    """So many pieces more than expected of a part, or of whatever the answer named."""

    what: str
    number: int
    entry: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Tally:
    """What answers say of pieces.

    Parameters
    ----------
    seen
        What became of each expected piece, by its id.
    surplus
        What there is more of than expected.
    problems
        Answers that cannot be understood.
    """

    seen: Mapping[str, Seen]
    surplus: tuple[Surplus, ...]
    problems: tuple[Problem, ...]


def tally(expected: Expected, answers: Sequence[Answer], rest: Rest, source: str) -> Tally:
    """Work out what answers say of each piece that is expected.

    Parameters
    ----------
    expected
        What should be there.
    answers
        What was found; what is said of fewer pieces counts more than what is said of many.
    rest
        What holds of pieces that no answer names.
    source
        What to call the answers in problems.
    """
    known = dict(_names(expected))
    seen: dict[str, Seen] = {}
    surplus: list[Surplus] = []
    problems: list[Problem] = []
    sets = [(answer, known.get(_plain(answer.what), ())) for answer in answers]
    for answer, things in sorted(sets, key=lambda one: -len(one[1])):
        message = _wrong(answer, things)
        if message:
            problems.append(Problem(file=source, entry=answer.entry, message=message))
            continue
        seen |= _share_out(answer, things)
        if answer.found > len(things):
            what = things[0].part if things else answer.what
            more = answer.found - len(things)
            surplus.append(Surplus(what=what, number=more, entry=answer.entry))
    for line in expected.lines:
        for thing in line.things:
            seen.setdefault(thing.piece, _rest(thing, rest))
    return Tally(seen=seen, surplus=tuple(surplus), problems=tuple(problems))


def _names(expected: Expected) -> Iterator[tuple[str, tuple[Thing, ...]]]:
    """Yield what answers can name, what counts most last."""
    by_part: dict[str, list[Thing]] = defaultdict(list)
    for line in expected.lines:
        for thing in line.things:
            for name in (thing.name, thing.part):
                by_part[_plain(name)].append(thing)
    yield from ((name, tuple(dict.fromkeys(things))) for name, things in by_part.items())
    every: list[Line] = [*expected.lines, *(part for line in expected.lines for part in line.parts)]
    for line in every:
        yield _plain(line.name), line.things
    for line in every:
        yield _plain(line.what), line.things
    for line in expected.lines:
        for thing in line.things:
            yield _plain(thing.piece), (thing,)


def _plain(name: str) -> str:
    return " ".join(name.casefold().split())


def _wrong(answer: Answer, things: Sequence[Thing]) -> str:
    if answer.found < 0 or (answer.broken or 0) < 0:
        return f"{answer.what}: expected numbers of pieces, from 0"
    if (answer.broken or 0) > answer.found:
        return f"{answer.what}: {answer.broken} broken of {answer.found} found"
    kinds = {thing.part for thing in things}
    if len(kinds) > 1 and answer.found not in {0, len(things)}:
        return (
            f"{answer.what}: {answer.found} of {len(things)} pieces do not say which; "
            "name those that are missing, each with 0"
        )
    return ""


def _share_out(answer: Answer, things: Sequence[Thing]) -> dict[str, Seen]:
    """Decide which of some pieces are there: those that lie deepest, as they rarely fall out."""
    there = sorted(things[: answer.found], key=lambda thing: not thing.broken)
    broken = answer.broken
    if broken is None:
        broken = sum(thing.broken for thing in there)
    return {
        **{thing.piece: Seen.MISSING for thing in things[answer.found :]},
        **{thing.piece: Seen.WHOLE for thing in there[broken:]},
        **{thing.piece: Seen.BROKEN for thing in there[:broken]},
    }


def _rest(thing: Thing, rest: Rest) -> Seen:
    if rest is Rest.MISSING:
        return Seen.MISSING
    if rest is Rest.UNCOUNTED:
        return Seen.UNCOUNTED
    return Seen.BROKEN if thing.broken else Seen.WHOLE
