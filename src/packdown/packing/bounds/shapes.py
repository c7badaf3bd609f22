"""What of a piece or an item, and of a container, the bounds look at."""

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
from packdown.model import Container, Item, Lining, Piece
from packdown.packing.bounds.measures import Lie
from packdown.packing.poses import poses_of

__all__ = ["Fit", "Shape", "Site", "Thing", "shape_of_item", "shape_of_piece", "site_of"]


@dataclass(frozen=True, slots=True)
class Site:
    """What of a container matters to a thing alone: the room between its clearances."""

    room: Vector
    clearance: int
    steel: bool

    @property
    def grown(self) -> Vector:
        """Room for things that have each been grown by the clearance along x and y."""
        length, width, height = self.room
        return (max(0, length + self.clearance), max(0, width + self.clearance), height)

    @property
    def volume_um3(self) -> int:
        """Volume of the grown room."""
        length, width, height = self.grown
        return length * width * height


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    """What of a thing decides where it fits alone, and what it takes there.

    Parameters
    ----------
    size
        Extent in its own frame.
    core
        Disjoint cuboids that nothing else passes through, in the same frame.
    poses
        Ways up and turns in which it may lie; turns that change no length may be left out.
    magnets
        Whether it stands upright on steel.
    own_item
        Whether it keeps the clearance from everything else.
    bag
        Whether it may be in a bag: it then takes its volume and is nowhere in particular.
    """

    size: Vector
    core: Solid
    poses: tuple[tuple[WayUp, int], ...]
    magnets: bool
    own_item: bool
    bag: bool

    def fit(self, site: Site) -> "Fit":
        """Say whether and how it fits into an empty container."""
        if self.bag:
            return Fit(fits=True, volume_um3=volume(self.core), grown=(), bare=())
        upright_only = self.magnets and site.steel
        poses = [
            (way, turn)
            for way, turn in self.poses
            if _inside(_turned(self.size, way, turn), site.room)
            and (way is WayUp.UPRIGHT or not upright_only)
        ]
        bare = [_boxes(self.core, way, turn, 0) for way, turn in poses]
        clear = site.clearance if self.own_item else 0
        grown = [_boxes(self.core, way, turn, clear) for way, turn in poses] if clear else bare
        return Fit(
            fits=bool(poses),
            volume_um3=min((sum(x * y * z for x, y, z in lie) for lie in grown), default=0),
            grown=tuple(dict.fromkeys(grown)) if self.core else (),
            bare=tuple(dict.fromkeys(bare)) if self.core else (),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Fit:
    """How a thing fits into one container alone.

    Parameters
    ----------
    fits
        Whether it does.
    volume_um3
        Room that it certainly takes of the grown room.
    grown, bare
        Its boxes in each way of lying, with the clearance added to what keeps it, and without.
    """

    fits: bool
    volume_um3: int
    grown: tuple[Lie, ...]
    bare: tuple[Lie, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Thing:
    """A piece or an item as the bounds see it; equal ones are counted.

    Parameters
    ----------
    shape
        Where it fits, and what it takes.
    weight_g
        Its weight.
    apart
        The groups of which a container holds no two. With each goes the unit whose pieces may
        share an item and so a container, or None for what is an item of its own.
    together
        The groups of which all are in one container.
    """

    shape: Shape
    weight_g: int
    apart: tuple[tuple[int, str | None], ...] = ()
    together: tuple[int, ...] = ()


def site_of(container: Container) -> Site:
    """Return what of a container matters to a thing alone."""
    length, width, height = container.inner_um
    clear = container.clearance_um
    room = (length - 2 * clear, width - 2 * clear, height)
    return Site(room, clear, container.lining is Lining.STEEL)


def shape_of_piece(piece: Piece, *, bag: bool) -> Shape:
    """Return the shape of a piece that may stay joined to others, or be in a bag."""
    low = bounds(piece.cuboids_um)
    own_item = piece.build is None and not bag
    return Shape(
        size=low.size,
        core=disjoint_union(translate(piece.core_um, -low.x0, -low.y0, -low.z0)),
        poses=tuple((way, turn) for way in piece.ways_up for turn in TURNS[:2]),
        magnets=own_item and piece.magnets > 0,
        own_item=own_item,
        bag=bag,
    )


def shape_of_item(item: Item) -> Shape:
    """Return the shape of an item, in the poses in which it stands by itself."""
    return Shape(
        size=bounds(item.cuboids_um).size,
        core=item.cuboids_um,
        poses=tuple((pose.way_up, pose.turn) for pose in poses_of(item)),
        magnets=item.magnets,
        own_item=True,
        bag=False,
    )


def _turned(size: Vector, way: WayUp, turn: int) -> Vector:
    x, y, z = rotate_vector(size, way, turn)
    return (abs(x), abs(y), abs(z))


def _inside(size: Vector, room: Vector) -> bool:
    return all(one <= two for one, two in zip(size, room, strict=True))


def _boxes(core: Solid, way: WayUp, turn: int, clearance: int) -> Lie:
    """Return the sizes, in order, of a solid grown by the clearance along x and y as it lies."""
    turned = [rotate_cuboid(cuboid, way, turn) for cuboid in core]
    if clearance:
        turned = list(
            disjoint_union(
                Cuboid(c.x0, c.y0, c.z0, c.x1 + clearance, c.y1 + clearance, c.z1) for c in turned
            )
        )
    return tuple(sorted(cuboid.size for cuboid in turned))
