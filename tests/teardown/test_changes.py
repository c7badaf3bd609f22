"""Changes to a split."""

from dataclasses import replace
from random import Random

import pytest

from packdown.teardown import assemble, cuts, effort_of, joinable
from support.teardown_builds import KEY_G, RULES, SETTINGS, hall, joint, random_build, row


def test_the_cheapest_cuts_come_first() -> None:
    """A row of four has three cuts; the cheap one at its end leads, then the two dear ones."""
    build = row(4)
    joints = [joint(f"t{i}", f"t{i + 1}", effort_s=effort) for i, effort in enumerate((9, 9, 1))]
    build = replace(build, joints=tuple(joints))
    found = cuts(build, [piece.id for piece in build.pieces], SETTINGS, RULES, KEY_G)
    assert [option.effort_s for option in found] == [6, 14, 14]
    assert found[0].sub_assemblies == (("b/t0", "b/t1", "b/t2"), ("b/t3",))


def test_only_as_many_as_wanted() -> None:
    """No more cuts are returned than were asked for."""
    build = row(9)
    pieces = [piece.id for piece in build.pieces]
    assert len(cuts(build, pieces, SETTINGS, RULES, KEY_G, most=3)) == 3
    assert len(cuts(build, pieces, SETTINGS, RULES, KEY_G, most=99)) == 8


def test_a_piece_cannot_be_cut() -> None:
    """One piece, or two that a fixed joint holds, have no cut."""
    build = row(2)
    fixed = replace(build, joints=(joint("t0", "t1", fixed=True),))
    assert cuts(build, ["b/t0"], SETTINGS, RULES, KEY_G) == ()
    assert cuts(fixed, ["b/t0", "b/t1"], SETTINGS, RULES, KEY_G) == ()


@pytest.mark.parametrize("seed", range(6))
def test_both_halves_of_a_cut_are_items(seed: int) -> None:
    """Halves share all pieces, can both be assembled, and cost what the partition costs."""
    build = random_build(Random(seed), 10)
    pieces = tuple(piece.id for piece in build.pieces)
    for option in cuts(build, pieces, SETTINGS, RULES, KEY_G):
        one, two = option.sub_assemblies
        assert sorted(one + two) == sorted(pieces)
        assert option.effort_s == effort_of(build, option.sub_assemblies, RULES.place_s)
        for part, item in zip(option.sub_assemblies, option.items, strict=True):
            assert item == assemble(build, part, SETTINGS, KEY_G)


def test_effort_of_a_partition() -> None:
    """A row of four in three parts: two joints of 7 s and two more places of 5 s."""
    parts = [("b/t0",), ("b/t1", "b/t2"), ("b/t3",)]
    assert effort_of(row(4), parts, 5) == 2 * 7 + 2 * 5
    assert effort_of(row(4), [[piece.id for piece in row(4).pieces]], 5) == 0


def test_joinable_names_neighbours_and_what_joining_saves() -> None:
    """In a row of three parts the two pairs of neighbours save a joint and a place each."""
    parts = [("b/t0",), ("b/t1", "b/t2"), ("b/t3",)]
    assert joinable(row(4), parts, 5) == ((0, 1, 12), (1, 2, 12))


def test_joining_saves_what_is_said() -> None:
    """Joining any two sub-assemblies of a hall lowers the effort by just what was announced."""
    build = hall(3, 2)
    parts = [(piece.id,) for piece in build.pieces]
    for a, b, saved in joinable(build, parts, 5):
        joined = [part for i, part in enumerate(parts) if i not in {a, b}] + [parts[a] + parts[b]]
        assert effort_of(build, parts, 5) - effort_of(build, joined, 5) == saved
