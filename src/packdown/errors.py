"""Errors a user can act on.

PackdownError          anything the program reports without a traceback
├── InputError         files that cannot be used: one or more `Problem`s, exit status 2
├── UsageError         a command that cannot be carried out as asked, exit status 2
└── StoreError         a store that cannot be read or written; it holds what it held before

Misuse of the Python interface stays ``ValueError`` or ``TypeError``. "It does not fit" is an
answer, never an error.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from difflib import get_close_matches

__all__ = ["InputError", "PackdownError", "Problem", "StoreError", "UsageError", "nearest"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """One thing wrong in one file.

    Parameters
    ----------
    file
        The file as the user would name it.
    entry
        Where in the file, such as ``parts.wall-2.weight`` or ``line 7, column count``.
    message
        What is wrong and what was expected.
    hint
        What to do about it; may be empty.
    """

    file: str
    entry: str
    message: str
    hint: str = ""

    def __str__(self) -> str:
        where = f"{self.file}: {self.entry}" if self.entry else self.file
        tail = f" ({self.hint})" if self.hint else ""
        return f"{where}: {self.message}{tail}"


class PackdownError(Exception):
    """Base of all errors that are shown as text, without a traceback."""

    exit_code = 2

    def __init__(self, message: str, *, hint: str = "") -> None:
        super().__init__(message)
        self.message = message
        self.hint = hint


class InputError(PackdownError):
    """Files that cannot be used, with every problem that was found in them."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = tuple(problems)
        if not self.problems:
            raise ValueError("an InputError needs at least one problem")
        super().__init__("\n".join(str(problem) for problem in self.problems))


class UsageError(PackdownError):
    """A command that cannot be carried out as it was asked."""


class StoreError(PackdownError):
    """A store that cannot be read or written; it holds what it held before."""


def nearest(name: str, valid: Iterable[str]) -> str:
    """Return a hint that names the valid name nearest to `name`, or lists what is valid.

    >>> nearest("wal-2", ["wall-2", "floor-2"])
    'did you mean "wall-2"?'
    >>> nearest("x", ["wall-2", "floor-2"])
    'known: floor-2, wall-2'
    """
    names = sorted(set(valid))
    close = get_close_matches(name, names, n=1, cutoff=0.6)
    if close:
        return f'did you mean "{close[0]}"?'
    if not names:
        return "none is defined yet"
    shown = ", ".join(names[:8])
    return f"known: {shown}" + (", ..." if len(names) > 8 else "")
