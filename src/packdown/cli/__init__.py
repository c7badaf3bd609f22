"""The command line: load, call, render."""

from packdown.cli import find, plans, stow, workspaces  # each registers its commands with the app
from packdown.cli.app import app

__all__ = ["app", "find", "main", "plans", "stow", "workspaces"]


def main() -> None:
    """Run the command line."""
    app()
