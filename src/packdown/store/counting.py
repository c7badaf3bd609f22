"""Counting a container: what is missing, extra or broken, and where to look for it."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from packdown.errors import InputError, Problem, UsageError
from packdown.store.choosing import find_pieces
from packdown.store.connection import Store
from packdown.store.expecting import Expected, Thing, expect
from packdown.store.finding import box_of
from packdown.store.journal import Change, Row, changing
from packdown.store.listed import Named
from packdown.store.moving import load_pieces, placed
from packdown.store.records import Box, State
from packdown.store.schema import TABLES, pieces
from packdown.store.tally import Answer, Rest, Seen, Tally, tally

__all__ = ["CountResult", "Extra", "Lost", "count"]

_FIRST = (State.MISSING, State.OUT, State.UNSTOWED, State.STOWED)
"""Whence a piece that is there beyond what is expected comes, most likely first."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Lost:
    """Pieces that should be in the container and are not.

    Parameters
    ----------
    name, number
        What they are called, and how many there are.
    places
        Layer and place in the container where they should be; empty if they were put in by hand.
    seen
        The verb and the moment of the change that last saw one of them.
    """

    name: str
    number: int
    places: tuple[tuple[int | None, str], ...]
    seen: tuple[str, str] | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Extra:
    """Pieces that are in the container though the store said they were elsewhere.

    Parameters
    ----------
    name, number
        What was named, and how many there are beyond what was expected.
    state, box
        Where they were by the store.
    """

    name: str
    number: int
    state: State
    box: Box | None


@dataclass(frozen=True, slots=True, kw_only=True)
class CountResult:
    """What a count found.

    Parameters
    ----------
    change
        Number of the change.
    box
        The container.
    expected, found
        How many pieces should have been there, and how many of these are.
    missing, extra
        What is missing, and what is there beyond.
    broken, uncounted
        Names of what is broken, and of what was not counted, with numbers.
    """

    change: int
    box: Box
    expected: int
    found: int
    missing: tuple[Lost, ...]
    extra: tuple[Extra, ...]
    broken: tuple[Named, ...]
    uncounted: tuple[Named, ...]


def count(
    store: Store,
    container: str,
    answers: Sequence[Answer],
    rest: Rest = Rest.UNCOUNTED,
    source: str = "answers",
) -> CountResult:
    """Record what was found in a container.

    What is missing is from then on nowhere, but was last seen here; what is extra is here.

    Parameters
    ----------
    store
        The store.
    container
        Id, short id or name.
    answers
        What was found; what is said of fewer pieces counts more than what is said of many.
    rest
        What holds of things that no answer names.
    source
        What to call the answers in errors.

    Raises
    ------
    UsageError
        If the store has no such container.
    InputError
        If an answer cannot be understood; nothing is then recorded.
    """
    with changing(store, "count") as change:
        box = box_of(change, container)
        expected = expect(change, box)
        found = tally(expected, answers, rest, source)
        extras, problems = _extras(change, found, box, source)
        if found.problems or problems:
            raise InputError([*found.problems, *problems])
        taken = [piece for piece, _ in extras]
        rows = load_pieces(change, [*found.seen, *taken])
        change.save(pieces, [_counted(row, found.seen, box, change.id) for row in rows])
        result = _result(change.id, expected, found, [extra for _, extra in extras])
        _record(change, expected, found, box)
        change.summary = _summary(result)
    return result


def _extras(
    change: Change, found: Tally, box: Box, source: str
) -> tuple[list[tuple[str, Extra]], list[Problem]]:
    """Choose the pieces that are here beyond what is expected."""
    chosen: list[tuple[str, Extra]] = []
    problems: list[Problem] = []
    for more in found.surplus:
        place = {"file": source, "entry": more.entry}
        try:
            others = [one for one in find_pieces(change, more.what) if one.container != box.id]
        except UsageError as error:
            problems.append(Problem(**place, message=error.message, hint=error.hint))
            continue
        others = [one for one in others if one.piece not in {piece for piece, _ in chosen}]
        others.sort(key=lambda one: _FIRST.index(State(one.state)))
        if len(others) < more.number:
            message = f"{more.what}: {more.number} more than expected, {len(others)} more are owned"
            problems.append(Problem(**place, message=message))
            continue
        for one in others[: more.number]:
            home = box_of(change, one.container) if one.container else None
            extra = Extra(name=one.name, number=1, state=State(one.state), box=home)
            chosen.append((one.piece, extra))
    return chosen, problems


