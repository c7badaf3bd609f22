"""Running commands as a user would."""

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
