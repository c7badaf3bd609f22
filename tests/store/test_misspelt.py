"""Misspelt names find the right part; `benchmarks.finding` measures this on a large store."""

from pathlib import Path

from packdown.files import plan_json
from packdown.store.finding import find
from packdown.store.stowing import stow
from support.collections_in_boxes import collection, misspelt
from support.stores import file_store


def test_misspelt_names_find_the_right_part(tmp_path: Path) -> None:
    """With one or two typing errors at least 95 of 100 names find their part first."""
    plan, catalogue, names = collection(1_000, 20, 300)
    store = file_store(tmp_path)
    stow(store, plan, plan_json(plan), catalogue=catalogue)
    wrong = []
    with store.reading() as rows:
        for typed, name in misspelt(names, 100):
            hits = find(rows, typed, num_hits=1, num_places=1).hits
            if not hits or hits[0].name != name:
                wrong.append((typed, name))
    assert len(wrong) <= 5, wrong
