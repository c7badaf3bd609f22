"""Running commands as a user would."""

import os
import subprocess
import sys
from pathlib import Path

from typer.testing import CliRunner

from packdown.cli import app

RUN = CliRunner()


def run(*words: str | Path, said: str = "") -> tuple[int, str, str]:
    """Run a command.

    Parameters
    ----------
    words
        The command with its arguments.
    said
        What stands on standard input.

    Returns
    -------
    tuple
        Exit status, standard output and standard error.
    """
    result = RUN.invoke(app, [str(word) for word in words], input=said)
    if result.exception and not isinstance(result.exception, SystemExit):
        raise result.exception
    return result.exit_code, result.stdout, result.stderr


def run_at_terminal(folder: Path, typed: str, *words: str) -> tuple[int, str, str]:
    """Run the program in a folder as if someone typed at a terminal; not on Windows."""
    here, there = os.openpty()
    os.write(here, typed.encode())
    done = subprocess.run(
        [sys.executable, "-m", "packdown", *words],
        stdin=there,
        capture_output=True,
        text=True,
        check=False,
        cwd=folder,
    )
    os.close(here)
    os.close(there)
    return done.returncode, done.stdout, done.stderr
