"""Where in which file something was read, and the problems found there."""

from dataclasses import dataclass
from typing import Self

from packdown.errors import Problem

__all__ = ["ABSENT", "Place", "show"]


class _Absent:
    """What is read where a file says nothing."""

    def __repr__(self) -> str:
        return "nothing"


ABSENT = _Absent()


def show(value: object) -> str:
    """Show a value from a file as it may have been written, cut to a readable length."""
    text = repr(value)
    return text if len(text) <= 60 else f"{text[:57]}..."


@dataclass(frozen=True, slots=True)
class Place:
    """An entry of a file, and the list in which all problems of a reading are gathered.

    Parameters
    ----------
    file
        The file as the user would name it.
    found
        All problems so far, in all files.
    entry
        Where in the file, such as ``parts.wall-2.size[1]``.
    """

    file: str
    found: list[Problem]
    entry: str = ""

    def at(self, step: str | int) -> Self:
        """Return the place of a key or of an element inside this one."""
        if isinstance(step, int):
            return self._moved(f"{self.entry}[{step}]")
        return self._moved(f"{self.entry}.{step}" if self.entry else step)

    def _moved(self, entry: str) -> Self:
        return type(self)(self.file, self.found, entry)

    def report(self, message: str, hint: str = "") -> None:
        """Add a problem of this entry."""
        self.found.append(Problem(file=self.file, entry=self.entry, message=message, hint=hint))

    def expected(self, what: str, value: object, hint: str = "") -> None:
        """Add the problem that something else was expected, or that the entry is missing."""
        if value is ABSENT:
            self.report(f"is missing; expected {what}", hint)
        else:
            self.report(f"expected {what}, not {show(value)}", hint)
