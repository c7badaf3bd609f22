"""Why sub-assemblies cannot stay whole."""

from collections import Counter
from dataclasses import replace
from random import Random

from packdown.geometry import WayUp
from packdown.model import Build, Container
from packdown.teardown.assembly import Assembler
from packdown.teardown.graph import bits, graph_of
from packdown.teardown.refusals import ANY_WAY, Refusal, Refusals
from packdown.teardown.room import rooms_of
from packdown.teardown.units import Units
from support.teardown_builds import (
    KEY_G,
    RULES,
    SETTINGS,
    box,
    build_of,
    joint,
    mm,
    piece,
    random_build,
    row,
    undermined,
)


def refusals_of(build: Build, *containers: Container) -> tuple[Refusals, Assembler]:
    """Return refusals with nothing found out yet."""
    assembler = Assembler(build, SETTINGS, KEY_G)
    units = Units(graph_of(build), SETTINGS.joint_tolerance_um)
    return Refusals(units, assembler, rooms_of(containers, RULES)), assembler


def refused(refusals: Refusals, mask: int) -> bool:
    """Whether what is known refuses a set in every way up."""
    ways = 0
    for refusal in refusals.all:
        if refusal.meets(mask):
            ways |= refusal.ways
    return ways == ANY_WAY


def test_nothing_that_fits_is_refused() -> None:
    """What is learned from sets that do not fit refuses these, and no set that does.

    All joined sets of 40 builds of 9 pieces are tried, learning in random order; half of the
    builds have weak joints and pieces taken away. Most that do not fit need not be tried.
    """
    met: Counter[str] = Counter()
    for seed in range(40):
        random = Random(seed)
        build = undermined(random) if seed % 2 else random_build(random, 9)
        side = random.choice([65, 95, 300])
        refusals, assembler = refusals_of(build, box("a", side, side, side, payload_g=600))
        units, rooms = refusals.units, refusals.rooms
        masks = [m for m in range(1, 1 << units.count) if len(units.joined(m)) == 1]
        fits = {mask: assembler.fits(units.pieces(mask), rooms) for mask in masks}
        for mask in random.sample(masks, len(masks)):
            if not fits[mask] and not refused(refusals, mask):
                refusals.learn(mask)
                met["learned"] += 1
                assert refused(refusals, mask)
        assert not any(fits[mask] and refused(refusals, mask) for mask in masks), seed
        met["unfit"] += sum(not fit for fit in fits.values())
    assert met["unfit"] > 1_000
    assert met["learned"] < 0.5 * met["unfit"]


def test_a_cantilever_is_refused_with_whatever_is_beyond_it() -> None:
    """Three floors in a row hang out from a tower by one joint: more of them hang no less.

    The first, of 500 g, hangs 15 mm over its joint, which bears 50 mN m: 3 x 500 g x 9.81 m/s2 x
    15 mm are 221 mN m. Neither the second floor nor the third keeps it up; a post under it may.
    """
    floors = [
        piece(f"f{i}", mm(30 + 30 * i, 0, 50, 60 + 30 * i, 30, 60), weight_g=500) for i in range(3)
    ]
    tower = piece("tower", mm(0, 0, 0, 30, 30, 60), weight_g=9_000, ways_up=(WayUp.UPRIGHT,))
    pairs = [("tower", "f0"), ("f0", "f1"), ("f1", "f2"), ("post", "f0")]
    joints = [joint(*pair, 2 if pair[0] == "post" else 0, holds_g=10_000) for pair in pairs]
    build = build_of(
        [tower, *floors, piece("post", mm(30, 0, 0, 60, 30, 50))],
        [replace(each, bends_mnm=50) for each in joints],
    )
    refusals, _ = refusals_of(build, box("a", 500, 500, 500))
    refusals.learn(0b00011)
    assert refused(refusals, 0b00011)
    assert refused(refusals, 0b00111)
    assert refused(refusals, 0b01111)
    assert not refused(refusals, 0b10011)


def test_what_tips_is_refused_with_all_that_cannot_right_it() -> None:
    """A deck of 5 floors stands on one post under its first floor: its weight is beyond the post.

    The floors weigh 40 g each, 30 mm apart. About the far edge of the post they turn with -15, 15,
    45, 75 and 105 mm; a second post, or a weight of 9 kg on the first floor, rights the deck.
    """
    floors = [piece(f"f{i}", mm(30 * i, 0, 50, 30 + 30 * i, 30, 60)) for i in range(5)]
    posts = [
        piece(f"p{i}", mm(x, 0, 0, x + 30, 30, 50), weight_g=10) for i, x in enumerate((0, 90))
    ]
    weight = piece("weight", mm(0, 0, 60, 30, 30, 90), weight_g=9_000)
    pairs = [(f"f{i}", f"f{i + 1}", 0) for i in range(4)]
    pairs += [("p0", "f0", 2), ("p1", "f3", 2), ("f0", "weight", 2)]
    joints = [joint(*pair, holds_g=10**6) for pair in pairs]
    build = build_of([*floors, *posts, weight], joints)
    refusals, _ = refusals_of(build, box("a", 500, 500, 100, payload_g=20_000))
    refusals.learn(0b0101111)  # four floors on the first post
    upright = 1 << list(WayUp).index(WayUp.UPRIGHT)

    def tips(mask: int) -> bool:
        return any(each.ways & upright and each.meets(mask) for each in refusals.all)

    assert tips(0b0101111)
    assert tips(0b0111111)
    assert not tips(0b0100001)
    assert not tips(0b1101111)
    assert not tips(0b1111111)


def test_too_long_rows_are_refused_by_their_ends() -> None:
    """In a box for three tiles, four in a row are refused, and so are five that hold them."""
    refusals, _ = refusals_of(row(6), box("a", 91, 40, 10))
    refusals.learn(0b001111)
    assert refused(refusals, 0b011111)
    assert not refused(refusals, 0b011110)
    assert not refused(refusals, 0b000111)
    assert all(sum(1 for _ in bits(refusal.inside)) <= 4 for refusal in refusals.all)


def test_a_set_can_be_refused_by_itself() -> None:
    """Neither its parts nor more than it are meant."""
    refusals, _ = refusals_of(row(4), box("a", 200, 40, 10))
    refusals.forbid(0b0110)
    assert refusals.all == [Refusal(ANY_WAY, 0b0110, 0b1001)]
    assert refused(refusals, 0b0110)
    assert not refused(refusals, 0b0111)
    assert not refused(refusals, 0b0010)
