"""How much memory this program took at most."""

import sys
from pathlib import Path

__all__ = ["most_memory"]


def most_memory() -> int:
    """Return the most bytes that were in use; 0 where the system does not tell.

    Linux counts for `getrusage` what the parent had when it started the program, so the program's
    own high-water mark is read there.
    """
    status = Path("/proc/self/status")
    if status.exists():
        (line,) = (row for row in status.read_text().splitlines() if row.startswith("VmHWM"))
        return 1024 * int(line.split()[1])
    try:
        import resource  # noqa: PLC0415 - not on every system
    except ImportError:
        return 0
    used = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    return used if sys.platform == "darwin" else used * 1024
