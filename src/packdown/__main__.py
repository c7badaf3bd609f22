"""Starts the program.

A search must be quick, and the libraries of the command line take longer to load than a search.
So one that asks for nothing else is answered without them; whatever else is said, and whatever
goes wrong, is left to the full command line.
"""

import sys
from collections.abc import Sequence
from typing import NamedTuple

__all__ = ["main"]


class _Search(NamedTuple):
    """A search as it was typed."""

    words: str
    store: str | None
    everything: bool
    as_json: bool


def main() -> None:
    """Run the program."""
    search = _simple_search(sys.argv[1:])
    if search:
        _answer(search)
    from packdown.cli import main as full  # noqa: PLC0415 - see above

    full()


def _simple_search(said: Sequence[str]) -> _Search | None:
    """Read a search that has no other options than these, or return None."""
    if said[:1] != ["find"]:
        return None
    words, store, flags = [], None, set()
    rest = iter(said[1:])
    for word in rest:
        if word == "--store":
            store = next(rest, None)
            if store is None:
                return None
        elif word in {"--all", "--json"}:
            flags.add(word)
        elif word.startswith("-"):
            return None
        else:
            words.append(word)
    if not words:
        return None
    return _Search(" ".join(words), store, "--all" in flags, "--json" in flags)


def _answer(search: _Search) -> None:
    """Print what a search finds and end the program; come back if it cannot be answered."""
    from packdown.errors import PackdownError  # noqa: PLC0415 - see above
    from packdown.report.searching import search_store  # noqa: PLC0415 - see above

    try:
        text, found = search_store(
            search.words, search.store, everything=search.everything, as_json=search.as_json
        )
    except (PackdownError, OSError):
        return
    sys.stdout.write(text)
    sys.exit(0 if found.hits else 1)


if __name__ == "__main__":
    main()
