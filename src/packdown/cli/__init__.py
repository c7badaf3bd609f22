"""The command line: load, call, render."""

from packdown.cli import (  # each registers its commands with the app
    find,
    labels,
    plans,
    stow,
    workspaces,
)
from packdown.cli.app import app

__all__ = ["app", "find", "labels", "main", "plans", "stow", "workspaces"]


def main() -> None:
    """Run the command line."""
    app()
