"""A job: one workspace and the containers at hand, with everything the search asks repeatedly."""

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field, replace

from packdown import teardown
from packdown.geometry import bounds
from packdown.model import (
    BagSize,
    Build,
    Container,
    Item,
    JointState,
    PackingProblem,
    Piece,
    Rules,
    Settings,
    Straight,
    Workspace,
)
from packdown.planning.items import fitting_bag, key_bag, loose_item, part_bags

__all__ = ["Job", "Memory", "Partition"]

SubAssembly = tuple[str, ...]
Groups = tuple[tuple[str, ...], ...]
Partition = Mapping[str, tuple[SubAssembly, ...]]
"""For each build, the piece ids of its sub-assemblies."""


@dataclass(kw_only=True)
class Memory:
    """What was found out about the builds of a collection, whatever they are packed into.

    Parameters
    ----------
    items
        For a build, its rank and the pieces of a sub-assembly: its item; None if it does not hold.
    moves
        For a build and its sub-assemblies: the order of work; None if they interlock.
    """

    items: dict[tuple[str, int | None, SubAssembly], Item | None] = field(default_factory=dict)
    moves: dict[tuple[str, tuple[SubAssembly, ...]], tuple[teardown.Move, ...] | None] = field(
        default_factory=dict
    )


@dataclass(kw_only=True)
class Job:
    """What is to be packed into what.

    Parameters
    ----------
    workspace
        The collection.
    containers
        Those of its containers that may be used.
    memory
        Shared with other jobs whose builds of the same id are the same but for their rank.
    """

    workspace: Workspace
    containers: tuple[Container, ...]
    memory: Memory = field(default_factory=Memory)
    rules: Rules = field(init=False)
    loose: tuple[Item, ...] = field(init=False)
    #: Builds that start from straight cuts, with their sub-assemblies and what these spare.
    straight: dict[str, tuple[tuple[SubAssembly, ...], Straight]] = field(
        init=False, default_factory=dict
    )
    _bag: BagSize = field(init=False)
    _rooms: tuple[teardown.Room, ...] = field(init=False)
    _awkward: dict[tuple[str, SubAssembly], int] = field(init=False, default_factory=dict)

    def __post_init__(self) -> None:
        self.rules = rules_of(self.workspace)
        self._rooms = tuple(
            room
            for container in self.containers
            for room in teardown.rooms_of([container], self.rules)
        )
        self._bag = fitting_bag(self.settings.bag, self.containers)
        self.loose = tuple(self._loose_items())

    @property
    def settings(self) -> Settings:
        """The settings of the workspace."""
        return self.workspace.settings

    @property
    def builds(self) -> tuple[Build, ...]:
        """The builds of the workspace."""
        return self.workspace.builds

    def _loose_items(self) -> list[Item]:
        bagged = {part.id for part in self.workspace.parts if part.bagged}
        bags: dict[str, list[Piece]] = defaultdict(list)
        items = []
        for piece in self.workspace.loose:
            if piece.part in bagged:
                bags[piece.part].append(piece)
            else:
                items.append(loose_item(piece))
        for pieces in bags.values():
            items.extend(part_bags(pieces, self._bag))
        return items

    def item(self, build: Build, pieces: SubAssembly) -> Item | None:
        """Return the item of a sub-assembly, or None if it does not hold together."""
        key, items = (build.id, build.needed, pieces), self.memory.items
        if key not in items:
            items[key] = teardown.assemble(
                build, pieces, self.settings, self.workspace.key_weight_g
            )
        return items[key]

    def moves(
        self, build: Build, subs: tuple[SubAssembly, ...]
    ) -> tuple[teardown.Move, ...] | None:
        """Return the moves that take a build down to its sub-assemblies; None if they interlock."""
        key, moves = (build.id, subs), self.memory.moves
        if key not in moves:
            try:
                moves[key] = teardown.order_of_work(build, subs)
            except teardown.Interlocked:
                moves[key] = None
        return moves[key]

    def choice(self, item: Item) -> int:
        """Count the containers that are large and strong enough for an item."""
        return sum(room.takes(item) for room in self._rooms)

    def awkwardness(self, build: Build, subs: Iterable[SubAssembly]) -> int:
        """Say how hard sub-assemblies are to place: the room each takes, shared among containers.

        The volume of the bounding box in cubic millimetres, divided by the number of containers
        that are large enough, and added up.
        """
        total = 0
        for sub in subs:
            if (build.id, sub) not in self._awkward:
                item = self.item(build, sub)
                room = bounds(item.cuboids_um).volume // 10**9 if item else 0
                self._awkward[build.id, sub] = room // max(1, self.choice(item) if item else 0)
            total += self._awkward[build.id, sub]
        return total

    def items(self, partition: Partition) -> tuple[Item, ...]:
        """Return every item of a partition: sub-assemblies, bags of keys and what is loose."""
        items = []
        for build in self.builds:
            for pieces in partition[build.id]:
                item = self.item(build, pieces)
                if item is None:
                    raise ValueError(f"{build.id}: {pieces} does not hold together")
                items.append(replace(item, name=self._words(build, partition[build.id], pieces)))
            keys = keys_freed(build, partition[build.id])
            if keys:
                size, weight = self.workspace.key_size_um, self.workspace.key_weight_g
                items.append(key_bag(build.id, build.name, keys, weight, size, self._bag))
        return (*items, *self.loose)

    def _words(self, build: Build, subs: tuple[SubAssembly, ...], pieces: SubAssembly) -> str:
        """Name a sub-assembly as it stands on labels and in steps."""
        if len(subs) == 1:
            return build.name
        inside = f"{len(pieces)} pieces"
        if len(pieces) == 1:
            inside = next(piece.name for piece in build.pieces if piece.id == pieces[0])
        return f"{build.name} part {subs.index(pieces) + 1} ({inside})"

    def problem(self, partition: Partition) -> PackingProblem:
        """Return the packing problem of a partition."""
        return PackingProblem(
            items=self.items(partition), containers=self.containers, rules=self.rules
        )

    def cost_s(self, partition: Partition) -> int:
        """Return what a partition weighs: its effort, and more for joints rather kept."""
        return sum(
            teardown.cost_of(build, partition[build.id], self.rules.place_s)
            for build in self.builds
        )


