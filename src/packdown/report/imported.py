"""A table of parts as it was understood, before anything is written."""

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from rich.console import Console
from rich.table import Table

from packdown.units import format_size

if TYPE_CHECKING:
    from packdown.tables import Preview

__all__ = ["preview_data", "print_preview"]


def print_preview(preview: "Preview", console: Console) -> None:
    """Print how the columns were read, what each row says, and what was left out."""
    for column in preview.heading.columns:
        unit = f" in {column.unit}" if column.unit else ""
        console.print(f"{column.heading} -> {column.field}{unit}", markup=False)
    table = Table(box=None, pad_edge=False)
    for heading in ("part", "name", "size", "weight", "count", ""):
        table.add_column(heading, overflow="fold")
    for row in _rows(preview):
        table.add_row(*(str(cell) if cell is not None else "" for cell in row.values()))
    console.print(table)
    for line in _left_out(preview):
        console.print(line, markup=False)


def preview_data(preview: "Preview") -> dict[str, Any]:
    """Return the same as data for other programs."""
    return {
        "file": preview.sheet.file,
        "sheet": preview.sheet.name,
        "columns": {column.heading: column.field for column in preview.heading.columns},
        "parts": list(_rows(preview)),
        "left_out": list(_left_out(preview)),
    }


def _rows(preview: "Preview") -> Iterator[dict[str, Any]]:
    changes = preview.changes
    words = {
        **dict.fromkeys(changes.new, "new"),
        **dict.fromkeys(changes.changed, "changed"),
        **dict.fromkeys(changes.same, ""),
        **{part: f"differs from {file}, which is left as it is" for part, file in changes.kept},
    }
    for line in preview.understood.lines:
        before, _ = changes.counts.changed.get(line.part, (None, 0))
        status = words.get(line.part, "")
        if line.part in changes.counts.changed and before is not None:
            status = f"{status}, {before} before".removeprefix(", ")
        guess = " estimated" if line.part in changes.estimated else ""
        yield {
            "part": line.part,
            "name": line.entry.get("name"),
            "size": format_size(line.size_um) if line.size_um else None,
            "weight": f"{line.entry.get('weight') or ''}{guess}".strip() or None,
            "count": line.count,
            "status": status,
        }


def _left_out(preview: "Preview") -> Iterator[str]:
    sheet = preview.sheet
    if preview.heading.unused:
        yield f"Columns that are not used: {', '.join(preview.heading.unused)}."
    if preview.others:
        yield f"Sheets that are not read: {', '.join(preview.others)}; say --sheet for another."
    yield from (f"The file {note}." for note in sheet.notes)
    yield from (f"Not read: {reason}." for reason in preview.understood.skipped)
    if preview.understood.decimal:
        yield f"Decimals are written with a {preview.understood.decimal}."
