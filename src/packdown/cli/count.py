"""Commands that check off: count and sweep."""

import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Literal

import typer

from packdown.cli.app import Json, app, talk
from packdown.cli.stores import StoreAddress, open_store, print_json, print_lines
from packdown.errors import UsageError

if TYPE_CHECKING:
    from packdown.store.expecting import Expected, Line
    from packdown.store.tally import Answer

__all__ = ["answers_to", "count"]

Ask = Callable[[str, str], str]
"""Asks a question with a default answer."""
_HOW = (
    "Enter: all there. A number: so many are there; 5/1: five, one of them broken. "
    "For a sub-assembly, ? goes through its parts."
)


@app.command()
def count(
    container: Annotated[str, typer.Argument(help="Id, short id or name of a container.")],
    *,
    source: Annotated[
        Path | None,
        typer.Option(
            "--from", metavar="FILE", help="List of what,found,broken; - is standard input."
        ),
    ] = None,
    rest: Annotated[
        Literal["uncounted", "there", "missing"],
        typer.Option("--rest", help="What holds of things that the list does not name."),
    ] = "uncounted",
    store: StoreAddress = None,
    as_json: Json = False,
) -> None:
    """Check off what should be in a container; exit status 1 if something is missing."""
    from packdown.report.counting import count_lines
    from packdown.store import counting
    from packdown.store.expecting import expect
    from packdown.store.finding import box_of
    from packdown.store.tally import Rest

    target = open_store(store)
    with target.reading() as rows:
        expected = expect(rows, box_of(rows, container))
    if source is None and sys.stdin.isatty():
        talk().print(_HOW, markup=False)
        name, answers = "answers", tuple(answers_to(expected, _ask))
    else:
        name, answers = _listed(source)
    result = counting.count(target, expected.box.id, answers, Rest(rest), name)
    if as_json:
        print_json(result)
    else:
        print_lines(count_lines(result))
    if result.missing:
        raise typer.Exit(1)


def _ask(question: str, default: str) -> str:
    """Ask on standard error, so that nothing but data goes to standard output."""
    sys.stderr.write(f"{question} [{default}]: " if default else f"{question}: ")
    sys.stderr.flush()
    line = sys.stdin.readline()
    if not line:
        raise UsageError("the answers ended early", hint="nothing was recorded; count again")
    return line.strip() or default


def _listed(source: Path | None) -> "tuple[str, tuple[Answer, ...]]":
    """Read answers from a list."""
    from packdown.files import read_counted
    from packdown.store.tally import Answer

    if source is None or str(source) == "-":
        name, text = "standard input", sys.stdin.read()
    else:
        name, text = source.name, source.read_text(encoding="utf-8-sig")
    return name, tuple(
        Answer(what=one.what, found=one.found, broken=one.broken, entry=one.entry)
        for one in read_counted(text, name)
    )


def answers_to(expected: "Expected", ask: Ask) -> "Iterator[Answer]":
    """Go through what should be there, line by line, then ask for anything else.

    Parameters
    ----------
    expected
        What should be there.
    ask
        Asks the user.
    """
    for line in expected.lines:
        yield from _answers(line, ask)
    while more := ask("Anything else in it? What and how many, such as crate 2", "").strip():
        what, _, number = more.rpartition(" ")
        if number.isdecimal() and what:
            yield _answer(what, number)
        else:
            yield _answer(more, "1")


def _answers(line: "Line", ask: Ask) -> "Iterator[Answer]":
    while True:
        said = ask(f"{line.name}: how many of {line.number}?", str(line.number)).strip()
        if said == "?" and line.parts:
            for part in line.parts:
                yield from _answers(part, ask)
            return
        try:
            answer = _answer(line.what, said)
        except UsageError as error:
            talk().print(error.message, markup=False)
            continue
        if line.parts and answer.found not in {0, line.number}:
            talk().print("Of which part? Go through them.", markup=False)
            for part in line.parts:
                yield from _answers(part, ask)
            return
        yield answer
        return


def _answer(what: str, said: str) -> "Answer":
    from packdown.store.tally import Answer

    found, slash, broken = said.partition("/")
    if not found.isdecimal() or (slash and not broken.isdecimal()):
        raise UsageError(f"expected a number such as 5, or 5/1, not {said}")
    return Answer(what=what, found=int(found), broken=int(broken) if slash else None, entry=what)


@app.command()
def sweep(*, store: StoreAddress = None, as_json: Json = False) -> None:
    """List every piece that went out and is not stowed; exit status 1 if there are any."""
    from packdown.report.counting import sweep_lines
    from packdown.store.sweeping import sweep as sweep_store

    with open_store(store).reading() as rows:
        found = sweep_store(rows)
    if as_json:
        print_json(found)
    else:
        print_lines(sweep_lines(found))
    if found.loose:
        raise typer.Exit(1)
