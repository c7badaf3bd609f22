"""Blocks: put together once, then turned, mirrored, repeated and lowered as one."""

from pathlib import Path

import pytest

from packdown.files import read_workspace
from packdown.geometry import Cuboid, bounds
from packdown.model import Build
from support.drawn_builds import PARTS, workspace
from support.workspaces import problems_in

BAY = """
[symbols]
F = "floor"
w = { part = "wall", on = "front" }
h = { part = "hook", on = "front-left" }
[blocks.bay]
cell = 2
plan = '''
Fw<
Fw
'''
[blocks.crook]
plan = "h"
"""


def placed(folder: Path, uses: str, parts: str = PARTS) -> dict[str, Cuboid]:
    """Return the boxes around the pieces of a build of blocks, in millimetres."""
    (build,) = read_workspace(workspace(folder, f"{BAY}[builds.quay]\n{uses}", parts)).builds
    assert isinstance(build, Build)
    return {
        piece.id.partition("/")[2]: Cuboid(*(um // 1_000 for um in bounds(piece.cuboids_um)))
        for piece in build.pieces
    }


def test_a_block_is_turned_as_one(tmp_path: Path) -> None:
    """A bay of 64 x 128 mm, a quarter turn anticlockwise: its front looks to the right."""
    boxes = placed(tmp_path, "blocks = [{ id = 'n', block = 'bay', at = [1, 0], turn = 90 }]")
    assert boxes["n-F-1a1"] == (96, 0, 0, 160, 64, 8)
    assert boxes["n-F-1a2"] == (32, 0, 0, 96, 64, 8)
    assert boxes["n-w-1a1"] == (150, 10, 8, 160, 54, 58)
    assert boxes["n-w-1a2"] == (42, 0, 8, 86, 10, 58)  # the left wall is now in front


def test_a_block_is_mirrored_where_its_parts_are_symmetric(tmp_path: Path) -> None:
    """Left and right are swapped: the wall on the left stands on the right."""
    boxes = placed(tmp_path, "blocks = [{ id = 'm', block = 'bay', at = [0, 0], mirror = true }]")
    assert boxes["m-F-1a2"] == (0, 64, 0, 64, 128, 8)
    assert boxes["m-w-1a2"] == (54, 74, 8, 64, 118, 58)
    assert boxes["m-w-1a1"] == (10, 0, 8, 54, 10, 58)


def test_blocks_are_repeated_and_rest_on_each_other(tmp_path: Path) -> None:
    """Two side by side, and one that comes down on both as a whole."""
    boxes = placed(
        tmp_path,
        """
        blocks = [
            { id = "low", block = "bay", at = [0, 0], repeat = { count = [2, 1], step = [2, 0] } },
            { id = "top", block = "bay", at = [1, 0] },
        ]
        """.replace("        ", ""),
    )
    assert boxes["low-2-F-1a1"] == (64, 0, 0, 128, 64, 8)
    assert {boxes[name].z0 for name in ("top-F-1a1", "top-F-1a2")} == {58}
    assert boxes["top-w-1a2"].z0 == 66


def test_a_mirror_part_takes_the_place_of_a_part(tmp_path: Path) -> None:
    """A hook is no mirror image of itself in any turn; a left-hand hook is."""
    use = "blocks = [{ id = 'm', block = 'crook', at = [0, 0], mirror = true }]"
    (problem,) = problems_in(workspace(tmp_path / "a", f"{BAY}[builds.quay]\n{use}"))
    assert problem.entry == "builds.quay.blocks[0].block"
    assert 'no mirror image of "hook" (h-1a1)' in problem.message
    assert "mirror in parts.toml" in problem.hint
    left = """
mirror = "left-hook"
[parts.left-hook]
weight = "9 g"
cuboids = [
  { from = ["0 mm", "0 mm", "0 mm"], to = ["32 mm", "8 mm", "20 mm"] },
  { from = ["24 mm", "8 mm", "0 mm"], to = ["32 mm", "24 mm", "10 mm"] },
]
slots = [{ side = "left", at = ["4 mm", "10 mm"], kind = "press-fit" }]
"""
    folder = workspace(tmp_path / "b", f"{BAY}[builds.quay]\n{use}", PARTS + left)
    (build,) = read_workspace(folder).builds
    assert [piece.part for piece in build.pieces] == ["left-hook"]
    assert build.pieces[0].cuboids_um == (
        Cuboid(0, 0, 0, 32_000, 8_000, 20_000),
        Cuboid(24_000, 8_000, 0, 32_000, 24_000, 10_000),
    )


@pytest.mark.parametrize(
    ("use", "words"),
    [
        ("{ id = 'm', block = 'bey', at = [0, 0] }", 'there is no block "bey" (did you mean "bay"'),
        ("{ id = 'm', block = 'bay' }", "at: is missing"),
        ("{ id = 'm', block = 'bay', at = [0, 0], mirror = 1 }", "expected true or false"),
        ("{ id = 'm', block = 'bay', at = [0, 0], turn = 45 }", "one of 0, 90, 180, 270"),
        (
            (
                "{ id = 'm', block = 'bay', at = [0, 0], "
                "repeat = { count = [30, 30], step = [9, 9] } }"
            ),
            "at most 1,000 pieces",
        ),
    ],
)
def test_slips_are_named(tmp_path: Path, use: str, words: str) -> None:
    """Every slip says which use of which block it is in."""
    found = problems_in(workspace(tmp_path, f"{BAY}[builds.quay]\nblocks = [{use}]"))
    assert any(words in str(problem) for problem in found), found


def test_a_faulty_block_is_reported_once(tmp_path: Path) -> None:
    """Builds that use it say nothing more."""
    use = "blocks = [{ id = 'm', block = 'bay', at = [0, 0] }]"
    build = BAY.replace("Fw<\n", "Fx\n") + f"[builds.quay]\n{use}"
    (problem,) = problems_in(workspace(tmp_path, build))
    assert problem.entry == "blocks.bay.plan: level 1, cell a2"
