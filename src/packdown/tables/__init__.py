"""Tables of parts and counts, as people have them, in and out."""

from packdown.tables.changes import Changes
from packdown.tables.heading import FIELDS, UNUSED
from packdown.tables.memory import FILE, Memory, memory_text, read_memory
from packdown.tables.out import COLUMNS, parts_table, separated_text, workbook_bytes
from packdown.tables.quantities import Decimal
from packdown.tables.reading import Preview, read_sheets, read_table

__all__ = [
    "COLUMNS",
    "FIELDS",
    "FILE",
    "UNUSED",
    "Changes",
    "Decimal",
    "Memory",
    "Preview",
    "memory_text",
    "parts_table",
    "read_memory",
    "read_sheets",
    "read_table",
    "separated_text",
    "workbook_bytes",
]
