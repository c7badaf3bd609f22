"""Run commands of the program in this process, one after the other, within limits of memory.

``python -m support.running_limited`` reads a list of commands as JSON and prints for each its
status, what it said, and the seconds of the processor; at the end the most memory in use.
"""

import json
import sys
import time
import traceback
from typing import Any

from support.most_memory import most_memory

MEMORY = 3 * 2**30
"""Address space; libraries reserve far more of it than they use."""


def limit() -> None:
    """Limit the address space of this process, where the system can do so."""
    try:
        import resource  # noqa: PLC0415 - not on every system

        resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
    except (ImportError, ValueError):
        return


def run_all(commands: list[list[str]]) -> dict[str, Any]:
    """Run all commands."""
    from support.commands import run  # noqa: PLC0415 - once memory is limited

    outcomes = []
    for words in commands:
        start = time.process_time()
        try:
            status, shown, talk = run(*words)
        except BaseException:  # noqa: BLE001 - nothing may get out, whatever it is
            status, shown, talk = -1, "", traceback.format_exc()
        seconds = time.process_time() - start
        outcomes.append({"status": status, "said": shown + talk, "seconds": seconds})
    return {"outcomes": outcomes, "memory": most_memory()}


if __name__ == "__main__":
    limit()
    sys.stdout.write(json.dumps(run_all(json.load(sys.stdin))))
