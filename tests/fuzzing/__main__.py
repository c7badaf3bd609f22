"""Fuzz all readers in turn: ``cd tests && python -m fuzzing --seconds 60``."""

import subprocess
import sys
import tempfile
from pathlib import Path
from typing import Annotated

import typer

from fuzzing.targets import TARGETS

app = typer.Typer(add_completion=False)


@app.command()
def main(
    names: Annotated[
        list[str] | None, typer.Argument(help="Readers; all if none is named.")
    ] = None,
    *,
    seconds: Annotated[float, typer.Option(help="Time for all of them together.")] = 60.0,
    keep: Annotated[Path | None, typer.Option(help="Folder for what is found.")] = None,
) -> None:
    """Give every reader spoilt files; exit status 1 if any goes wrong."""
    chosen = names or list(TARGETS)
    wrong = []
    home = keep or Path(tempfile.mkdtemp(prefix="fuzzing-"))
    for name in chosen:
        found = home / name.replace("/", "-")
        found.mkdir(parents=True, exist_ok=True)
        words = [
            sys.executable,
            "-m",
            "fuzzing.engine",
            name,
            str(seconds / len(chosen)),
            str(found),
        ]
        done = subprocess.run(words, check=False, capture_output=True, text=True)
        said = (done.stdout + done.stderr).strip().splitlines()
        runs = next((line.split()[-1] for line in said if "number_of_executed_units" in line), "")
        typer.echo(f"{name}: {f'{runs} files' if runs else ''.join(said[-1:])}")
        if done.returncode:
            typer.echo("\n".join(said[-40:]))
            typer.echo(f"{name} went wrong; the file is in {found}")
            wrong.append(name)
    raise typer.Exit(bool(wrong))


if __name__ == "__main__":
    app()