def rules_of(workspace: Workspace) -> Rules:
    """Return the rules that hold for every plan of a workspace."""
    settings = workspace.settings
    effort = settings.effort
    known = {piece.id for build in workspace.builds for piece in build.pieces}
    known.update(piece.id for piece in workspace.loose)
    return Rules(
        support_percent=settings.support_percent,
        shock_factor=settings.shock_factor,
        joint_tolerance_um=settings.joint_tolerance_um,
        weight_limit_g=settings.weight_limit_g,
        place_s=effort.place_s,
        effort_low=effort.low / effort.usual,
        effort_high=effort.high / effort.usual,
        key_weight_g=workspace.key_weight_g,
        keep_together=_present(workspace.keep_together, known),
        keep_apart=_present(workspace.keep_apart, known),
        travel_factor=settings.travel_factor,
        shelf_factor=settings.shelf_factor,
        lift_limit_g=settings.lifting.limit_g,
        magnet=settings.magnet,
    )


def _present(groups: Groups, known: Collection[str]) -> Groups:
    """Return groups of the pieces that are there; designs are not."""
    found = (tuple(piece for piece in group if piece in known) for group in groups)
    return tuple(group for group in found if group)


def joint_states(build: Build, subs: Collection[SubAssembly]) -> dict[str, JointState]:
    """Say for each joint of a build whether the sub-assemblies keep or split it."""
    home = {piece: index for index, sub in enumerate(subs) for piece in sub}
    return {
        joint.id: JointState.KEPT
        if home[joint.pieces[0]] == home[joint.pieces[1]]
        else JointState.SPLIT
        for joint in build.joints
    }


def keys_freed(build: Build, subs: Collection[SubAssembly]) -> int:
    """Count the keys that come free when a build is taken down to its sub-assemblies."""
    states = joint_states(build, subs)
    return sum(joint.keys for joint in build.joints if states[joint.id] is JointState.SPLIT)
