"""Commands that keep the store safe: backup and restore."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from packdown.cli.app import app, talk
from packdown.cli.stores import StoreAddress, Yes, confirm, open_store

if TYPE_CHECKING:
    from packdown.store.backup import Extent

__all__ = ["backup"]

File = Annotated[Path, typer.Argument(help="The backup, one file.")]


@app.command()
def backup(file: File, *, store: StoreAddress = None) -> None:
    """Write the whole store into one file, which --store can read like any other."""
    from packdown.store import backup as backups

    held = backups.backup(open_store(store), file)
    talk().print(f"Backup of {_words(held)}: {file}", markup=False)


@app.command()
def restore(file: File, *, store: StoreAddress = None, yes: Yes = False) -> None:
    """Replace all that the store holds by a backup."""
    from packdown.store import backup as backups

    target = open_store(store)
    old = backups.extent(target)
    if old[1]:
        talk().print(f"{target.name} holds {_words(old)}. All of it is replaced.", markup=False)
        confirm("Replace it?", yes=yes)
    held = backups.restore(target, file)
    talk().print(f"Restored {_words(held)} to {target.name}.", markup=False)


def _words(held: "Extent") -> str:
    from packdown.store.moments import shown

    pieces, changes, last = held
    when = f", the last on {shown(last)}" if last else ""
    return f"{pieces} pieces and {changes} changes{when}"