def _counted(row: Row, seen: Mapping[str, Seen], box: Box, change: int) -> Row:
    """Return a piece as it is after the count."""
    outcome = seen.get(row["id"])
    if outcome is None:
        return placed(row, box, None, change)
    if outcome is Seen.UNCOUNTED:
        return row
    if outcome is Seen.MISSING:
        gone = {"state": "missing", "container_id": None, "item_number": None, "event": None}
        return {**row, **gone}
    return {**row, "condition": str(outcome), "seen_in": box.id, "seen_change": change}


def _result(change: int, expected: Expected, found: Tally, extras: Sequence[Extra]) -> CountResult:
    missing: dict[str, list[Thing]] = defaultdict(list)
    counted: dict[Seen, dict[str, int]] = defaultdict(lambda: defaultdict(int))
    for line in expected.lines:
        outcomes = [found.seen[thing.piece] for thing in line.things]
        for thing, outcome in zip(line.things, outcomes, strict=True):
            is_part = bool(line.parts) and len(set(outcomes)) > 1
            name = f"{thing.name} of {line.name}" if is_part else line.name
            counted[outcome][name] += 1
            if outcome is Seen.MISSING:
                missing[name].append(thing)
    grouped: dict[tuple[str, State, Box | None], int] = defaultdict(int)
    for extra in extras:
        grouped[extra.name, extra.state, extra.box] += 1
    return CountResult(
        change=change,
        box=expected.box,
        expected=sum(line.number for line in expected.lines),
        found=sum(outcome in {Seen.WHOLE, Seen.BROKEN} for outcome in found.seen.values()),
        missing=tuple(_lost(name, things) for name, things in missing.items()),
        extra=tuple(
            Extra(name=name, number=number, state=state, box=home)
            for (name, state, home), number in grouped.items()
        ),
        broken=_named(counted[Seen.BROKEN]),
        uncounted=_named(counted[Seen.UNCOUNTED]),
    )


def _lost(name: str, things: Sequence[Thing]) -> Lost:
    places = dict.fromkeys((thing.layer, thing.place) for thing in things if thing.place)
    seen = max((thing.seen for thing in things if thing.seen), key=lambda s: s[1], default=None)
    return Lost(name=name, number=len(things), places=tuple(places), seen=seen)


def _named(numbers: Mapping[str, int]) -> tuple[Named, ...]:
    return tuple(Named(name=name, number=number) for name, number in numbers.items())


def _record(change: Change, expected: Expected, found: Tally, box: Box) -> None:
    """Add the count to the records: every line that was counted, and what was there beyond."""
    lines = []
    for line in expected.lines:
        seen = [found.seen[thing.piece] for thing in line.things]
        if Seen.UNCOUNTED not in seen:
            broken = seen.count(Seen.BROKEN)
            lines.append((line.what, len(seen), seen.count(Seen.WHOLE) + broken, broken))
    lines += [(more.what, 0, more.number, 0) for more in found.surplus]
    change.add(TABLES["counts"], [{"change_id": change.id, "container_id": box.id}])
    names = ("what", "expected", "found", "broken")
    change.add(
        TABLES["count_lines"],
        [
            {"change_id": change.id, "number": number, **dict(zip(names, line, strict=True))}
            for number, line in enumerate(lines, 1)
        ],
    )


def _summary(result: CountResult) -> str:
    told = f"counted {result.box.name}: {result.found} of {result.expected} there"
    beyond: Iterable[tuple[str, int]] = (
        ("missing", sum(lost.number for lost in result.missing)),
        ("extra", sum(extra.number for extra in result.extra)),
        ("broken", sum(named.number for named in result.broken)),
        ("not counted", sum(named.number for named in result.uncounted)),
    )
    return ", ".join([told, *(f"{number} {word}" for word, number in beyond if number)])
