"""Sub-assemblies as items: their solid, weight, balance, and how they may lie."""

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import reduce

from packdown.geometry import (
    Cuboid,
    Solid,
    Vector,
    WayUp,
    bounds,
    inside_hull,
    lowest_faces,
    rotate_vector,
    rotated,
)
from packdown.model import (
    Build,
    Item,
    ItemKind,
    JointKind,
    Piece,
    Settings,
    grown,
    merged_solid,
)
from packdown.teardown.collapse import SLACK, Fall, collapse
from packdown.teardown.graph import BuildGraph, bits, graph_of
from packdown.teardown.room import Room
from packdown.teardown.strength import holds
from packdown.teardown.wishes import parted

__all__ = ["Assembler", "assemble"]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Outline:
    """What is known of a sub-assembly before its covers are merged, in the build's frame."""

    covers: tuple[Solid, ...]
    box: Cuboid
    centre: Vector
    weight_g: int
    ways: tuple[WayUp, ...]
    magnets: bool


class Assembler:
    """Makes items of sub-assemblies of one build, and keeps every answer.

    Parameters
    ----------
    build
        The build.
    settings
        Shock factor and tolerance of the joints.
    key_weight_g
        Weight of one key.
    """

    def __init__(self, build: Build, settings: Settings, key_weight_g: int) -> None:
        self.graph = graph_of(build)
        self.settings = settings
        self.holding = (settings.joint_tolerance_um, settings.shock_factor, key_weight_g)
        self.key_weight_g = key_weight_g
        self._outlines: dict[int, _Outline] = {}
        self._lies: dict[tuple[int, WayUp], bool] = {}
        self._carries: dict[tuple[int, WayUp], bool] = {}
        self._falls: dict[WayUp, list[Fall]] = {way: [] for way in WayUp}

    def fits(self, mask: int, rooms: Sequence[Room]) -> bool:
        """Whether a sub-assembly is connected and lies in some room; see `can_lie`."""
        return any(self._ways_into(mask, rooms))

    def is_carried(self, mask: int, rooms: Sequence[Room]) -> bool:
        """Whether a sub-assembly also stands still in a way that some room admits."""
        return any(self.carries(mask, way) for way in self._ways_into(mask, rooms))

    def _ways_into(self, mask: int, rooms: Sequence[Room]) -> Iterator[WayUp]:
        size = self.graph.box(mask).size
        if not any(_may_admit(room, size) for room in rooms):
            return
        if not self.graph.is_connected(mask):
            return
        outline = self._outline(mask)
        for way in outline.ways:
            if any(
                room.admits(outline.box.size, outline.weight_g, way, magnets=outline.magnets)
                for room in rooms
            ) and self.can_lie(mask, way):
                yield way

    def can_lie(self, mask: int, way: WayUp) -> bool:
        """Whether a sub-assembly stands and holds together in an allowed way up, at first sight.

        Some that can still collapse: `carries` tells, at the cost of a linear program. All that
        collapse by a motion that was found so cannot lie from then on.
        """
        key = (mask, way)
        if key not in self._lies:
            self._lies[key] = _stands(self._outline(mask), way) and holds(
                self.graph, mask, way, self.settings.shock_factor
            )
        return self._lies[key] and not any(fall.takes(mask) for fall in self._falls[way])

    def carries(self, mask: int, way: WayUp) -> bool:
        """Whether a sub-assembly that can lie in a way up does not collapse there."""
        key = (mask, way)
        if key not in self._carries:
            most = self.settings.shock_factor
            found = collapse(self.graph, mask, way, most)
            self._carries[key] = found.load >= most * (1 - SLACK)
            if found.fall:
                self._falls[way].append(found.fall)
        return self._carries[key]

    def item(self, mask: int) -> Item | None:
        """Return the item of a sub-assembly, or None if it is none; see `assemble`."""
        if not self.graph.is_connected(mask):
            return None
        ways = tuple(self.safe_ways(mask))
        if not ways and mask.bit_count() == 1:
            ways = self._outline(mask).ways
        return self._item(mask, ways) if ways else None

    def ways(self, mask: int) -> tuple[WayUp, ...]:
        """Return the ways up that the pieces and joints of a sub-assembly allow."""
        return self._outline(mask).ways

    def safe_ways(self, mask: int) -> Iterator[WayUp]:
        """Yield the ways up in which a connected sub-assembly can lie and does not collapse."""
        for way in self.ways(mask):
            if self.can_lie(mask, way) and self.carries(mask, way):
                yield way

    def item_regardless(self, mask: int) -> Item:
        """Return the item of pieces that may lie in no way up, to say what was not packed."""
        return self.item(mask) or self._item(mask, self._outline(mask).ways or (WayUp.UPRIGHT,))

    def _outline(self, mask: int) -> _Outline:
        if mask not in self._outlines:
            self._outlines[mask] = self._new_outline(mask)
        return self._outlines[mask]

    def _new_outline(self, mask: int) -> _Outline:
        members = list(bits(mask))
        pieces = [self.graph.build.pieces[i] for i in members]
        kept = self.graph.inner(mask)
        opening = [joint for joint in kept if joint.kind is not JointKind.GLUED]
        covers = tuple(grown(pieces, opening, self.settings.joint_tolerance_um))
        ways = reduce(lambda some, more: some & more, (set(piece.ways_up) for piece in pieces))
        if any(joint.kind is JointKind.STACKED for joint in kept):
            ways &= {WayUp.UPRIGHT}
        lowest = min(self.graph.boxes[i].z0 for i in members)
        weight = sum(piece.weight_g for piece in pieces)
        return _Outline(
            covers=covers,
            box=bounds([cuboid for cover in covers for cuboid in cover]),
            centre=self._centre(members),
            weight_g=weight + self.key_weight_g * sum(joint.keys for joint in kept),
            ways=tuple(way for way in WayUp if way in ways),
            magnets=any(
                piece.magnets > 0 and self.graph.boxes[i].z0 == lowest
                for i, piece in zip(members, pieces, strict=True)
            ),
        )

    def _centre(self, members: Sequence[int]) -> Vector:
        total = sum(self.graph.build.pieces[i].weight_g for i in members) * self.graph.moment_unit
        x, y, z = (
            round(Fraction(sum(self.graph.moments[i][axis] for i in members), total))
            for axis in range(3)
        )
        return (x, y, z)

    def _item(self, mask: int, ways: tuple[WayUp, ...]) -> Item:
        outline = self._outline(mask)
        build = self.graph.build
        pieces = [build.pieces[i] for i in bits(mask)]
        limits = [piece.carry_limit_g for piece in pieces if piece.carry_limit_g]
        solid, tender = merged_solid(outline.covers, [piece.carry_limit_g == 0 for piece in pieces])
        low, centre = outline.box, outline.centre
        return Item(
            id=_item_id(build, pieces),
            name=_name(self.graph, mask),
            kind=ItemKind.SUB_ASSEMBLY,
            build=build.id,
            pieces=tuple(piece.id for piece in pieces),
            keys=0,
            weight_g=outline.weight_g,
            cuboids_um=solid,
            tender=tender,
            centre_um=(centre[0] - low.x0, centre[1] - low.y0, centre[2] - low.z0),
            allowed_ways_up=ways,
            carry_limit_g=min(limits, default=None),
            magnets=outline.magnets,
            needed=build.needed,
        )


