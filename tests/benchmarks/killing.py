"""Kill the program at many random moments, and count what is left: the old state or the new.

Nothing else may be left: the run ends with an error if a store does not open, is not sound, or
holds neither. It kills 210 times, 30 times each kind of work.
"""

import argparse
import sys
import time

from support.killing import main


def run() -> None:
    """Print how often the old and the new state were left by each kind of work."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--kills", type=int, default=210)
    parser.add_argument("--seed", type=int, default=0)
    asked = parser.parse_args()
    began = time.monotonic()
    left = main(asked.kills, asked.seed)
    say = sys.stdout.write
    say(f"{'killed during':<14}{'old':>6}{'new':>6}\n")
    for name, states in left.items():
        say(f"{name:<14}{states.get('old', 0):>6}{states.get('new', 0):>6}\n")
    total = sum(sum(states.values()) for states in left.values())
    say(f"{total} kills in {time.monotonic() - began:.0f} s; nothing else was left\n")


if __name__ == "__main__":
    run()
