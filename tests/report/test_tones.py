"""Tones can be told apart without colour."""

from itertools import combinations, pairwise

from packdown.report.tones import _TONES, hatching, tones_for


def _grey(colour: str) -> float:
    """Luma of a colour (ITU-R BT.601 weights, from memory), from 0 to 255."""
    red, green, blue = (int(colour[i : i + 2], 16) for i in (1, 3, 5))
    return 0.299 * red + 0.587 * green + 0.114 * blue


def test_every_two_tones_differ_in_grey_print() -> None:
    """Either the hatching differs or the lightness does, by a tenth of the scale."""
    for one, two in combinations(_TONES, 2):
        same_hatching = (one.angles, one.dotted) == (two.angles, two.dotted)
        assert not same_hatching or abs(_grey(one.colour) - _grey(two.colour)) > 25


def test_neighbours_get_different_tones() -> None:
    """A chain of twenty things: no two that touch look alike."""
    chain = [{n - 1, n + 1} & set(range(20)) for n in range(20)]
    tones = tones_for(chain)
    assert all(a != b for a, b in pairwise(tones))


def test_hatching_stays_within_its_face() -> None:
    """Lines are cut to the outline; a plain tone has none."""
    square = ((100, 100), (400, 100), (400, 300), (100, 300))
    drawn = hatching(5, square)  # level lines
    starts = [part.split("l")[0].split() for part in drawn.split('"')[3].split("M")[1:]]
    assert len(starts) == 7  # at 120, 150 ... 300: multiples of 30 above 100, up to 300
    assert {start[0] for start in starts} == {"100"}
    assert hatching(0, square) == ""
