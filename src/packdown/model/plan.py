"""The plan: which joints are split, what lies where, and the steps both ways.

The fields are those of the plan file, version 1. A plan holds all that its verification needs.
"""

from dataclasses import dataclass
from enum import StrEnum
from typing import ClassVar, Literal

from packdown.geometry import Direction, Solid, Vector, WayUp
from packdown.model.build import Joint, Piece, Weak
from packdown.model.container import Container
from packdown.model.item import Item
from packdown.model.rules import Rules
from packdown.model.settings import Prefer
from packdown.model.straight import Straight

__all__ = [
    "Bound",
    "Bounds",
    "NotPacked",
    "Objective",
    "PackedContainer",
    "Placement",
    "Plan",
    "PlanBuild",
    "Step",
    "StepKind",
    "Steps",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Placement:
    """One item in a container, in loading order.

    Parameters
    ----------
    item
        Id of the item.
    at_um
        Lower corner of its bounding box in the container's frame.
    way_up, turn
        How it lies: the side that is down, then degrees anticlockwise seen from above.
    cuboids_um
        Its cuboids as placed, parallel to those of the item.
    support
        Share of its lowest faces that is supported, from 0 to 1.
    layer
        1 on the floor; one more than the highest layer it rests on.
    """

    item: str
    at_um: Vector
    way_up: WayUp
    turn: int
    cuboids_um: Solid
    support: float
    layer: int


@dataclass(frozen=True, slots=True, kw_only=True)
class PackedContainer(Container):
    """A container and what lies in it; an unused one has an empty fill."""

    fill: tuple[Placement, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanBuild:
    """What the plan does with one build.

    Parameters
    ----------
    id, name
        As in the workspace.
    joints
        Every joint with its state.
    sub_assemblies
        Piece ids of each sub-assembly.
    effort_s
        Seconds for its split joints and re-placed sub-assemblies.
    effort_bound_s
        No plan for this build alone can cost less.
    proved
        Whether the effort equals its bound.
    straight
        What straight cuts spare, where they were taken instead of the split of least effort.
    joints_bound
        No plan for this build alone can split fewer joints; None if that is not known.
    weak
        What of it must not travel as it is: of the parts that its joints hold together, and of
        its sub-assemblies, those that are named. All others may.
    """

    id: str
    name: str
    joints: tuple[Joint, ...]
    sub_assemblies: tuple[tuple[str, ...], ...]
    effort_s: int
    effort_bound_s: int
    proved: bool
    weak: tuple[Weak, ...] = ()
    joints_bound: int | None = None
    straight: Straight | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class NotPacked:
    """An item that has no place, and why."""

    item: str
    reason: str


class StepKind(StrEnum):
    """What a step does."""

    PART = "part"
    PACK = "pack"
    UNPACK = "unpack"
    JOIN = "join"


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One step of taking down or rebuilding.

    Parameters
    ----------
    n
        Counts from 1 within its list.
    kind
        Part two halves, pack, unpack, or join two halves.
    build
        Id of the build at work, or None for loose pieces and bags.
    text
        The step in a short sentence or two.
    pieces
        Pieces that move.
    stays
        Pieces the moving ones are parted from or joined to; empty for packing steps.
    joints
        Joints opened or closed by this step.
    direction
        The way the pieces move; None for packing steps.
    from_, to
        A container's id, or ``table``.
    keys
        Loose keys that come out, or go in.
    keys_first
        Of those, keys to be pulled or set in place because the move would shear them.
    hands
        Hands needed.
    holds
        Pieces to be held, as nothing else carries them once the halves are apart.
    after
        Numbers of earlier steps of the list that must be done before; the others need not, so
        that several people can work side by side.
    """

    __pydantic_config__: ClassVar = {"alias_generator": lambda name: name.rstrip("_")}

    n: int
    kind: StepKind
    build: str | None
    text: str
    pieces: tuple[str, ...]
    stays: tuple[str, ...]
    joints: tuple[str, ...]
    direction: Direction | None
    from_: str
    to: str
    keys: int
    keys_first: int
    hands: int
    after: tuple[int, ...] = ()
    holds: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Steps:
    """The steps both ways."""

    take_down: tuple[Step, ...]
    rebuild: tuple[Step, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Objective:
    """What the plan costs.

    Parameters
    ----------
    effort_s
        Seconds for all split joints and re-placed sub-assemblies of all builds.
    effort_low_s, effort_high_s
        The range within which it is likely to lie.
    joints_split, keys_freed
        Numbers over all builds.
    containers
        Containers used.
    volume_um3
        Inner volume of the containers used, in cubic micrometres.
    weight_g
        Weight of the packed containers, tares included.
    """

    effort_s: int
    effort_low_s: int
    effort_high_s: int
    joints_split: int
    keys_freed: int
    containers: int
    volume_um3: int
    weight_g: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Bound:
    """A figure no plan can be below, and whether this plan meets it."""

    value: int
    met: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Bounds:
    """Lower bounds of the objective, for plans that pack everything; None if not known."""

    effort_s: Bound
    containers: Bound
    volume_um3: Bound
    weight_g: Bound
    joints_split: Bound | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """The whole answer; a proposal until it is stowed.

    Parameters
    ----------
    format, version
        What the file is: always ``packdown-plan`` and 1.
    created_with
        Version of the program.
    workspace
        Name of the workspace.
    seed, effort
        With the same workspace, seed and effort the same plan comes out.
    prefer
        What was spared first.
    rules
        The settings it was made under.
    pieces
        Every piece to be packed, once.
    items
        What was placed, and what was not.
    containers
        Every container that could be used, with its fill.
    builds
        What is done with each build.
    not_packed
        Items without a place, with the reason.
    steps
        Taking down and rebuilding.
    objective, bounds
        What it costs and what it must at least cost.
    """

    format: Literal["packdown-plan"] = "packdown-plan"
    version: Literal[1] = 1
    created_with: str
    workspace: str
    seed: int
    effort: int
    prefer: Prefer
    rules: Rules
    pieces: tuple[Piece, ...]
    items: tuple[Item, ...]
    containers: tuple[PackedContainer, ...]
    builds: tuple[PlanBuild, ...]
    not_packed: tuple[NotPacked, ...]
    steps: Steps
    objective: Objective
    bounds: Bounds
