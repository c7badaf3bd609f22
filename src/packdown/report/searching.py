"""A search and its answer as text."""

import json
from dataclasses import asdict
from pathlib import Path

from packdown.report.whereabouts import found_data, found_lines
from packdown.store.connection import Store
from packdown.store.finding import find
from packdown.store.location import store_url
from packdown.store.records import Found

__all__ = ["HITS", "PLACES", "search_store"]

HITS = 8
"""Hits that are shown unless all are asked for."""
PLACES = 4
"""Places of each."""
_NOTHING = "Nothing is called that, or anything like it.\n"


def search_store(
    words: str, store: str | None, *, everything: bool = False, as_json: bool = False
) -> tuple[str, Found]:
    """Search a store.

    Parameters
    ----------
    words
        What is looked for.
    store
        Where the store is, as the user said, or None.
    everything
        Whether everything that fits is told, with every place.
    as_json
        Whether the answer is JSON.

    Returns
    -------
    text, found
        The answer to be printed, and what was found.

    Raises
    ------
    StoreError
        If the store cannot be read.
    """
    with Store(store_url(store, Path())).reading() as rows:
        found = find(
            rows,
            words,
            num_hits=None if everything else HITS,
            num_places=None if everything or as_json else PLACES,
        )
    if as_json:
        text = json.dumps(found_data(found), indent=2, ensure_ascii=False, default=asdict) + "\n"
    elif found.hits:
        text = "".join(f"{line}\n" for line in found_lines(found))
    else:
        text = _NOTHING
    return text, found
