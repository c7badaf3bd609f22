"""One state of the search: a partition of the builds and how it packs."""

from collections.abc import Callable
from dataclasses import dataclass

from packdown.geometry import volume
from packdown.model import Item, Packing, Prefer
from packdown.planning.job import Job, Partition

__all__ = ["Score", "State", "score_of", "state_of"]

Score = tuple[int, ...]
Stop = Callable[[], bool]


@dataclass(frozen=True, slots=True, kw_only=True)
class State:
    """A partition, its packing, and its score (less is better).

    Parameters
    ----------
    partition
        Sub-assemblies of each build.
    items
        All items of the partition.
    packing
        Where they lie.
    score
        Volume left out, then what the preference counts.
    hopeless
        Items that go into no container, however the rest is packed.
    """

    partition: Partition
    items: tuple[Item, ...]
    packing: Packing
    score: Score
    hopeless: frozenset[str]

    @property
    def missing(self) -> frozenset[str]:
        """Items without a place that another plan may find one for."""
        return frozenset(self.packing.unpacked) - self.hopeless

    @property
    def complete(self) -> bool:
        """Whether every item has a place for which there is one at all."""
        return not self.missing

    def container_of(self) -> dict[str, str]:
        """Return the container of each packed item."""
        return {
            placement.item: fill.container
            for fill in self.packing.fills
            for placement in fill.placements
        }


def score_of(
    job: Job, prefer: Prefer, partition: Partition, items: tuple[Item, ...], packing: Packing
) -> Score:
    """Return the score of a packed partition; tuples compare from the left.

    What is left out counts first. Then `rebuild` spares effort before containers, `boxes`
    containers and litres before effort, and `balanced` adds them up at the worths of the settings.
    """
    left = set(packing.unpacked)
    missing = sum(volume(item.cuboids_um) for item in items if item.id in left)
    inside = {container.id: container.volume_um3 for container in job.containers}
    space = sum(inside[fill.container] for fill in packing.fills)
    count = len(packing.fills)
    effort = job.cost_s(partition)
    if prefer is Prefer.REBUILD:
        return (missing, effort, count, space)
    if prefer is Prefer.BOXES:
        return (missing, count, space, effort)
    settings = job.settings
    worth = effort + count * settings.box_worth_s + settings.litre_worth_s * space // 10**15
    return (missing, worth, effort, space)


def state_of(job: Job, prefer: Prefer, partition: Partition, packing: Packing) -> State:
    """Return the state of a packed partition."""
    items = job.items(partition)
    return State(
        partition=partition,
        items=items,
        packing=packing,
        score=score_of(job, prefer, partition, items, packing),
        hopeless=frozenset(item.id for item in items if not job.choice(item)),
    )
