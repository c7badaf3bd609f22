"""The packing problem as flat arrays: identical items grouped into kinds."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from packdown.geometry import bounds, size, volume
from packdown.model import Container, Item, ItemKind, Lining, PackingProblem, usable_payloads
from packdown.packing import layout as at
from packdown.packing.groups import apart_groups, clusters
from packdown.packing.poses import Pose, lies_in, poses_of

__all__ = ["Kinds", "kinds_of"]

LARGE = 1 / 32
"""Share of a container of middling size from which on a kind is awkward to place."""

FEW_ITEMS, FEW_CUBOIDS = 16, 1_024
"""Most items, and cuboids of all their poses, of a problem with few."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Kinds:
    """A packing problem, ready for the compiled loops.

    Parameters
    ----------
    items
        The items of each kind, in the order of the problem.
    poses
        All poses, those of one kind together.
    ways
        For each pose a number that it shares with the poses of its kind that are the same way up.
    first_pose
        Row of the first pose of each kind, and the number of poses at the end.
    containers
        What may be used.
    kind_rows, pose_rows, cuboid_rows, anchor_rows, conflicts, boxes
        The arrays, with the columns of `layout`.
    fits
        Whether a kind has room in a container on its own, and so have all kinds of its cluster;
        one row for each container.
    need
        Volume that one item of each kind needs, in cubic micrometres: halfway from its solid to
        its bounding box, as a hollow can be used but in part.
    sizes
        Measures by which kinds may be sorted: `need`, the largest side area, the longest side.
    awkward
        Whether a kind, or one of its cluster, is a sub-assembly or large beside the containers.
    assembled, frail
        Whether a kind is a sub-assembly, and whether nothing may rest on some of it.
    """

    items: tuple[tuple[Item, ...], ...]
    poses: tuple[Pose, ...]
    ways: NDArray[np.int64]
    first_pose: tuple[int, ...]
    containers: tuple[Container, ...]
    kind_rows: NDArray[np.int64]
    pose_rows: NDArray[np.int64]
    cuboid_rows: NDArray[np.int64]
    anchor_rows: NDArray[np.int64]
    conflicts: NDArray[np.int64]
    boxes: NDArray[np.int64]
    fits: NDArray[np.bool_]
    need: NDArray[np.float64]
    sizes: tuple[NDArray[np.float64], ...]
    awkward: NDArray[np.bool_]
    assembled: NDArray[np.bool_]
    frail: NDArray[np.bool_]

    @property
    def few(self) -> bool:
        """Whether there is so little to place that a great many constructions are cheap."""
        return len(self.cuboid_rows) <= FEW_CUBOIDS and self.counts.sum() <= FEW_ITEMS

    @property
    def volume(self) -> int:
        """Volume of all items, in cubic micrometres."""
        return sum(len(items) * volume(items[0].cuboids_um) for items in self.items)

    @property
    def counts(self) -> NDArray[np.int64]:
        """How many items there are of each kind."""
        return np.array([len(items) for items in self.items], dtype=np.int64)


def kinds_of(problem: PackingProblem) -> Kinds:
    """Group the items of a problem and lay everything out in arrays."""
    apart = apart_groups(problem.items, problem.rules)
    together = clusters(problem.items, problem.rules)
    grouped: dict[object, list[int]] = {}
    for index, item in enumerate(problem.items):
        grouped.setdefault(_key(item, apart[index], together[index]), []).append(index)
    firsts = [problem.items[group[0]] for group in grouped.values()]
    groups = [apart[group[0]] for group in grouped.values()]
    cluster = [together[group[0]] for group in grouped.values()]
    poses_by_kind = [poses_of(item) for item in firsts]
    first_pose = np.cumsum([0, *(len(poses) for poses in poses_by_kind)]).tolist()
    poses = tuple(pose for own in poses_by_kind for pose in own)
    payloads = usable_payloads(problem.containers, problem.rules)
    conflicts = [[int(bool(a & b)) for b in groups] for a in groups]
    need = np.array([_need(item) for item in firsts], dtype=np.float64)
    extents = np.array([sorted(size(item.cuboids_um)) for item in firsts], np.float64).reshape(
        -1, 3
    )
    return Kinds(
        items=tuple(tuple(problem.items[i] for i in group) for group in grouped.values()),
        poses=poses,
        ways=_ways(poses_by_kind),
        first_pose=tuple(first_pose),
        containers=problem.containers,
        kind_rows=_table(
            [
                _kind_row(item, first_pose[k], first_pose[k + 1], cluster[k])
                for k, item in enumerate(firsts)
            ],
            at.KIND_COLUMNS,
        ),
        pose_rows=_table(_pose_rows(poses), at.POSE_COLUMNS),
        cuboid_rows=np.concatenate([np.zeros((0, 8), np.int64), *(p.cuboids for p in poses)]),
        anchor_rows=np.concatenate([np.zeros((0, 4), np.int64), *(p.anchors for p in poses)]),
        conflicts=_table(conflicts, len(firsts)),
        boxes=_table(
            [
                _box_row(box, problem.rules.support_percent, payloads[box.id])
                for box in problem.containers
            ],
            at.BOX_COLUMNS,
        ),
        fits=_fits(firsts, cluster, problem.containers, payloads),
        need=need,
        sizes=(need, extents[:, 1] * extents[:, 2], extents[:, 2]),
        awkward=_awkward(firsts, need, cluster, problem.containers),
        assembled=np.array([item.kind is ItemKind.SUB_ASSEMBLY for item in firsts], np.bool_),
        frail=np.array([item.carry_limit_g == 0 or bool(item.tender) for item in firsts], np.bool_),
    )


