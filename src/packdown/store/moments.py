"""Points in time as the store keeps them: UTC, to the second."""

from datetime import UTC, datetime

__all__ = ["now", "shown"]

_FORMAT = "%Y-%m-%dT%H:%M:%SZ"


def now() -> str:
    """Return the present moment, such as ``2026-03-01T18:30:00Z``."""
    return datetime.now(UTC).strftime(_FORMAT)


def shown(moment: str) -> str:
    """Show a moment in local time, to the minute."""
    at = datetime.strptime(moment, _FORMAT).replace(tzinfo=UTC)
    return at.astimezone().strftime("%Y-%m-%d %H:%M")
