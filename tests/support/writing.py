"""A program that writes to a store: ``python -m support.writing URL PREFIX NUMBER``.

It stows a plan of its own container, then names every piece in it, each by a change of its own.
"""

import sys

from packdown.store.connection import Store
from packdown.store.individuals import describe
from support.stores import stowed
from support.stow_plans import stowing_plan


def main(url: str, prefix: str, number: int) -> None:
    """Stow so many pieces, then name each."""
    store = Store(url)
    names = [f"{prefix}#{n}" for n in range(1, number + 1)]
    stowed(store, stowing_plan({f"box-{prefix}": names}))
    for name in names:
        describe(store, name, name=f"the {name}")


if __name__ == "__main__":
    main(sys.argv[1], sys.argv[2], int(sys.argv[3]))
