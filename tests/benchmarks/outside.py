"""py3dbp as the outside packer of the benchmarks: what comes of it on the same work.

It knows sizes, weights and bins, and may turn everything any way up.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from py3dbp import Bin, Packer
from py3dbp import Item as Box

from benchmarks.checking import Faults, faults
from benchmarks.plain import timed
from packdown.geometry import Cuboid, Solid, bounds
from packdown.model import Container, PackingProblem, usable_payloads

__all__ = ["Outcome", "litres", "run_py3dbp"]

MM = 1_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """What came of one packer."""

    packed: int
    containers: int
    litres: float
    placed_um3: int
    faults: Faults
    seconds: float


def run_py3dbp(problem: PackingProblem, *, bigger_first: bool) -> Outcome:
    """Run py3dbp: every bin is filled from the items that are left (`distribute_items`)."""
    packer = Packer()
    payloads = usable_payloads(problem.containers, problem.rules)
    for container in problem.containers:
        packer.add_bin(Bin(container.id, *_mm(container.inner_um), payloads[container.id]))
    for item in problem.items:
        packer.add_item(Box(item.id, *_mm(bounds(item.cuboids_um).size), item.weight_g))
    _, seconds = timed(
        lambda: packer.pack(bigger_first=bigger_first, distribute_items=True, number_of_decimals=3)
    )
    by_id = {container.id: container for container in problem.containers}
    used = [filled for filled in packer.bins if filled.items]
    return Outcome(
        packed=sum(len(filled.items) for filled in used),
        containers=len(used),
        litres=litres([by_id[filled.name] for filled in used]),
        placed_um3=sum(_solid(box)[0].volume for filled in used for box in filled.items),
        faults=sum(
            (
                faults([_solid(box) for box in filled.items], by_id[filled.name].inner_um)
                for filled in used
            ),
            Faults(),
        ),
        seconds=seconds,
    )


def _mm(size: Sequence[int]) -> tuple[Decimal, Decimal, Decimal]:
    """Length, height and depth for py3dbp, whose second axis is the height."""
    length, width, height = (Decimal(side) / MM for side in size)
    return (length, height, width)


def _solid(box: Box) -> Solid:
    x, z, y = (int(place * MM) for place in box.position)
    length, height, width = (int(side * MM) for side in box.get_dimension())
    return (Cuboid(x, y, z, x + length, y + width, z + height),)


def litres(containers: Sequence[Container]) -> float:
    """Return the volume of some containers."""
    return sum(container.volume_um3 for container in containers) / 10**15
