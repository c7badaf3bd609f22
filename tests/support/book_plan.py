"""A realistic plan made by hand: three builds, loose pieces and bags in a few containers."""

from collections.abc import Iterable, Iterator, Sequence
from functools import cache
from itertools import product

from packdown.geometry import (
    Cuboid,
    Direction,
    WayUp,
    size,
)
from packdown.model import (
    Bound,
    Bounds,
    Item,
    ItemKind,
    Joint,
    JointState,
    Lining,
    NotPacked,
    Objective,
    PackedContainer,
    Piece,
    Plan,
    PlanBuild,
    Prefer,
    Rules,
    Step,
    StepKind,
    Steps,
    grown,
    merged_solid,
)
from packdown.teardown import number
from support.book_builds import bridge, build_of, house, piece, tower
from support.book_packing import packed

__all__ = ["book_plan"]

MM = 1_000
RULES = Rules(
    support_percent=80,
    shock_factor=3,
    joint_tolerance_um=200,
    weight_limit_g=20_000,
    place_s=20,
    effort_low=0.7,
    effort_high=1.4,
    key_weight_g=1,
)


def _item(item: str, name: str, pieces: Sequence[Piece], joints: Iterable[Joint]) -> Item:
    own = {piece.id for piece in pieces}
    kept = [joint for joint in joints if own.issuperset(joint.pieces)]
    covers = grown(pieces, kept, 200)
    solid, tender = merged_solid(covers, [False] * len(covers))
    build = pieces[0].build
    length, width, height = size(solid)
    return Item(
        id=item,
        name=name,
        kind=ItemKind.SUB_ASSEMBLY if build else ItemKind.LOOSE,
        build=build,
        pieces=tuple(piece.id for piece in pieces),
        keys=0,
        weight_g=sum(piece.weight_g for piece in pieces) + len(kept),
        cuboids_um=solid,
        tender=tender,
        centre_um=(length // 2, width // 2, height // 2),
        allowed_ways_up=(WayUp.UPRIGHT,) if build else (WayUp.UPRIGHT, WayUp.ON_BACK),
        carry_limit_g=None,
        magnets=any(piece.magnets for piece in pieces),
    )


def _bag(item: str, name: str, keys: int) -> Item:
    return Item(
        id=item,
        name=name,
        kind=ItemKind.BAG,
        build=None,
        pieces=(),
        keys=keys,
        weight_g=keys + 5,
        cuboids_um=(Cuboid(0, 0, 0, 90 * MM, 60 * MM, 25 * MM),),
        tender=(),
        centre_um=(45 * MM, 30 * MM, 12 * MM),
        allowed_ways_up=(WayUp.UPRIGHT,),
        carry_limit_g=0,
        magnets=False,
    )


def _containers(copies: int) -> Iterator[PackedContainer]:
    kinds = [
        ("grey-crate", "Grey crate", (300, 210, 140), Lining.FOAM, 900),
        ("green-crate", "Green crate", (300, 220, 140), Lining.FOAM, 900),
        ("flat-tray", "Flat tray with the steel floor", (330, 230, 95), Lining.STEEL, 14_950),
        ("drawer", "Top drawer", (300, 220, 90), Lining.NONE, 1_100),
        ("spare", "Spare crate", (300, 200, 120), Lining.NONE, 700),
    ]
    for copy, (name, label, inner, lining, tare) in product(range(copies), kinds):
        tail = f"-{copy + 1}" if copies > 1 else ""
        length, width, height = (side * MM for side in inner)
        yield PackedContainer(
            id=name + tail,
            name=label + tail.replace("-", " "),
            type=name,
            inner_um=(length, width, height),
            outer_um=(length + 20 * MM, width + 20 * MM, height + 20 * MM),
            tare_g=tare,
            payload_g=12_000,
            lining=lining,
        )


def _steps(
    builds: Sequence[PlanBuild], items: Sequence[Item], containers: Sequence[PackedContainer]
) -> Steps:
    """Every sub-assembly is parted from the rest, then packed; rebuilding is the reverse."""
    where = {p.item: c.id for c in containers for p in c.fill}
    by_pieces = {item.pieces: item for item in items if item.pieces}
    work: list[tuple[StepKind, str | None, tuple[str, ...], tuple[str, ...], str]] = []
    for build in builds:
        for n, group in enumerate(build.sub_assemblies[:-1], 1):
            rest = tuple(p for other in build.sub_assemblies[n:] for p in other)
            work.append((StepKind.PART, build.id, group, rest, "table"))
        work += [
            (StepKind.PACK, build.id, group, (), where[item.id])
            for group in build.sub_assemblies
            if (item := by_pieces[group]).id in where
        ]
    work += [
        (StepKind.PACK, None, item.pieces, (), where[item.id])
        for item in items
        if item.build is None and item.id in where
    ]
    down = [_step(n, *entry, back=False) for n, entry in enumerate(work, 1)]
    up = [_step(n, *entry, back=True) for n, entry in enumerate(reversed(work), 1)]
    return Steps(take_down=number(down), rebuild=number(up))


def _step(
    n: int,
    kind: StepKind,
    build: str | None,
    pieces: tuple[str, ...],
    stays: tuple[str, ...],
    to: str,
    *,
    back: bool,
) -> Step:
    parting = kind is StepKind.PART
    first = pieces[0].split("/")[-1] if pieces else "the bag"
    what = f"{first} and {len(pieces) - 1} more" if len(pieces) > 1 else first
    verbs = {
        (True, False): f"Lift {what} off to the left.",
        (True, True): f"Set {what} back in place from the left.",
        (False, False): f"Put {what} into the container.",
        (False, True): f"Take {what} out and lay it on the table.",
    }
    kinds = {StepKind.PART: StepKind.JOIN, StepKind.PACK: StepKind.UNPACK}
    return Step(
        n=n,
        kind=kinds[kind] if back else kind,
        build=build,
        text=verbs[parting, back],
        pieces=pieces,
        stays=stays,
        joints=(),
        direction=(Direction.RIGHT if back else Direction.LEFT) if parting else None,
        from_=to if back else "table",
        to="table" if back else to,
        keys=3 if parting else 0,
        keys_first=1 if parting and n % 2 else 0,
        hands=2 if parting else 1,
    )


def _loose(copies: int) -> list[Piece]:
    counts = {"floor": 12, "wall-x": 12, "rail": 10, "post": 12, "banner": 4}
    return [
        piece(None, f"{part}#{n}", part, (0, 0, 0))
        for part, count in counts.items()
        for n in range(1, count * copies + 1)
    ]


def _objective(
    builds: Sequence[PlanBuild], used: Sequence[PackedContainer], gross: int
) -> Objective:
    split = [j for b in builds for j in b.joints if j.state is JointState.SPLIT]
    effort = sum(build.effort_s for build in builds)
    return Objective(
        effort_s=effort,
        effort_low_s=round(effort * RULES.effort_low),
        effort_high_s=round(effort * RULES.effort_high),
        joints_split=len(split),
        keys_freed=sum(joint.keys for joint in split),
        containers=len(used),
        volume_um3=sum(c.volume_um3 for c in used),
        weight_g=gross,
    )


def _bounds(builds: Sequence[PlanBuild], objective: Objective) -> Bounds:
    effort = sum(build.effort_bound_s for build in builds)
    return Bounds(
        effort_s=Bound(value=effort, met=effort == objective.effort_s),
        containers=Bound(value=objective.containers - 1, met=False),
        volume_um3=Bound(value=objective.volume_um3 * 4 // 5, met=False),
        weight_g=Bound(value=objective.weight_g, met=True),
    )


@cache
def book_plan(copies: int = 1) -> Plan:
    """Return the plan; with more copies, more loose pieces and containers."""
    groups = {
        ("lantern-house", "Lantern House"): house(),
        ("stair-tower", "Stair Tower"): tower(),
        ("rope-bridge", "Rope Bridge"): bridge(),
    }
    builds = [build_of(build, name, parts) for (build, name), parts in groups.items()]
    items = [
        _item(f"{build.id}:{n}", f"{build.name} {n}", group, build.joints)
        for build, parts in zip(builds, groups.values(), strict=True)
        for n, group in enumerate(parts, 1)
    ]
    loose = _loose(copies)
    items += [_item(piece.id, piece.name, [piece], ()) for piece in loose]
    items += [_bag("bag-1", "Bag of keys", 24), _bag("bag-2", "Bag of keys", 18)]
    containers, left = packed(items, list(_containers(copies)))
    weight = {item.id: item.weight_g for item in items}
    used = [c for c in containers if c.fill]
    gross = sum(c.tare_g + sum(weight[p.item] for p in c.fill) for c in used)
    objective = _objective(builds, used, gross)
    return Plan(
        created_with="0.1.0",
        workspace="The harbour quarter",
        seed=1,
        effort=3,
        prefer=Prefer.BALANCED,
        rules=RULES,
        pieces=tuple(p for parts in groups.values() for g in parts for p in g) + tuple(loose),
        items=tuple(items),
        containers=tuple(containers),
        builds=tuple(builds),
        not_packed=tuple(
            NotPacked(item=name, reason="no container left has room for it in any way up")
            for name in left
        ),
        steps=_steps(builds, items, containers),
        objective=objective,
        bounds=_bounds(builds, objective),
    )
