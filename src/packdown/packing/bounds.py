"""Lower bounds on containers, litres and weight that hold for every plan, however it splits."""

from collections import Counter, defaultdict
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass

from packdown.geometry import (
    TURNS,
    Cuboid,
    Solid,
    Vector,
    WayUp,
    bounds,
    disjoint_union,
    rotate_cuboid,
    rotate_vector,
    translate,
    volume,
)
from packdown.model import Container, Lining, Piece, Rules, usable_payloads
from packdown.packing.counting import Kind, Relaxation, Room

__all__ = ["PackingBounds", "container_bounds"]

LIMIT = 0.2
"""Deterministic time for each of the three figures, roughly in seconds."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PackingBounds:
    """Figures below which no plan that packs every piece can be.

    Parameters
    ----------
    containers
        Number of containers used.
    volume_um3
        Their inner volume, in cubic micrometres.
    weight_g
        Weight of the packed containers, tares included.
    feasible
        False only if it is proved that no plan packs every piece; the figures are then 0.
    """

    containers: int
    volume_um3: int
    weight_g: int
    feasible: bool


@dataclass(frozen=True, slots=True)
class _Site:
    """What of a container matters to a piece alone: the room between its clearances."""

    room: Vector
    clearance: int
    steel: bool

    @property
    def volume_um3(self) -> int:
        """Volume for items that have each been inflated by the clearance along x and y."""
        length, width, height = self.room
        return max(0, length + self.clearance) * max(0, width + self.clearance) * height


@dataclass(frozen=True, slots=True)
class _Shape:
    """What of a piece decides where it fits alone."""

    size: Vector
    core: Solid
    ways_up: tuple[WayUp, ...]
    magnets: bool
    own_item: bool


def container_bounds(
    pieces: Sequence[Piece],
    containers: Sequence[Container],
    rules: Rules,
    *,
    bagged: Collection[str] | None = None,
    limit: float = LIMIT,
) -> PackingBounds:
    """Return lower bounds that hold for every plan that packs all pieces.

    Parameters
    ----------
    pieces
        Every piece to be packed, of builds and loose. Cores of one build share no volume.
    containers
        What may be used.
    rules
        Weight limit and groups.
    bagged
        Ids of the loose pieces that go into bags; None if that is not known and any of them may.
        A bag is no smaller than what is in it, but may lie as its pieces may not.
    limit
        Deterministic time for each figure. A small limit weakens the bounds, never breaks them.

    Notes
    -----
    A plan must put each piece into one container in which it fits alone, in an allowed way up and
    with clearance. Certain volumes (cores, inflated by the clearance where a piece is an item of
    its own) and weights add up to no more than a container holds. Two pieces that cover the
    middle of a container however they lie cannot share it. Of pieces to be kept apart a container
    has at most one, unless they can be in the same item. Weights of keys are left out.
    """
    sites = [_site(container) for container in containers]
    payloads = usable_payloads(containers, rules)
    rooms = [
        Room(volume_um3=site.volume_um3, payload_g=payloads[container.id])
        for site, container in zip(sites, containers, strict=True)
    ]
    alike: dict[tuple[object, ...], list[int]] = defaultdict(list)
    for index, container in enumerate(containers):
        alike[container.inner_um, container.tare_g, sites[index], rooms[index]].append(index)
    relaxation = Relaxation(_kinds(pieces, sites, rules, bagged), rooms, alike.values())
    figures = []
    for costs in (
        [1] * len(containers),
        [container.volume_um3 for container in containers],
        [container.tare_g for container in containers],
    ):
        least = relaxation.least(costs, limit)
        if least is None:
            return PackingBounds(containers=0, volume_um3=0, weight_g=0, feasible=False)
        figures.append(least)
    return PackingBounds(
        containers=figures[0],
        volume_um3=figures[1],
        weight_g=figures[2] + sum(piece.weight_g for piece in pieces),
        feasible=True,
    )


def _site(container: Container) -> _Site:
    length, width, height = container.inner_um
    clear = container.clearance_um
    room = (length - 2 * clear, width - 2 * clear, height)
    return _Site(room, clear, container.lining is Lining.STEEL)


def _kinds(
    pieces: Sequence[Piece],
    sites: Sequence[_Site],
    rules: Rules,
    bagged: Collection[str] | None,
) -> Counter[Kind]:
    """Count the pieces that are alike in all that the relaxation looks at."""
    apart, together = _memberships(rules.keep_apart), _memberships(rules.keep_together)
    known: dict[_Shape, tuple[tuple[int, bool, bool], ...]] = {}
    kinds: Counter[Kind] = Counter()
    for piece in pieces:
        bag = piece.build is None and (bagged is None or piece.id in bagged)
        shape = _shape(piece, bag=bag)
        if shape not in known:
            known[shape] = tuple(_alone(shape, site, bag=bag) for site in sites)
        unit = None if shape.own_item else piece.build or ""
        kind = Kind(
            weight_g=piece.weight_g,
            volumes_um3=tuple(certain for certain, _, _ in known[shape]),
            fits=tuple(fits for _, fits, _ in known[shape]),
            central=tuple(central for _, _, central in known[shape]),
            apart=tuple((group, unit) for group in apart[piece.id]),
            together=tuple(together[piece.id]),
        )
        kinds[kind] += 1
    return kinds


def _memberships(groups: Iterable[Collection[str]]) -> defaultdict[str, list[int]]:
    member: defaultdict[str, list[int]] = defaultdict(list)
    for index, group in enumerate(groups):
        for piece in set(group):
            member[piece].append(index)
    return member


def _shape(piece: Piece, *, bag: bool) -> _Shape:
    low = bounds(piece.cuboids_um)
    core = disjoint_union(translate(piece.core_um, -low.x0, -low.y0, -low.z0))
    own_item = piece.build is None and not bag
    return _Shape(low.size, core, piece.ways_up, own_item and piece.magnets > 0, own_item)


def _alone(shape: _Shape, site: _Site, *, bag: bool) -> tuple[int, bool, bool]:
    """Return a piece's certain volume, whether it fits, and whether it must cover the middle."""
    if bag:
        return volume(shape.core), True, False
    upright_only = shape.magnets and site.steel
    poses = [
        (way, turn)
        for way in shape.ways_up
        for turn in TURNS[:2]
        if _inside(_turned(shape.size, way, turn), site.room)
        and (way is WayUp.UPRIGHT or not upright_only)
    ]
    grown = site.clearance if shape.own_item else 0
    certain = min((_inflated(shape.core, way, grown) for way, _ in poses), default=0)
    central = any(
        all(_spans(_turned(cuboid.size, *pose), site.room) for pose in poses)
        for cuboid in shape.core
    )
    return certain, bool(poses), central


def _turned(size: Vector, way: WayUp, turn: int) -> Vector:
    x, y, z = rotate_vector(size, way, turn)
    return (abs(x), abs(y), abs(z))


def _inside(size: Vector, room: Vector) -> bool:
    return all(one <= two for one, two in zip(size, room, strict=True))


def _spans(size: Vector, room: Vector) -> bool:
    """Whether what lies in the room is longer than half of it on every axis."""
    return all(2 * one > two for one, two in zip(size, room, strict=True))


def _inflated(core: Solid, way: WayUp, clearance: int) -> int:
    """Volume of a solid grown by the clearance along x and y, as it lies."""
    turned = (rotate_cuboid(cuboid, way, 0) for cuboid in core)
    return volume(
        disjoint_union(
            Cuboid(c.x0, c.y0, c.z0, c.x1 + clearance, c.y1 + clearance, c.z1) for c in turned
        )
    )
