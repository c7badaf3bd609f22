"""Load spaces: load_spaces.toml, with vehicles and flights."""

from dataclasses import dataclass
from pathlib import Path

from packdown.errors import Problem
from packdown.files.place import Place
from packdown.files.table import Table, read_toml
from packdown.files.values import choice, flag, length, list_of, number, size, text, weight, whole
from packdown.geometry import Cuboid, Solid, Vector, disjoint_union
from packdown.model import Allowance, Flight, LoadSpace, Opening, OpeningSide
from packdown.units import Rounding, format_length

__all__ = ["LoadSpaces", "SpaceDefaults", "read_load_spaces", "read_space_defaults"]

FILE = "load_spaces.toml"
STEP_UM = 20_000
_SIDES = {str(side): side for side in OpeningSide}
_UP = length(Rounding.UP, low=0)
_DOWN = length(Rounding.DOWN)


@dataclass(frozen=True, slots=True, kw_only=True)
class SpaceDefaults:
    """What holds where a load space says nothing.

    Parameters
    ----------
    friction
        Static friction of containers on the floor and on each other.
    sill_um
        Height of the sill above the ground.
    checked, cabin
        Baggage of a flight.
    """

    friction: float
    sill_um: int
    checked: Allowance
    cabin: Allowance


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadSpaces:
    """What there is to load into."""

    vehicles: tuple[LoadSpace, ...] = ()
    flights: tuple[Flight, ...] = ()


def read_space_defaults(loading: Table, baggage: Table) -> SpaceDefaults:
    """Read the program's own defaults from its tables of loading and baggage."""
    checked, cabin = baggage.table("checked"), baggage.table("cabin")
    return SpaceDefaults(
        friction=loading.need("friction", number(0.0, 2.0)),
        sill_um=loading.need("sill", length(Rounding.UP, low=0)),
        checked=_allowance(checked, None),
        cabin=_allowance(cabin, None),
    )


def read_load_spaces(folder: Path, found: list[Problem], base: SpaceDefaults) -> LoadSpaces:
    """Read load_spaces.toml, if it is there.

    Parameters
    ----------
    folder
        The workspace.
    found
        Problems are added here.
    base
        What holds where a load space says nothing.
    """
    path = folder / FILE
    if not path.exists():
        return LoadSpaces()
    file = read_toml(path, Place(FILE, found))
    if file is None:
        return LoadSpaces()
    spaces, flights = file.table("spaces"), file.table("flights")
    vehicles = [_vehicle(own, entry, base) for own, entry in spaces.entries()]
    journeys = [_flight(own, entry, base) for own, entry in flights.entries()]
    for own in flights:
        if own in spaces:
            flights.place.at(own).report("is the name of a load space too", "rename one of them")
    file.done()
    return LoadSpaces(
        vehicles=tuple(vehicle for vehicle in vehicles if vehicle),
        flights=tuple(flight for flight in journeys if flight),
    )


def _vehicle(own: str, table: Table, base: SpaceDefaults) -> LoadSpace | None:
    size_um = (table.need("width", _DOWN), table.need("length", _DOWN), table.need("height", _DOWN))
    opening = _opening(table.table("opening"), size_um)
    blocked = _blocked(table, size_um)
    door = disjoint_union(_slope(table, "tailgate_slope", size_um, at_seat=False))
    words, payload_g = table.get("name", text, own), table.need("payload", weight(Rounding.DOWN))
    seat_back_um, guarded = table.need("seat_back", _DOWN), table.get("guard", flag, default=False)
    friction = table.get("friction", number(0.0, 2.0), base.friction)
    lashing_points = table.get("lashing_points", whole(0, 100), 0)
    sill_um = table.get("sill", _UP, base.sill_um)
    if not table.done():
        return None
    return LoadSpace(
        id=own,
        name=words,
        size_um=size_um,
        opening=opening,
        blocked_um=blocked,
        door_um=door,
        payload_g=payload_g,
        seat_back_um=seat_back_um,
        guarded=guarded,
        friction=friction,
        lashing_points=lashing_points,
        sill_um=sill_um,
    )


