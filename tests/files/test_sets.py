"""Boxed sets: several copies are one line in the counts."""

import json
from collections import Counter
from pathlib import Path
from random import Random

import pytest

from packdown.files import new_workspace, read_workspace
from packdown.files.counts import read_counts
from packdown.files.parts import read_parts
from packdown.files.sets import read_sets
from support.commands import run
from support.workspaces import FILES, problems_in, write

SETS = """
[sets.yard]
name = "Stone yard"
contains = { slab = 2, fence = 1 }
[sets.quarter]
contains = { yard = 2, lamp = 1 }
"""
COUNTS = "part,count\nslab,1\nfence,2\nlamp,2\nyard,3\nquarter,2\n"


def with_sets(folder: Path, sets: str = SETS, counts: str = COUNTS) -> Path:
    """Write the quarry with sets."""
    return write(folder, FILES | {"sets.toml": sets, "counts.csv": counts})


def test_sets_are_counted_as_what_they_contain(tmp_path: Path) -> None:
    """Three yards and two quarters of two yards are seven yards: 14 slabs, 7 fences, 2 lamps."""
    folder = with_sets(tmp_path)
    workspace = read_workspace(folder)
    owned = Counter(piece.part for piece in workspace.loose)
    used = Counter(
        piece.part for build in workspace.builds if build.id == "face" for piece in build.pieces
    )
    # The cart is measured and contains one slab more.
    assert owned["slab"] + used["slab"] + 1 == 1 + 14
    assert owned["fence"] + used["fence"] == 2 + 7
    assert owned["lamp"] == 2 + 2


def test_a_workspace_with_sets_is_checked_and_planned(tmp_path: Path) -> None:
    """Check counts the pieces of sets, and a plan packs them."""
    folder = with_sets(tmp_path)
    status, shown, _ = run("check", folder)
    assert status == 0
    assert f"{len(read_workspace(folder).loose)} loose pieces" in shown
    assert run("plan", folder, "--effort", "1")[0] == 1  # the cart is longer than any crate
    plan = json.loads((folder / "plan.json").read_text(encoding="utf-8"))
    assert Counter(piece["part"] for piece in plan["pieces"])["lamp"] == 4


@pytest.mark.parametrize(
    ("sets", "counts", "expected"),
    [
        ("[sets.slab]\ncontains = { lamp = 1 }", COUNTS, ['sets.slab: "slab" is a part, too']),
        ("[sets.yard]", COUNTS, ["sets.yard.contains: is missing"]),
        ("[sets.yard]\ncontains = {}", COUNTS, ["sets.yard.contains: expected at least one"]),
        ("[sets.yard]\ncontains = { slap = 1 }", COUNTS, ['no part and no set "slap"']),
        ("[sets.yard]\ncontains = { slab = 0 }", COUNTS, ["sets.yard.contains.slab: expected a"]),
        ("[sets.yard]\ncontains = 5", COUNTS, ["sets.yard.contains: expected a table"]),
        ("[sets.yard]\ncontians = { slab = 1 }", COUNTS, ["contains: is missing", "unknown key"]),
        ("[sets.yard]\ncontains = { yard = 1 }", COUNTS, ["contains itself: yard contains yard"]),
        (SETS, "part,count\nyrad,1\n", ['unknown part "yrad"']),
        (SETS, "part,count\nslab,1\nyard,1\nyard,2\n", ["counted twice"]),
        (SETS, "part,count\nslab,1\nfence,1\nyard,9000\n", ["comes to 18,001 pieces of slab"]),
        (SETS, "part,count\nyard,1000000000\n", ["whole number from 0 to 10,000"]),
        (
            "[sets.a]\ncontains = { slab = 5000 }\n[sets.b]\ncontains = { a = 5000 }",
            "part,count\nb,1\n",
            ["sets.b.contains: comes to 25,000,000 pieces of slab"],
        ),
        ("[sets", COUNTS, ["is not TOML"]),
    ],
)
def test_mistakes_are_named(sets: str, counts: str, expected: list[str], tmp_path: Path) -> None:
    """File and entry of every mistake."""
    shown = "\n".join(str(problem) for problem in problems_in(with_sets(tmp_path, sets, counts)))
    for words in expected:
        assert words in shown


