"""Tables of TOML files, read key by key, with every unknown key reported."""

import re
import tomllib
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import TypeVar

from packdown.errors import nearest
from packdown.files.place import ABSENT, Place
from packdown.files.values import Reader, name

__all__ = ["Table", "read_text", "read_toml"]

T = TypeVar("T")
D = TypeVar("D")


class Table:
    """One table of a file.

    Parameters
    ----------
    value
        What the file holds; anything but a table is a problem and reads as an empty one.
    place
        Where it stands.
    """

    def __init__(self, value: object, place: Place) -> None:
        self.place = place
        self._before = len(place.found)
        self._known: set[str] = set()
        self.usable = isinstance(value, dict)
        self._data: dict[str, object] = value if isinstance(value, dict) else {}
        if not self.usable:
            place.expected("a table of keys and values", value)

    def __contains__(self, key: str) -> bool:
        self._known.add(key)
        return key in self._data

    def __iter__(self) -> Iterator[str]:
        return iter(self._data)

    def plain(self) -> dict[str, object]:
        """Return all keys and values as they stand there."""
        return dict(self._data)

    def find(self, key: str, reader: Reader[T]) -> T | None:
        """Read a value that may be left out."""
        return reader(self._data[key], self.place.at(key)) if key in self else None

    def get(self, key: str, reader: Reader[T], default: D) -> T | D:
        """Read a value that has a default."""
        return reader(self._data[key], self.place.at(key)) if key in self else default

    def need(self, key: str, reader: Reader[T]) -> T:
        """Read a value that must be there."""
        self._known.add(key)
        place = self.place if self.usable else replace(self.place, found=[])
        return reader(self._data.get(key, ABSENT), place.at(key))

    def table(self, key: str) -> "Table":
        """Return a table inside this one; an empty one where there is none."""
        return Table(self._data[key] if key in self else {}, self.place.at(key))

    def tables(self, key: str) -> "Iterator[Table]":
        """Yield the tables of a list inside this one; none where there is no such list."""
        value = self._data[key] if key in self else []
        if isinstance(value, list):
            for index, each in enumerate(value):
                yield Table(each, self.place.at(key).at(index))
        else:
            self.place.at(key).expected("a list of tables", value)

    def entries(self) -> "Iterator[tuple[str, Table]]":
        """Yield every key of this table as the short name of a table inside it."""
        for key, value in self._data.items():
            self._known.add(key)
            name(key, self.place.at(key))
            yield key, Table(value, self.place.at(key))

    def done(self) -> bool:
        """Report keys that were never asked for; say whether the table is free of problems."""
        for key in self._data:
            if key not in self._known:
                self.place.at(key).report("unknown key", nearest(key, self._known))
        return len(self.place.found) == self._before


def read_text(path: Path, place: Place) -> str | None:
    """Read a text file in UTF-8, or report why it cannot be read."""
    try:
        return path.read_bytes().decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = error.object[: error.start].count(b"\n") + 1
        place.at(f"line {line}").report("is not UTF-8 text", "save the file as UTF-8")
    except OSError as error:
        place.report(f"cannot be read: {error.strerror or error}")
    return None


def read_toml(path: Path, place: Place) -> Table | None:
    """Read a TOML file, or report why it is none."""
    found = read_text(path, place)
    if found is None:
        return None
    try:
        return Table(tomllib.loads(found), place)
    except RecursionError:
        place.report("is nested too deeply")
    except ValueError as error:
        message, _, spot = str(error).partition(" (at ")
        at = re.match(r"line \d+, column \d+", spot)
        place.at(at[0] if at else "end of file").report(f"is not TOML: {message}")
    return None
