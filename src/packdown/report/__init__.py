"""What people read: the terminal summary, where things are, and the pack book.

What prints plans is loaded when it is asked for: a search must start fast.
"""

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from packdown.report.terminal import print_steps, steps_table, summary, verification

__all__ = ["print_steps", "steps_table", "summary", "verification"]


def __getattr__(name: str) -> Any:  # noqa: ANN401 - whatever the module holds
    if name not in __all__:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    from packdown.report import terminal  # noqa: PLC0415 - only when it is asked for

    return getattr(terminal, name)
