"""The command line: load, call, render."""

from packdown.cli.app import app

__all__ = ["app", "main"]


def main() -> None:
    """Run the command line."""
    app()