def test_all_mistakes_are_reported_at_once(tmp_path: Path) -> None:
    """Two circles, an unknown name and a bad number stand side by side."""
    sets = """
    [sets.a]
    contains = { b = 1 }
    [sets.b]
    contains = { c = 2, slab = 1 }
    [sets.c]
    contains = { a = 1 }
    [sets.d]
    contains = { d = 1 }
    [sets.e]
    contains = { nothing = 1 }
    [sets.f]
    contains = { slab = "two" }
    """
    shown = [str(problem) for problem in problems_in(with_sets(tmp_path, sets))]
    own = [line for line in shown if line.startswith("sets.toml")]
    assert sum("contains itself" in line for line in own) == 2
    assert any("nothing" in line for line in own)
    assert any("'two'" in line for line in own)
    assert len(own) == 4


def test_sets_may_be_nested_deeply(tmp_path: Path) -> None:
    """Two thousand sets, one in the other, are no trouble."""
    chain = "".join(f"[sets.s{n}]\ncontains = {{ s{n + 1} = 1 }}\n" for n in range(2_000))
    sets = f"{chain}[sets.s2000]\ncontains = {{ lamp = 3 }}\n"
    folder = with_sets(tmp_path, sets, "part,count\nslab,3\nfence,2\ns0,2\n")
    assert Counter(piece.part for piece in read_workspace(folder).loose)["lamp"] == 6


@pytest.mark.parametrize("seed", range(25))
def test_expansion_agrees_with_opening_every_box(seed: int, tmp_path: Path) -> None:
    """Opening boxes one by one until only parts are left gives the same counts.

    Numbers below the own one of a set name the sets before it; all others name parts.
    """
    rng = Random(seed)
    contents = [
        {number: rng.randint(1, 3) for number in rng.sample(range(10), rng.randint(1, 3))}
        for _ in range(rng.randint(1, 6))
    ]
    owned = [rng.randint(0, 4) for _ in contents]
    names = [
        {f"s{n}" if n < number else f"p{n}": count for n, count in inside.items()}
        for number, inside in enumerate(contents)
    ]
    folder = tmp_path
    part = '[parts.p{}]\nweight = "1 g"\nsize = ["1 mm", "1 mm", "1 mm"]\n'
    (folder / "parts.toml").write_text("".join(part.format(n) for n in range(10)), "utf-8")
    (folder / "sets.toml").write_text(
        "".join(
            f"[sets.s{n}]\ncontains = {{ {', '.join(f'{k} = {v}' for k, v in inside.items())} }}\n"
            for n, inside in enumerate(names)
        ),
        "utf-8",
    )
    boxes = [f"s{n}" for n in range(len(names)) for _ in range(owned[n])]
    lines = "".join(f"s{n},{owned[n]}\n" for n in range(len(names)))
    (folder / "counts.csv").write_text(f"part,count\n{lines}", "utf-8")
    parts = read_parts(folder, [])
    counts = read_counts(folder, [], parts, read_sets(folder, [], parts))
    opened: Counter[str] = Counter()
    while boxes:
        box = boxes.pop()
        for word, count in names[int(box[1:])].items():
            if word.startswith("p"):
                opened[word] += count
            else:
                boxes.extend([word] * count)
    assert {p: count for p, (count, _) in counts.items() if count} == dict(opened)


def test_sets_go_out_in_a_table_and_in_again(tmp_path: Path) -> None:
    """Export and import keep sets and their counts; a list of names may count them."""
    old = with_sets(tmp_path / "old")
    new_workspace(tmp_path / "new")
    assert run("export", old, "-o", tmp_path / "t.xlsx")[0] == 0
    assert run("import", tmp_path / "t.xlsx", tmp_path / "new", "--yes")[0] == 0
    again = run("export", tmp_path / "new")[1]
    assert sorted(again.splitlines()) == sorted(run("export", old)[1].splitlines())
    (tmp_path / "list.csv").write_text("what,qty\nstone yard,5\n", encoding="utf-8")
    assert run("import", tmp_path / "list.csv", old, "--yes")[0] == 0
    assert "yard,5" in (old / "counts.csv").read_text(encoding="utf-8")
    assert (old / "sets.toml").read_text(encoding="utf-8") == SETS


def test_too_many_pieces_in_all_are_refused(tmp_path: Path) -> None:
    """Eleven parts of 10,000 pieces each are more than a collection may have."""
    parts = "".join(
        f'[parts.q{n}]\nweight = "1 g"\nsize = ["1 mm", "1 mm", "1 mm"]\n' for n in range(11)
    )
    counts = "part,count\nslab,9\nfence,9\n" + "".join(f"q{n},10000\n" for n in range(11))
    files = FILES | {"parts.toml": FILES["parts.toml"] + parts, "counts.csv": counts}
    found = problems_in(write(tmp_path, files))
    assert [str(problem) for problem in found] == [
        "counts.csv: comes to 110,018 pieces in all, more than 100,000"
    ]
