"""The lower bounds: never above what can be done, and tight where that is plain to see."""

import random
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import permutations, product
from math import prod

import pytest

from benchmarks.scenery import as_piece, scenery
from packdown.geometry import Cuboid, WayUp, cover_triangle
from packdown.model import Container, Lining, Piece, Rules
from packdown.packing import pack
from packdown.packing.bounds import PackingBounds, container_bounds
from packdown.packing.bounds.counting import Clique, Kind, Relaxation, Room

UNIT = 10_000  # um, the edge of one cell of the tiny instances

RULES = Rules(
    support_percent=80,
    shock_factor=3,
    joint_tolerance_um=200,
    weight_limit_g=15_000,
    place_s=9,
    effort_low=0.67,
    effort_high=1.33,
    key_weight_g=1,
)


def block(name: str, *size: int, build: str | None = None, weight: int = 100) -> Piece:
    """Return a box-shaped piece whose size is given in units."""
    length, width, height = (UNIT * side for side in size)
    solid = (Cuboid(0, 0, 0, length, width, height),)
    return Piece(
        id=name,
        part="block",
        name=name,
        build=build,
        weight_g=weight,
        cuboids_um=solid,
        core_um=solid,
    )


def box(
    name: str, *size: int, clearance: int = 0, tare: int = 500, payload: int = 9_000
) -> Container:
    """Return a container whose inner size and clearance are given in units."""
    length, width, height = (UNIT * side for side in size)
    return Container(
        id=name,
        name=name,
        type="box",
        inner_um=(length, width, height),
        outer_um=(length, width, height),
        tare_g=tare,
        payload_g=payload,
        clearance_um=UNIT * clearance,
    )


def packed_bounds(
    pieces: Sequence[Piece], containers: Sequence[Container], rules: Rules = RULES
) -> PackingBounds:
    """Return the bounds where no piece goes into a bag."""
    return container_bounds(pieces, containers, rules, bagged=())


# --- against brute force ------------------------------------------------------------------------


def places(size: Sequence[int], room: Sequence[int], clearance: int) -> Iterator[frozenset[int]]:
    """Yield the cells taken at each place and in each pose, the clearance included."""
    for pose in sorted(set(permutations(size))):
        taken = (pose[0] + clearance, pose[1] + clearance, pose[2])
        for at in product(*(range(r - t + 1) for r, t in zip(room, taken, strict=True))):
            spans = (range(a, a + t) for a, t in zip(at, taken, strict=True))
            yield frozenset(x * 10_000 + y * 100 + z for x, y, z in product(*spans))


def packs(sizes: Sequence[Sequence[int]], room: Sequence[int], clearance: int) -> bool:
    """Whether blocks can be placed apart in a box; whole places are enough for whole sizes."""

    def place(rest: Sequence[Sequence[int]], taken: frozenset[int]) -> bool:
        return not rest or any(
            place(rest[1:], taken | cells)
            for cells in places(rest[0], room, clearance)
            if not taken & cells
        )

    return place(sorted(sizes, key=prod, reverse=True), frozenset())


