"""The root of the command line, and the one place where errors become text."""

import sys
import time
from collections.abc import Sequence
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer
from typer.core import TyperGroup

from packdown import __version__
from packdown.errors import InputError, PackdownError, Problem

if TYPE_CHECKING:
    from rich.console import Console

__all__ = [
    "COMMANDS",
    "STARTED",
    "Containers",
    "Folder",
    "Helpers",
    "Json",
    "Output",
    "Paper",
    "PlanFile",
    "app",
    "named",
    "show_problems",
    "talk",
]

STARTED = time.monotonic()
"""When the program started, but for what loads before this."""
COMMANDS = {
    "workspaces": ("demo", "new", "check"),
    "builds": ("draw", "convert"),
    "measure": ("measure",),
    "tables": ("import", "export"),
    "plans": ("plan", "verify", "steps", "book"),
    "choices": ("trade-off",),
    "timelines": ("timeline",),
    "events": ("bring",),
    "strike": ("strike",),
    "labels": ("labels", "lists"),
    "gltf": ("gltf",),
    "loading": ("load", "lift"),
    "stow": ("stow",),
    "find": ("find", "show", "where"),
    "move": ("move", "history", "undo"),
    "count": ("count", "sweep"),
    "pieces": ("piece", "forget", "contents", "counts"),
    "backups": ("backup", "restore"),
}
"""Modules of this package by the commands that they register, in the order of the help."""

Folder = Annotated[Path, typer.Argument(help="Folder of the workspace.", show_default=True)]
PlanFile = Annotated[Path, typer.Argument(help="Plan file written by `packdown plan`.")]
Output = Annotated[Path | None, typer.Option("-o", "--output", help="File to write.")]
Containers = Annotated[
    str | None,
    typer.Option("--containers", metavar="ID,...", help="Use only these containers."),
]
Paper = Annotated[str, typer.Option("--paper", metavar="NAME", help="Paper: a4 or letter.")]
Helpers = Annotated[
    int, typer.Option("--helpers", min=1, max=99, help="How many people lend a hand.")
]
Json = Annotated[bool, typer.Option("--json", help="Print the data as JSON.")]


def named(containers: str | None) -> tuple[str, ...] | None:
    """Return the ids in a list of containers; None where none is given."""
    return tuple(name.strip() for name in containers.split(",")) if containers else None


def talk() -> "Console":
    """Return the console for talk: all that is not data goes to standard error."""
    from rich.console import Console

    return Console(stderr=True, highlight=False, soft_wrap=True)


class _Root(TyperGroup):
    """Loads commands when they are asked for, and turns errors a user can act on into text.

    Any other error keeps its traceback.
    """

    def list_commands(self, ctx: Any) -> list[str]:  # noqa: ANN401, ARG002 - as in the base class
        """Return the names of all commands."""
        for module in COMMANDS:
            self._load(module)
        return [name for names in COMMANDS.values() for name in names]

    def get_command(self, ctx: Any, cmd_name: str) -> Any:  # noqa: ANN401 - as in the base class
        """Return a command; only its own module is loaded, so that it starts fast."""
        for module, names in COMMANDS.items():
            if cmd_name in names and cmd_name not in self.commands:
                self._load(module)
        return super().get_command(ctx, cmd_name)

    def _load(self, module: str) -> None:
        import_module(f"packdown.cli.{module}")
        self.commands.update(typer.main.get_group(app).commands)

    def invoke(self, ctx: Any) -> Any:  # noqa: ANN401 - the signature of the base class
        """Run the command; end with the error's exit status where it raises one."""
        try:
            return super().invoke(ctx)
        except PackdownError as error:
            _show(error)
            raise typer.Exit(error.exit_code) from error
        except OSError as error:
            where = f"{error.filename}: " if error.filename else ""
            talk().print(f"[bold]Not done.[/] {where}{error.strerror or error}")
            raise typer.Exit(PackdownError.exit_code) from error


def _show(error: PackdownError) -> None:
    if isinstance(error, InputError):
        show_problems(error.problems, "Nothing was written.")
        return
    console = talk()
    console.print(error.message, markup=False, style="bold")
    if error.hint:
        console.print(error.hint, markup=False)


def show_problems(problems: Sequence[Problem], tail: str = "") -> None:
    """Say what is wrong with files, each problem with its place and what to do."""
    console = talk()
    count = len(problems)
    console.print(f"[bold]{count} problem{'s' if count > 1 else ''} found.[/] {tail}".rstrip())
    for problem in problems:
        where = f"{problem.file}: {problem.entry}" if problem.entry else problem.file
        console.print(f"  {where}", markup=False, style="bold")
        console.print(f"    {problem.message}", markup=False)
        if problem.hint:
            console.print(f"    {problem.hint}", markup=False, style="italic")


app = typer.Typer(
    name="packdown",
    cls=_Root,
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode="rich",
    help="Split, pack, carry and rebuild modular tabletop scenery, with every plan verified.",
)


def _version(*, value: bool) -> None:
    if value:
        sys.stdout.write(f"packdown {__version__}\n")
        raise typer.Exit


@app.callback()
def _root(
    *,
    version: Annotated[
        bool, typer.Option("--version", callback=_version, is_eager=True, help="Show the version.")
    ] = False,
) -> None:
    del version
