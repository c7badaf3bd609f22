"""What commands on the store share: where it is, and asking before something is written."""

import json
import sys
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from packdown.errors import UsageError

if TYPE_CHECKING:
    from packdown.store.connection import Store

__all__ = ["StoreAddress", "Yes", "confirm", "open_store", "print_json", "print_lines"]

StoreAddress = Annotated[
    str | None,
    typer.Option(
        "--store",
        metavar="WHERE",
        help="The store: a workspace, a file, or the address of a database; otherwise "
        "$PACKDOWN_STORE, or packdown.db in the workspace.",
    ),
]
Yes = Annotated[bool, typer.Option("-y", "--yes", help="Do not ask.")]


def open_store(said: str | None, start: Path | None = None) -> "Store":
    """Return the store that the user means."""
    from packdown.store.connection import Store
    from packdown.store.location import store_url

    return Store(store_url(said, start or Path()))


def confirm(question: str, *, yes: bool) -> None:
    """Ask before something is written; where nobody can answer, the user must say --yes."""
    if yes:
        return
    if not sys.stdin.isatty():
        raise UsageError("nobody is there to confirm this", hint="say --yes to do it unasked")
    sys.stderr.write(f"{question} [y/N]: ")
    sys.stderr.flush()
    if sys.stdin.readline().strip().casefold() not in {"y", "yes"}:
        sys.stderr.write("Nothing was written.\n")
        raise typer.Exit(1)


def print_lines(lines: Any) -> None:  # noqa: ANN401 - any lines
    """Print lines of data."""
    for line in lines:
        sys.stdout.write(f"{line}\n")


def print_json(data: Any) -> None:  # noqa: ANN401 - whatever JSON can hold
    """Print data as JSON; records become objects."""
    sys.stdout.write(json.dumps(data, indent=2, ensure_ascii=False, default=asdict) + "\n")
