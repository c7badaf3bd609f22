"""Headings, points and tables of everything that is printed in the terminal."""

from typing import Literal

from rich import box
from rich.console import Console
from rich.table import Table
from rich.text import Text

__all__ = ["columns", "point", "section"]


def section(title: str, console: Console) -> None:
    """Print a heading below an empty line."""
    console.print()
    console.print(Text(title, style="bold underline"))


def point(sentence: str, console: Console, mark: str = "-") -> None:
    """Print a sentence with a mark before it, its lines indented."""
    grid = Table.grid(padding=(0, 1))
    grid.add_column(width=1)
    grid.add_column()
    grid.add_row(mark, Text(sentence))
    console.print(grid)


def columns(*headings: tuple[str, Literal["left", "right"]]) -> Table:
    """Return a table without frame, from headings and how their columns are set."""
    table = Table(box=box.SIMPLE_HEAD, pad_edge=False, padding=(0, 1), show_edge=False)
    for heading, justify in headings:
        table.add_column(heading, justify=justify, no_wrap=justify == "right", overflow="fold")
    return table
