"""The benchmarks' own look at placed solids finds what is wrong, whoever packed."""

import pytest

from benchmarks.checking import Faults, faults
from benchmarks.compare_py3dbp import boxed
from benchmarks.outside import run_py3dbp
from benchmarks.plain import as_box, check, item_of, open_rules, plain_container
from benchmarks.published import identical_bins, single_container
from benchmarks.published_sets import bischoff_ratcliff, martello_pisinger_vigo
from packdown.geometry import Cuboid, Solid, rotated, translate, volume
from packdown.model import Fill, Packing, PackingProblem
from packdown.packing import pack

ROOM = (10, 10, 10)
CUBE = as_box((4, 4, 4))


def cube(x: int, y: int, z: int) -> Solid:
    """Return a cube of 4 at a place."""
    return translate(CUBE, x, y, z)


@pytest.mark.parametrize(
    ("solids", "found"),
    [
        ([cube(0, 0, 0), cube(4, 0, 0), cube(0, 0, 4)], Faults()),
        ([cube(0, 0, 0), cube(3, 3, 0)], Faults(overlaps=1)),
        ([cube(7, 0, 0)], Faults(outside=1)),
        ([cube(0, 0, 6)], Faults(floating=1)),
        ([cube(0, 0, 7)], Faults(floating=1, outside=1)),
        # 3 of 4 units of the base rest on the lower cube: 75 % of the wanted 80 %
        ([cube(0, 0, 0), cube(1, 0, 4)], Faults(floating=1)),
        # a table over a cube: the boxes overlap, the solids do not
        (
            [
                cube(2, 2, 0),
                (
                    Cuboid(0, 0, 0, 1, 8, 5),
                    Cuboid(7, 0, 0, 8, 8, 5),
                    Cuboid(0, 0, 5, 8, 8, 6),
                ),
            ],
            Faults(),
        ),
    ],
)
def test_faults_are_found(solids: list[Solid], found: Faults) -> None:
    """Overlaps, what reaches outside and what floats are counted, and nothing else."""
    assert faults(solids, ROOM) == found


def test_lost_items_and_changed_sizes_are_found() -> None:
    """An answer that loses an item is no answer."""
    problem = PackingProblem(
        items=(item_of("a", CUBE, 1), item_of("b", CUBE, 1)),
        containers=(plain_container("box", ROOM),),
        rules=open_rules(support_percent=80),
    )
    packing = pack(problem, effort=1, seed=0)
    assert check(problem, packing) == Faults()
    lost = Packing(
        fills=tuple(
            Fill(container=fill.container, placements=fill.placements[1:]) for fill in packing.fills
        ),
        unpacked=packing.unpacked,
    )
    with pytest.raises(ValueError, match="every item"):
        check(problem, lost)


def test_positions_of_py3dbp_are_read_right() -> None:
    """Boxes that fill a bin are placed by py3dbp, and found inside and apart by our check."""
    layers = tuple(
        item_of(f"layer-{index}", as_box((30_000, 20_000, 5_000)), 1) for index in range(3)
    )
    problem = boxed(
        PackingProblem(
            items=layers,
            containers=(plain_container("box", (30_000, 20_000, 15_000)),),
            rules=open_rules(support_percent=80),
        )
    )
    outcome = run_py3dbp(problem, bigger_first=True)
    assert (outcome.packed, outcome.containers, outcome.faults) == (3, 1, Faults())


def test_published_instances_become_problems() -> None:
    """Boxes of both sets keep their volume and may stand only as their instance allows."""
    kinds = bischoff_ratcliff(1, 1)
    problem = single_container(kinds, 100)
    upright = {
        item.id.partition("#")[0]: {
            rotated(item.cuboids_um, way, 0)[0][0].z1 // 1_000 for way in item.allowed_ways_up
        }
        for item in problem.items
    }
    assert upright == {"type-0": {30}, "type-1": {43, 25}, "type-2": {92, 81, 55}}
    assert len(problem.items) == 40 + 33 + 39

    sizes = martello_pisinger_vigo(6, 50, 1)
    bins = identical_bins(sizes, 10)
    assert sum(volume(item.cuboids_um) for item in bins.items) == 10**9 * sum(
        w * h * d for w, h, d in sizes
    )
