"""A loaded vehicle, a flight, and lifts, in the terminal."""

from collections.abc import Sequence

from rich.console import Console
from rich.text import Text

from packdown.model import Loading
from packdown.report.blocks import columns, point, section
from packdown.report.cautions import Caution
from packdown.report.load_words import (
    left_lines,
    load_cautions,
    load_headline,
    load_steps,
    securing_lines,
)

__all__ = ["print_cautions", "print_load", "print_rows"]


def print_load(loading: Loading, console: Console) -> None:
    """Print what stands where in loading order, what to strap, what stays, and what to mind."""
    console.print(Text(load_headline(loading), style="bold"))
    section("In this order", console)
    for number, sentence in enumerate(load_steps(loading), 1):
        console.print(Text(f"{number:>3}  {sentence}"))
    for title, lines in (
        ("Strap or block", securing_lines(loading)),
        ("Stays behind", left_lines(loading)),
    ):
        if lines:
            section(title, console)
            for line in lines:
                point(f"{line}.", console)
    print_cautions(load_cautions(loading), console)


def print_cautions(cautions: Sequence[Caution], console: Console) -> None:
    """Print cautions."""
    for caution in cautions:
        section(caution.title, console)
        point(caution.text, console, mark="!")


def print_rows(
    title: str, headings: Sequence[str], rows: Sequence[Sequence[str]], console: Console
) -> None:
    """Print a table with a title."""
    section(title, console)
    grid = columns(*((heading, "left") for heading in headings))
    for row in rows:
        grid.add_row(*row)
    console.print(grid)