def assemble(
    build: Build, piece_ids: Collection[str], settings: Settings, key_weight_g: int
) -> Item | None:
    """Return the item of a sub-assembly in which every joint between two of its pieces is kept.

    Its cover allows for joints that stand open. Its centre of gravity is that of the pieces as
    they are drawn. It may lie as all its pieces may, upright only if a stacked joint is in it, and
    never where it would come apart in transit or tip over its lowest faces.

    Parameters
    ----------
    build
        The build.
    piece_ids
        Pieces of it, at least one.
    settings
        Shock factor and tolerance of the joints.
    key_weight_g
        Weight of one key, added for every key in its joints.

    Returns
    -------
    Item or None
        None if the joints do not hold all its pieces together, if a piece in it is to travel
        alone, or if no way up remains. A single
        piece, which cannot be split further, is an item even where it would tip. The id is
        that of the piece for a single piece; otherwise it names the first piece and the number of
        others, which no other sub-assembly of the same partition can share.

    Raises
    ------
    ValueError
        If no pieces are given.
    KeyError
        If a piece is not of the build.
    """
    if not piece_ids:
        raise ValueError("a sub-assembly needs at least one piece")
    assembler = Assembler(parted(build), settings, key_weight_g)
    return assembler.item(assembler.graph.mask(piece_ids))


def _may_admit(room: Room, size_um: Vector) -> bool:
    """Whether something of this size fits if it may lie in any way."""
    return all(a <= b for a, b in zip(sorted(size_um), sorted(room.size_um), strict=True))


def _stands(outline: _Outline, way: WayUp) -> bool:
    """Whether the centre of gravity is above the hull of the lowest faces."""
    solid, shift = rotated((c for cover in outline.covers for c in cover), way, 0)
    x, y, _ = rotate_vector(outline.centre, way, 0)
    return inside_hull((x + shift[0], y + shift[1]), lowest_faces(solid))


def _item_id(build: Build, pieces: Sequence[Piece]) -> str:
    first = pieces[0].id
    if len(pieces) == 1:
        return first
    return f"{build.id}:{first.removeprefix(f'{build.id}/')}+{len(pieces) - 1}"


def _name(graph: BuildGraph, mask: int) -> str:
    """Name a sub-assembly after the build and the piece nearest to its middle."""
    build = graph.build
    if mask == graph.all:
        return build.name
    box = graph.box(mask)

    def off_centre(i: int) -> int:
        own = graph.boxes[i]
        return sum(abs(own[a] + own[a + 3] - box[a] - box[a + 3]) for a in range(3))

    middle = build.pieces[min(bits(mask), key=off_centre)].name
    count = mask.bit_count()
    return f"{build.name}, {middle}" if count == 1 else f"{build.name}, {count} around {middle}"