def _key(item: Item, apart: frozenset[int], cluster: int | None) -> object:
    return (
        item.cuboids_um,
        item.tender,
        item.centre_um,
        item.allowed_ways_up,
        item.weight_g,
        item.carry_limit_g,
        item.magnets,
        item.needed,
        apart,
        cluster,
    )


def _table(rows: list[list[int]], columns: int) -> NDArray[np.int64]:
    return np.array(rows, dtype=np.int64).reshape(len(rows), columns)


def _need(item: Item) -> float:
    return (volume(item.cuboids_um) + bounds(item.cuboids_um).volume) / 2


def _awkward(
    firsts: list[Item],
    need: NDArray[np.float64],
    cluster: list[int | None],
    containers: tuple[Container, ...],
) -> NDArray[np.bool_]:
    middling = float(np.median([box.volume_um3 for box in containers])) if containers else 0.0
    assembled = np.array([item.kind is ItemKind.SUB_ASSEMBLY for item in firsts], np.bool_)
    awkward: NDArray[np.bool_] = assembled | (need > LARGE * middling)
    for number in set(cluster) - {None}:
        members = [kind for kind, own in enumerate(cluster) if own == number]
        awkward[members] = awkward[members].any()
    return awkward


def _kind_row(item: Item, first: int, end: int, cluster: int | None) -> list[int]:
    return [
        item.weight_g,
        -1 if item.carry_limit_g is None else item.carry_limit_g,
        item.magnets,
        at.LAST if item.needed is None else item.needed,
        first,
        end,
        -1 if cluster is None else cluster,
    ]


def _ways(poses_by_kind: list[tuple[Pose, ...]]) -> NDArray[np.int64]:
    numbers: dict[tuple[int, str], int] = {}
    keys = [(kind, pose.way_up) for kind, poses in enumerate(poses_by_kind) for pose in poses]
    return np.array([numbers.setdefault(key, len(numbers)) for key in keys], dtype=np.int64)


def _pose_rows(poses: tuple[Pose, ...]) -> list[list[int]]:
    rows, cuboids, anchors = [], 0, 0
    for pose in poses:
        last_cuboid, last_anchor = cuboids + len(pose.cuboids), anchors + len(pose.anchors)
        rows.append(
            [
                *pose.size,
                cuboids,
                last_cuboid,
                anchors,
                last_anchor,
                *pose.centre,
                pose.lowest_area,
                pose.underside,
                pose.way_up == "upright",
            ]
        )
        cuboids, anchors = last_cuboid, last_anchor
    return rows


def _box_row(container: Container, support_percent: int, payload_g: int) -> list[int]:
    return [
        *container.inner_um,
        container.clearance_um,
        container.sheet_um,
        support_percent,
        payload_g,
        container.lining is Lining.STEEL,
    ]


def _fits(
    firsts: list[Item],
    cluster: list[int | None],
    containers: tuple[Container, ...],
    payloads: dict[str, int],
) -> NDArray[np.bool_]:
    """Whether a kind, and all that must be with it, has room in a container."""
    table = [
        [
            item.weight_g <= payloads[box.id]
            and any(lies_in(pose, item, box) for pose in poses_of(item))
            for item in firsts
        ]
        for box in containers
    ]
    fits = np.array(table, dtype=np.bool_).reshape(len(containers), len(firsts))
    for number in set(cluster) - {None}:
        members = [kind for kind, own in enumerate(cluster) if own == number]
        fits[:, members] = fits[:, members].all(axis=1, keepdims=True)
    return fits
