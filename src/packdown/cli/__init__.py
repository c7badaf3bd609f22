"""The command line: load, call, render."""

from packdown.cli import plans, workspaces  # each registers its commands with the app
from packdown.cli.app import app

__all__ = ["app", "main", "plans", "workspaces"]


def main() -> None:
    """Run the command line."""
    app()
