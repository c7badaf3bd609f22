"""What a stowing changes, in words."""

from collections import defaultdict
from collections.abc import Iterator

from packdown.report.whereabouts import plural
from packdown.store.differences import Difference
from packdown.store.stowing import Preview

__all__ = ["difference_lines"]


def difference_lines(preview: Preview) -> Iterator[str]:
    """Yield what comes into each container and whence, then what comes out."""
    if preview.other_workspaces:
        yield (
            f"So far this store holds {' and '.join(preview.other_workspaces)}. One store is for "
            "one workspace: pieces of the same name become one."
        )
    if not preview.differences:
        yield "Every piece is already recorded where the plan puts it."
        return
    flows: dict[tuple[str, str], list[Difference]] = defaultdict(list)
    for difference in preview.differences:
        flows[difference.after, difference.before].append(difference)
    for (after, before), moved in flows.items():
        number = sum(difference.number for difference in moved)
        told = ", ".join(_words(difference) for difference in moved)
        yield f"{before} -> {after}: {plural(number, 'piece')}"
        yield f"  {told}"


def _words(difference: Difference) -> str:
    if difference.in_build:
        return f"{plural(difference.number, 'piece')} of {difference.what}"
    return f"{difference.number} x {difference.what}"
