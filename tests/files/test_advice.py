"""Advice on builds that can be read: each names file, entry, figures and what to do."""

from pathlib import Path

import pytest

from packdown.data import data_folder
from packdown.files import Advice, AdviceKind, read_advice, read_workspace
from support.drawn_builds import HALL, PARTS, workspace
from support.workspaces import FILES, altered, problems_in, write


def advice(folder: Path, build: str, parts: str = PARTS) -> tuple[Advice, ...]:
    """Return the advice on a build."""
    home = workspace(folder, build, parts)
    return read_advice(home, read_workspace(home))


def test_nothing_is_said_of_sound_builds(tmp_path: Path) -> None:
    """The hall and the example are as they are meant to be."""
    assert advice(tmp_path, HALL) == ()
    example = data_folder("examples") / "saltworks"
    assert read_advice(example, read_workspace(example)) == ()


@pytest.mark.parametrize(
    ("at", "offset", "hint"),
    [
        ('["65.5 mm", "0 mm"]', (1_500, 0, 0), "move g 1.5 mm to the left"),
        ('["62 mm", "2 mm", "8 mm"]', None, ""),
        ('["64 mm", "-2 mm"]', (0, -2_000, 0), "move g 2 mm to the back"),
        ('["66.9 mm", "1 mm"]', (2_900, 1_000, 0),
         "move g 2.9 mm to the left and 1 mm to the front"),
        ('["67 mm", "0 mm"]', None, ""),
        ('["-64.5 mm", "0 mm"]', (-500, 0, 0), "move g 0.5 mm to the right"),
    ],
)  # fmt: skip
def test_slots_that_almost_meet(
    tmp_path: Path, at: str, offset: tuple[int, int, int] | None, hint: str
) -> None:
    """Two floors side by side, off by less than 3 mm: which way, and how much.

    The sides that face each other have two slots each; 3 mm or more is a gap that is meant.
    """
    build = f"""
[builds.quay]
place = [
  {{ id = "f", part = "floor", at = [0, 0] }},
  {{ id = "g", part = "floor", at = {at} }},
]
glued = []
"""
    found = [a for a in advice(tmp_path, build) if a.kind is AdviceKind.ALMOST_MEET]
    if offset is None:
        assert found == []
        return
    (one,) = found
    assert (one.file, one.entry) == ("builds/yard.toml", "builds.quay.place[1]")
    assert one.message.startswith("2 slots of g almost meet f, off by ")
    assert one.hint == hint
    assert one.figures == {"slots": 2, **dict(zip(("x_um", "y_um", "z_um"), offset, strict=True))}


def test_slots_are_found_across_the_edges_of_fields(tmp_path: Path) -> None:
    """Wherever the two floors lie, the slots are seen."""
    for start in range(0, 6_000, 700):
        build = f"""
[builds.quay]
place = [
  {{ id = "f", part = "floor", at = ["{start / 1000} mm", "0 mm"] }},
  {{ id = "g", part = "floor", at = ["{start / 1000 + 66} mm", "-1 mm"] }},
]
"""
        (one,) = advice(tmp_path / str(start), build)
        assert one.figures["x_um"] == 2_000


def test_what_hangs_in_the_air_together(tmp_path: Path) -> None:
    """Two floors joined to each other, 40 mm up, beside nothing that holds them."""
    build = """
[builds.quay]
cell = 2
symbols = { F = "floor" }
plan = '''
F . .
-- height 40mm
. . FF
'''
"""
    build = build.replace(". . FF", ". . F F")
    (one,) = advice(tmp_path, build)
    assert one.kind is AdviceKind.HANGS
    assert one.entry == "builds.quay.plan: level 2, cell c1"
    assert one.message.startswith("F-2c1, F-2d1 hang 40 mm above the table")
    assert one.hint == "lower it until it rests, or join it to what stands"
    assert one.figures == {"height_um": 40_000, "pieces": 2, "missing_keys": 0}


def test_what_hangs_for_want_of_a_key(tmp_path: Path) -> None:
    """A jetty held by keys at its foot: without them it hangs, and the first key is named."""
    build = """
[builds.quay]
cell = 2
keys = [["F-2b1", "F-2c1"]]
symbols = { F = "floor", p = "post" }
plan = '''
p
-- height 50mm
F F F
'''
"""
    (one,) = advice(tmp_path, build)
    assert one.message.startswith("F-2b1, F-2c1 hang 50 mm above the table")
    assert one.hint == 'slots meet without a key: add ["F-2a1", "F-2b1"] to keys'
    assert one.figures["missing_keys"] == 1
    home = workspace(tmp_path / "all", build.replace('keys = [["F-2b1", "F-2c1"]]', ""))
    assert read_advice(home, read_workspace(home)) == ()


def test_what_rests_on_too_little(tmp_path: Path) -> None:
    """Two walls meant for one corner: the second came to lie on the end of the first."""
    parts = PARTS.replace('["44 mm", "10 mm", "50 mm"]', '["64 mm", "10 mm", "50 mm"]')
    build = """
[builds.quay]
cell = 2
symbols = { F = "floor", w = { part = "wall", on = "front" } }
plan = "Fww<"
"""
    (one,) = advice(tmp_path, build, parts)
    assert one.kind is AdviceKind.TIPS
    assert one.message.startswith("w-1a1-2 rests on w-1a1 with 16 % of its base")
    assert one.figures == {"percent": 16, "height_um": 58_000}  # 10 x 10 of 64 x 10 mm


def test_what_is_heavier_than_any_container_may_hold(tmp_path: Path) -> None:
    """A cart of 9 kg and boxes for 6 kg: whole it cannot be packed; in units it will be split."""
    files = altered("builds/rest.toml", 'weight = "110 g"', 'weight = "9 kg"')
    home = write(tmp_path, files)
    found = read_advice(home, read_workspace(home))
    (one,) = [a for a in found if a.kind is AdviceKind.HEAVY]
    assert (one.file, one.entry) == ("builds/rest.toml", "builds.cart")
    assert one.message == "weighs 9.0 kg, and no container may hold more than 6.0 kg"
    assert "describe it in units" in one.hint
    files["builds/rest.toml"] = FILES["builds/rest.toml"].replace('"90 g"', '"5900 g"')
    files["builds/rest.toml"] = files["builds/rest.toml"].replace('"40 g"', '"5900 g"')
    home = write(tmp_path, files)
    (one,) = read_advice(home, read_workspace(home))
    assert one.figures == {"weight_g": 11_800, "most_g": 6_000}
    assert "split for at least 2 containers" in one.hint


def test_more_used_than_owned_names_the_builds(tmp_path: Path) -> None:
    """Six slabs are needed at once by a face of two and a cart of four; five are owned."""
    files = altered("builds/rest.toml", "slab = 1", "slab = 4")
    files["counts.csv"] = FILES["counts.csv"].replace("slab,6", "slab,5")
    (problem,) = problems_in(write(tmp_path, files))
    assert problem.message == ("builds use 6 pieces of slab, but only 5 are owned: face 2, cart 4")