def _opening(table: Table, size_um: Vector) -> Opening:
    """Read the opening: the whole back unless told otherwise, in its middle, above a lip."""
    side = table.get("side", choice(_SIDES), OpeningSide.BACK)
    across = tuple(axis for axis in range(3) if axis != side.axis)
    whole_um = (size_um[across[0]], size_um[across[1]])
    second, word = ("length", "from_back") if side is OpeningSide.TOP else ("height", "lip")
    first, other = ("length", "from_back") if 0 not in across else ("width", "from_left")
    wide = table.get(first, _DOWN, whole_um[0])
    start = table.get(other, _UP, max(0, (whole_um[0] - wide) // 2))
    lip = table.get(word, _UP, 0)
    high = table.get(second, _DOWN, max(1, whole_um[1] - lip))
    for key, reach, most in ((first, start + wide, whole_um[0]), (second, lip + high, whole_um[1])):
        if reach > most and table.usable:
            table.place.at(key).report(
                f"the opening ends at {format_length(reach)}, beyond the inside, which ends at "
                f"{format_length(most)}",
                "measure the inside at its widest, and the opening at its narrowest",
            )
    table.done()
    return Opening(side=side, low_um=(start, lip), size_um=(wide, high))


def _blocked(table: Table, size_um: Vector) -> Solid:
    """Read what is taken away from the inside: wheel arches, slopes, and cuboids of any use."""
    cuts = [
        *_wheel_arches(table, size_um),
        *_slope(table, "seat_slope", size_um, at_seat=True),
    ]
    for entry in table.tables("taken"):
        x, y, z = entry.need("at", list_of(_UP, 3, 3)) or (0, 0, 0)
        dx, dy, dz = entry.need("size", size(Rounding.UP))
        cuts.append(_within(Cuboid(x, y, z, x + dx, y + dy, z + dz), size_um))
        entry.done()
    solid = [cut for cut in cuts if min(cut.size) > 0]
    return disjoint_union(solid) if solid else ()


def _within(cut: Cuboid, size_um: Vector) -> Cuboid:
    high = [min(top, most) for top, most in zip(cut[3:], size_um, strict=True)]
    low = [min(bottom, top) for bottom, top in zip(cut[:3], high, strict=True)]
    return Cuboid(low[0], low[1], low[2], high[0], high[1], high[2])


def _wheel_arches(table: Table, size_um: Vector) -> list[Cuboid]:
    """Read the pair of arches, one on each side, as high and wide as they are anywhere."""
    if "wheel_arches" not in table:
        return []
    entry = table.table("wheel_arches")
    wide, long, high = (entry.need(key, _UP) for key in ("width", "length", "height"))
    start = entry.get("from_back", length(Rounding.DOWN, low=0), 0)
    entry.done()
    width = size_um[0]
    pair = (
        Cuboid(0, start, 0, wide, start + long, high),
        Cuboid(width - wide, start, 0, width, start + long, high),
    )
    return [_within(arch, size_um) for arch in pair if 0 < wide < width]


def _slope(table: Table, key: str, size_um: Vector, *, at_seat: bool) -> list[Cuboid]:
    """Cover an end that leans in by steps; each takes as much as the end does at its top."""
    if key not in table:
        return []
    entry = table.table(key)
    depth, start = entry.need("depth", _UP), entry.get("from", length(Rounding.DOWN, low=0), 0)
    entry.done()
    width, long, height = size_um
    rise = height - start
    if rise <= 0 or depth <= 0:
        return []
    steps = []
    for low in range(start, height, STEP_UM):
        high = min(low + STEP_UM, height)
        taken = min(long, -(-depth * (high - start) // rise))
        near, far = (long - taken, long) if at_seat else (0, taken)
        steps.append(Cuboid(0, near, low, width, far, high))
    return steps


def _flight(own: str, table: Table, base: SpaceDefaults) -> Flight | None:
    words = table.get("name", text, own)
    checked = _allowance(table.table("checked"), base.checked)
    cabin = _allowance(table.table("cabin"), base.cabin) if "cabin" in table else None
    return Flight(id=own, name=words, checked=checked, cabin=cabin) if table.done() else None


def _allowance(table: Table, base: Allowance | None) -> Allowance:
    found = Allowance(
        pieces=table.get("pieces", whole(0, 100), base.pieces if base else 1),
        weight_g=table.get("weight", weight(Rounding.DOWN), base.weight_g if base else 1),
        linear_um=table.get("linear", _DOWN, base.linear_um if base else None),
        size_um=table.get("size", size(Rounding.DOWN), base.size_um if base else None),
    )
    table.done()
    return found
