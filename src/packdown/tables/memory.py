"""What was said once of the user's own tables: columns.toml in the workspace."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

from packdown.errors import InputError, Problem
from packdown.files.part_text import toml_value
from packdown.files.place import Place
from packdown.files.table import Table, read_toml
from packdown.files.values import choice
from packdown.tables.heading import FIELDS, UNUSED, key_of
from packdown.tables.quantities import Decimal
from packdown.units import G_BY_UNIT, UM_BY_UNIT

__all__ = ["FILE", "Memory", "memory_text", "read_memory"]

FILE = "columns.toml"
_FIELDS = {name: name for name in (*FIELDS, UNUSED)}
_HEAD = "# How your own tables are to be read. packdown import reads this and adds to it.\n"


@dataclass(frozen=True, slots=True, kw_only=True)
class Memory:
    """How tables are read.

    Parameters
    ----------
    columns
        Fields by the headings of columns.
    units
        Units of ``length`` and ``weight`` where a table names none.
    decimal
        What stands before decimals where numbers do not say it.
    """

    columns: Mapping[str, str] = field(default_factory=dict)
    units: Mapping[str, str] = field(default_factory=dict)
    decimal: Decimal | None = None

    @property
    def fields(self) -> dict[str, str]:
        """Fields by headings, as headings are compared."""
        return {key_of(heading): name for heading, name in self.columns.items()}


def read_memory(folder: Path) -> Memory:
    """Read what a workspace remembers; nothing where it has no such file.

    Raises
    ------
    InputError
        With everything that is wrong in the file.
    """
    path = folder / FILE
    if not path.exists():
        return Memory()
    found: list[Problem] = []
    root = read_toml(path, Place(FILE, found)) or Table({}, Place(FILE, found))
    table = root.table("columns")
    columns = {heading: table.need(heading, choice(_FIELDS)) for heading in table}
    numbers = root.table("numbers")
    units = {
        kind: numbers.need(kind, choice({unit: unit for unit in known}))
        for kind, known in (("length", UM_BY_UNIT), ("weight", G_BY_UNIT))
        if kind in numbers
    }
    decimal = numbers.find("decimal", choice({str(mark): mark for mark in Decimal}))
    numbers.done()
    root.done()
    if found:
        raise InputError(found)
    return Memory(columns=columns, units=units, decimal=decimal)


def memory_text(memory: Memory) -> str:
    """Return the text of the file."""
    lines = [_HEAD, "[columns]"]
    lines.extend(
        f"{toml_value(head)} = {toml_value(name)}" for head, name in memory.columns.items()
    )
    lines.extend(("", "[numbers]"))
    lines.extend(f"{kind} = {toml_value(unit)}" for kind, unit in memory.units.items())
    if memory.decimal:
        lines.append(f"decimal = {toml_value(str(memory.decimal))}")
    return "\n".join(lines) + "\n"
