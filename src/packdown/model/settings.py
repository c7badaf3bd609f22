"""Settings of a workspace: what the owner decides about effort, strength and rules."""

from dataclasses import dataclass, field
from enum import StrEnum

from packdown.geometry import Cuboid
from packdown.model.magnet import Magnet
from packdown.model.part import JointKind

__all__ = ["BagSize", "Effort", "Lifting", "Prefer", "Settings"]


class Prefer(StrEnum):
    """What a plan spares first."""

    REBUILD = "rebuild"
    BOXES = "boxes"
    BALANCED = "balanced"


@dataclass(frozen=True, slots=True, kw_only=True)
class Effort:
    """Times of the work at the table, in milliseconds for practised hands.

    Parameters
    ----------
    split_ms, remake_ms
        Opening and closing one connection, by the kind of its joint.
    place_ms
        Finding one more sub-assembly and putting it in place.
    in_place_ms
        More for a key that is pulled out and set in again while both parts stand in place.
    low, usual, high
        Factors from practised hands to a hobbyist's: shortest, usual and longest.
    """

    split_ms: dict[JointKind, int]
    remake_ms: dict[JointKind, int]
    place_ms: int
    in_place_ms: int = 0
    low: float = 2.0
    usual: float = 3.0
    high: float = 4.0

    def joint_s(self, kind: JointKind, connections: int) -> int:
        """Usual seconds to split and re-make a joint, at least one."""
        each = self.split_ms[kind] + self.remake_ms[kind]
        return max(1, round(each * connections * self.usual / 1_000))

    @property
    def place_s(self) -> int:
        """Usual seconds that one more sub-assembly costs."""
        return max(1, round(self.place_ms * self.usual / 1_000))

    def in_place_s(self, keys: int) -> int:
        """Usual seconds more for keys that are pulled and set in place."""
        return round(self.in_place_ms * keys * self.usual / 1_000)


@dataclass(frozen=True, slots=True, kw_only=True)
class BagSize:
    """How bags of small parts come out.

    Parameters
    ----------
    fill_percent
        Share of a bag's volume that its contents take.
    base_um
        Length and width of a bag that lies flat.
    height_um
        Most that one bag may be high.
    carry_g
        What may rest on a bag.
    """

    fill_percent: int = 50
    base_um: tuple[int, int] = (100_000, 80_000)
    height_um: int = 60_000
    carry_g: int = 2_000

    def cuboids(self, contents_um3: int, least_um: int) -> tuple[Cuboid, ...]:
        """Return the solid of a bag for a volume of contents and the thinnest of its pieces."""
        length, width = self.base_um
        needed = -(-contents_um3 * 100 // (self.fill_percent * length * width))
        return (Cuboid(0, 0, 0, length, width, max(needed, least_um)),)

    @property
    def contents_um3(self) -> int:
        """Most that goes into one bag."""
        length, width = self.base_um
        return length * width * self.height_um * self.fill_percent // 100


@dataclass(frozen=True, slots=True, kw_only=True)
class Lifting:
    """How containers are lifted, and what is heavy; local rules come first.

    Parameters
    ----------
    limit_g
        Above this a container is heavy to lift alone: the user's own figure.
    two_people_above_g
        Above this it is a job for two whatever the limit.
    table_um
        Height of a table.
    hands_percent
        Height of the hands on a container, as a share of its height.
    has_handles
        Whether containers have good handles.
    """

    limit_g: int = 15_000
    two_people_above_g: int = 23_000
    table_um: int = 740_000
    hands_percent: int = 50
    has_handles: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Settings:
    """What holds for a whole workspace.

    Parameters
    ----------
    effort
        Times of the work at the table.
    holds_g
        What one connection holds at rest, in grams, by the kind of its joint.
    bends_mnm
        Moment that one connection bears at rest, in millinewton-metres, by the kind of its joint;
        a kind that is not named bears any.
    support_percent
        Least share of an item's lowest faces that must be supported.
    shock_factor
        How many times its weight a joint must hold in the plan.
    travel_factor, shelf_factor
        How many times that is in transport, and how many on the shelf.
    joint_tolerance_um
        How far one joint may stand open.
    weight_limit_g
        Most that one packed container may weigh, its tare included.
    box_worth_s, litre_worth_s
        Seconds of rebuilding that one container, or one litre of container, weighs as much as
        when a balanced plan is wanted.
    rather_keep_s
        Seconds that opening a joint weighs more if it is rather kept.
    prefer
        What a plan spares first.
    bag
        How bags of small parts come out.
    lifting
        How containers are lifted.
    magnet
        What the magnets in the parts are.
    """

    effort: Effort
    holds_g: dict[JointKind, int] = field(default_factory=dict)
    bends_mnm: dict[JointKind, int] = field(default_factory=dict)
    support_percent: int = 80
    shock_factor: int = 3
    travel_factor: int = 3
    shelf_factor: int = 1
    joint_tolerance_um: int = 200
    weight_limit_g: int = 15_000
    box_worth_s: int = 120
    litre_worth_s: int = 2
    rather_keep_s: int = 120
    prefer: Prefer = Prefer.BALANCED
    bag: BagSize = BagSize()
    lifting: Lifting = Lifting()
    magnet: Magnet = field(default_factory=Magnet)