def least_by_force(
    sizes: Sequence[Sequence[int]], boxes: Sequence[Container], apart: frozenset[int], weight: int
) -> tuple[int, int, int] | None:
    """Return the least containers, volume and weight over all assignments, or None."""
    known: dict[tuple[int, tuple[Sequence[int], ...]], bool] = {}
    best: list[tuple[int, int, int]] = []
    for homes in product(range(len(boxes)), repeat=len(sizes)):
        fine = True
        for home, container in enumerate(boxes):
            inside = tuple(size for size, at in zip(sizes, homes, strict=True) if at == home)
            clear = container.clearance_um // UNIT
            length, width, height = (side // UNIT for side in container.inner_um)
            key = (home, inside)
            if key not in known:
                known[key] = weight * len(inside) <= container.payload_g and packs(
                    inside, (length - clear, width - clear, height), clear
                )
            fine = fine and known[key] and sum(homes[i] == home for i in apart) <= 1
        if fine:
            used = [boxes[home] for home in set(homes)]
            best.append(
                (
                    len(used),
                    sum(container.volume_um3 for container in used),
                    sum(container.tare_g for container in used) + weight * len(sizes),
                )
            )
    if not best:
        return None
    containers, volumes, weights = zip(*best, strict=True)
    return min(containers), min(volumes), min(weights)


@pytest.mark.parametrize("seed", range(80))
def test_bounds_never_exceed_the_best_found_by_trying_everything(seed: int) -> None:
    """No bound of a tiny random instance is above the best over all assignments and places."""
    rng = random.Random(seed)
    clearance = seed % 2
    sizes = [tuple(rng.randint(1, 3) for _ in range(3)) for _ in range(rng.randint(2, 5))]
    boxes = [
        box(
            f"box-{index}",
            *(rng.randint(2, 4) + 2 * clearance for _ in range(2)),
            rng.randint(2, 4),
            clearance=clearance,
            tare=rng.randint(1, 9) * 100,
            payload=rng.choice([200, 300, 9_000]),
        )
        for index in range(3)
    ]
    apart = frozenset(rng.sample(range(len(sizes)), 2)) if seed % 3 == 0 else frozenset[int]()
    pieces = [block(f"p{index}", *size) for index, size in enumerate(sizes)]
    rules = replace(RULES, keep_apart=(tuple(f"p{index}" for index in apart),))

    best = least_by_force(sizes, boxes, apart, 100)
    found = packed_bounds(pieces, boxes, rules)
    unsure = container_bounds(pieces, boxes, rules)
    if best is not None:
        for bound in (found, unsure):
            assert bound.feasible
            figures = (bound.containers, bound.volume_um3, bound.weight_g)
            assert all(low <= high for low, high in zip(figures, best, strict=True))
        assert found.containers >= 1
    if not found.feasible:
        assert best is None


def relaxed_by_force(
    pieces: Sequence[tuple[Kind, int]],
    rooms: Sequence[Room],
    costs: Sequence[int],
    cliques: Sequence[Clique],
) -> int | None:
    """Return the least cost over all assignments that keep to volumes, weights and cliques."""
    best: int | None = None
    singles = [kind for kind, number in pieces for _ in range(number)]
    for homes in product(range(len(rooms)), repeat=len(singles)):
        fine = all(kind.fits[home] for kind, home in zip(singles, homes, strict=True))
        for site, room in enumerate(rooms):
            inside = [kind for kind, home in zip(singles, homes, strict=True) if home == site]
            for row in range(2):
                taken = sum(kind.takes_um3[row][site] for kind in inside)
                fine = fine and taken <= room.volume_um3
            fine = fine and sum(kind.weight_g for kind in inside) <= room.payload_g
            for clique in cliques:
                if clique.site == site:
                    single = sum(kind in clique.kinds for kind in inside)
                    fine = fine and single + len({*inside} & {*clique.whole}) <= 1
        cost = sum(costs[site] for site in set(homes))
        if fine and (best is None or cost < best):
            best = cost
    return best


@pytest.mark.parametrize("seed", range(25))
def test_the_relaxation_is_solved_exactly(seed: int) -> None:
    """The least cost of a small relaxation is that of trying every assignment."""
    rng = random.Random(seed)
    sites = 3
    rooms = [
        Room(volume_um3=rng.randint(8, 16), payload_g=rng.randint(8, 16)) for _ in range(sites)
    ]
    pieces = [
        (
            Kind(
                number=number,
                weight_g=rng.randint(1, 7),
                takes_um3=tuple(tuple(rng.randint(1, 7) for _ in range(sites)) for _ in range(2)),
                fits=tuple(rng.random() < 0.8 for _ in range(sites)),
            ),
            rng.randint(1, 2),
        )
        for number in range(4)
    ]
    cliques = []
    for site in range(sites):
        inside = [kind for kind, _ in pieces if kind.fits[site] and rng.random() < 0.4]
        cut = rng.randint(0, len(inside))
        cliques.append(Clique(site=site, kinds=tuple(inside[:cut]), whole=tuple(inside[cut:])))
    costs = [rng.randint(1, 30) for _ in range(sites)]
    relaxation = Relaxation(dict(pieces), rooms, (), cliques)
    assert relaxation.least(costs, 5.0) == relaxed_by_force(pieces, rooms, costs, cliques)


@pytest.mark.parametrize("limit", [0.001, 0.02, 0.05, 0.1])
def test_an_unfinished_search_gives_no_more_than_was_proved(limit: float) -> None:
    """Ten rooms cut into three parts each fill ten again, whatever the solver has found by then."""
    rng = random.Random(2)
    numbers: Counter[Kind] = Counter()
    for _ in range(10):
        first, second = sorted(rng.sample(range(150, 850), 2))
        for part in (first, second - first, 1_000 - second):
            numbers[
                Kind(number=part, weight_g=1, takes_um3=((part,) * 14,), fits=(True,) * 14)
            ] += 1
    rooms = [Room(volume_um3=1_000, payload_g=30)] * 14
    least = Relaxation(numbers, rooms, [range(14)]).least([1] * 14, limit)
    assert least is not None
    assert least <= 10


@pytest.mark.parametrize("seed", range(8))
def test_bounds_never_exceed_a_packing_that_was_found(seed: int) -> None:
    """What the packer achieves on scenery of true solids is never below a bound."""
    problem = scenery(60, 6, seed=seed, mixed=seed % 2 == 1)
    packing = pack(problem, effort=1, seed=seed)
    assert not packing.unpacked
    bound = packed_bounds(
        [as_piece(item) for item in problem.items], problem.containers, problem.rules
    )
    filled = {fill.container for fill in packing.fills}
    used = [container for container in problem.containers if container.id in filled]
    assert 1 <= bound.containers <= len(used)
    assert bound.volume_um3 <= sum(container.volume_um3 for container in used)
    assert bound.weight_g <= sum(container.tare_g for container in used) + sum(
        item.weight_g for item in problem.items
    )


# --- tight where it is plain to see -------------------------------------------------------------


def test_volume_alone_decides_for_cubes() -> None:
    """Twenty cubes, eight to a box, need three boxes: 20 / 8 rounded up."""
    pieces = [block(f"p{index}", 1, 1, 1) for index in range(20)]
    boxes = [box(f"box-{index}", 2, 2, 2) for index in range(5)]
    bound = packed_bounds(pieces, boxes)
    assert bound.containers == 3
    assert bound.volume_um3 == 3 * (2 * UNIT) ** 3
    assert bound.weight_g == 20 * 100 + 3 * 500


def test_weight_alone_decides_for_heavy_pieces() -> None:
    """Seven pieces of 4 kg, three to a box of 13 kg, need three boxes."""
    pieces = [block(f"p{index}", 1, 1, 1, weight=4_000) for index in range(7)]
    boxes = [box(f"box-{index}", 9, 9, 9, payload=13_000) for index in range(4)]
    assert packed_bounds(pieces, boxes).containers == 3


def test_weight_limit_counts_with_the_tare() -> None:
    """A limit of 5 kg gross and 1 kg of tare leave 4 kg: one piece of 4 kg a box."""
    pieces = [block(f"p{index}", 1, 1, 1, weight=4_000) for index in range(2)]
    boxes = [box(f"box-{index}", 9, 9, 9, tare=1_000) for index in range(3)]
    rules = replace(RULES, weight_limit_g=5_000)
    assert packed_bounds(pieces, boxes, rules).containers == 2


def test_pieces_over_half_of_a_box_never_share_it() -> None:
    """Cubes of 6 in boxes of 10 fill 22 % of them, and still need a box each."""
    pieces = [block(f"p{index}", 6, 6, 6) for index in range(4)]
    boxes = [box(f"box-{index}", 10, 10, 10) for index in range(4)]
    assert packed_bounds(pieces, boxes).containers == 4


def test_clearance_takes_room() -> None:
    """Four plates of 4 x 4 x 1 fill a box of 8 x 8 x 1, but not with one unit between them."""
    pieces = [block(f"p{index}", 4, 4, 1) for index in range(4)]
    close = [box(f"box-{index}", 8, 8, 1) for index in range(2)]
    clear = [box(f"box-{index}", 10, 10, 1, clearance=1) for index in range(4)]
    assert packed_bounds(pieces, close).containers == 1
    # two plates side by side take 4 + 1 + 4 = 9 > 10 - 2 = 8 between the walls
    assert packed_bounds(pieces, clear).containers == 4
    assert not packed_bounds(pieces, clear[:3]).feasible
    # pieces of one build can stay joined, without clearance between them
    joined = [replace(piece, build="hall") for piece in pieces]
    assert packed_bounds(joined, clear).containers == 1


def test_least_volume_and_least_weight_may_want_other_containers() -> None:
    """One heavy small box or one light large one: each figure takes the cheaper."""
    boxes = [box("small", 2, 2, 2, tare=900), box("large", 3, 3, 3, tare=200)]
    bound = packed_bounds([block("p", 2, 2, 2)], boxes)
    assert bound.volume_um3 == (2 * UNIT) ** 3
    assert bound.weight_g == 100 + 200


def test_kept_apart_pieces_need_a_container_each() -> None:
    """Of loose pieces to be kept apart no two share a container."""
    pieces = [block(f"p{index}", 1, 1, 1) for index in range(3)]
    boxes = [box(f"box-{index}", 9, 9, 9) for index in range(3)]
    rules = replace(RULES, keep_apart=(("p0", "p1", "p2"),))
    assert packed_bounds(pieces, boxes, rules).containers == 3
    assert not packed_bounds(pieces, boxes[:2], rules).feasible


def test_kept_apart_pieces_of_one_build_may_be_one_item() -> None:
    """Pieces of one build may stay joined; those of two builds need two containers."""
    one = [block(f"p{index}", 1, 1, 1, build="hall") for index in range(3)]
    boxes = [box(f"box-{index}", 9, 9, 9) for index in range(3)]
    rules = replace(RULES, keep_apart=(("p0", "p1", "p2"),))
    assert packed_bounds(one, boxes, rules).containers == 1
    two = [*one[:2], replace(one[2], build="tower")]
    assert packed_bounds(two, boxes, rules).containers == 2


def test_kept_apart_pieces_in_one_bag_may_share_a_container() -> None:
    """Where any loose piece may go into a bag, two of them may be one item."""
    pieces = [block(f"p{index}", 1, 1, 1) for index in range(2)]
    boxes = [box(f"box-{index}", 9, 9, 9) for index in range(2)]
    rules = replace(RULES, keep_apart=(("p0", "p1"),))
    assert container_bounds(pieces, boxes, rules).containers == 1
    assert container_bounds(pieces, boxes, rules, bagged={"p0", "p1"}).containers == 1
    assert container_bounds(pieces, boxes, rules, bagged={"p0"}).containers == 2


def test_kept_together_pieces_share_one_container() -> None:
    """Four pieces of 3 kg need one box that carries 12 kg if they must be together."""
    pieces = [block(f"p{index}", 1, 1, 1, weight=3_000) for index in range(4)]
    boxes = [box("a", 9, 9, 9, payload=6_000, tare=1), box("b", 9, 9, 9, payload=6_000, tare=1)]
    strong = box("c", 9, 9, 9, payload=12_000, tare=900)
    rules = replace(RULES, keep_together=(("p0", "p1", "p2", "p3"),))
    assert packed_bounds(pieces, boxes).containers == 2
    assert not packed_bounds(pieces, boxes, rules).feasible
    assert packed_bounds(pieces, [*boxes, strong], rules).weight_g == 12_000 + 900


def test_a_piece_that_fits_nowhere_is_an_answer() -> None:
    """A piece too long for every box makes the whole infeasible, unless it may go into a bag."""
    pieces = [block("p", 5, 1, 1)]
    boxes = [box("a", 4, 4, 4)]
    assert packed_bounds(pieces, boxes) == PackingBounds(
        containers=0, volume_um3=0, weight_g=0, feasible=False
    )
    assert container_bounds(pieces, boxes, RULES).feasible


def test_ways_up_decide_what_fits() -> None:
    """A post of 1 x 1 x 3 lies in a box 2 high only if it may lie on a side."""
    post = block("p", 1, 1, 3)
    boxes = [box("a", 4, 4, 2)]
    assert packed_bounds([post], boxes).feasible
    stands = replace(post, ways_up=(WayUp.UPRIGHT, WayUp.UPSIDE_DOWN))
    assert not packed_bounds([stands], boxes).feasible


def test_magnets_stand_up_on_steel() -> None:
    """A loose magnetic post cannot lie down on steel; in a build its magnets may be covered."""
    post = replace(block("p", 1, 1, 3), magnets=2)
    steel = [replace(box("a", 4, 4, 2), lining=Lining.STEEL)]
    assert packed_bounds([post], [box("a", 4, 4, 2)]).feasible
    assert not packed_bounds([post], steel).feasible
    assert packed_bounds([replace(post, build="hall")], steel).feasible


def test_only_the_certain_volume_of_a_curved_piece_counts() -> None:
    """Two triangles may nest: what counts is the core, not the cover."""
    cover, core = cover_triangle(4 * UNIT, 4 * UNIT, UNIT, UNIT)
    pieces = [
        replace(block(f"p{index}", 1, 1, 1), cuboids_um=cover, core_um=core) for index in range(2)
    ]
    boxes = [box(f"box-{index}", 4, 4, 1) for index in range(2)]
    # covers: 2 * (4 + 3 + 2 + 1) = 20 > 16 cells; cores: 2 * (3 + 2 + 1) = 12
    assert packed_bounds(pieces, boxes).containers == 1


def test_nothing_to_pack_needs_nothing() -> None:
    """Without pieces every figure is 0; without containers a piece has no place."""
    assert packed_bounds([], [box("a", 1, 1, 1)]) == PackingBounds(
        containers=0, volume_um3=0, weight_g=0, feasible=True
    )
    assert not packed_bounds([block("p", 1, 1, 1)], []).feasible


def test_a_limit_weakens_but_never_breaks() -> None:
    """With next to no time for the solver the bounds are no higher, and nothing is disproved."""
    rng = random.Random(5)
    pieces = [
        block(f"p{index}", *(rng.randint(2, 7) for _ in range(3)), weight=rng.randint(50, 900))
        for index in range(60)
    ]
    boxes = [box(f"box-{index}", 10 + index % 3, 10, 10) for index in range(12)]
    full = packed_bounds(pieces, boxes)
    hasty = container_bounds(pieces, boxes, RULES, bagged=(), limit=1e-9)
    assert hasty.feasible
    assert 0 <= hasty.containers <= full.containers
    assert 0 <= hasty.volume_um3 <= full.volume_um3
    assert 0 <= hasty.weight_g <= full.weight_g


def test_the_same_bounds_come_out_twice() -> None:
    """The solver runs on one thread under a deterministic limit."""
    rng = random.Random(7)
    pieces = [block(f"p{index}", *(rng.randint(1, 4) for _ in range(3))) for index in range(40)]
    boxes = [box(f"box-{index}", 8, 6, 5) for index in range(8)]
    assert packed_bounds(pieces, boxes) == packed_bounds(pieces, boxes)


def test_large_figures_stay_exact() -> None:
    """Boxes of some cubic metres and sizes of odd micrometres neither overflow nor round."""
    inner = (1_999_999, 999_983, 1_000_003)
    boxes = [
        replace(box(f"box-{index}", 1, 1, 1), inner_um=inner, outer_um=inner) for index in range(9)
    ]
    pieces = [replace(block(f"p{index}", 1, 1, 1), weight_g=8_000) for index in range(5)]
    assert packed_bounds(pieces, boxes).volume_um3 == 5 * 1_999_999 * 999_983 * 1_000_003
