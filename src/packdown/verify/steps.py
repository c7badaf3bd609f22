"""The steps carried out: taking down gives the sub-assemblies, rebuilding the builds."""

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator

from packdown.geometry import Direction, blocks
from packdown.model import Step, StepKind
from packdown.verify.lookup import Lookup
from packdown.verify.references import TABLE
from packdown.verify.report import Broken

__all__ = [
    "joints_are_worked_once",
    "keys_are_counted",
    "paths_are_free",
    "rebuild_gives_the_builds",
    "steps_are_in_order",
    "steps_wait_for_others",
    "take_down_gives_sub_assemblies",
    "work_at_table",
]

Groups = set[frozenset[str]]


def steps_are_in_order(lookup: Lookup) -> Broken:
    """Yield steps that are misnumbered, of the wrong kind, or done by no hand or off the table."""
    steps = lookup.plan.steps
    for name, run, kinds in (
        ("take-down", steps.take_down, (StepKind.PART, StepKind.PACK)),
        ("rebuild", steps.rebuild, (StepKind.JOIN, StepKind.UNPACK)),
    ):
        for number, step in enumerate(run, start=1):
            where = f"{name} step {number}"
            if step.n != number:
                yield where, f"is numbered {step.n}"
            if step.kind not in kinds:
                yield where, f"is to {step.kind}, which does not belong there"
            if step.hands < 1:
                yield where, f"needs {step.hands} hands"
            if step.kind in (StepKind.PART, StepKind.JOIN) and not _ends_are_true(lookup, step):
                yield where, f"goes from {step.from_} to {step.to}, not so its pieces"


def steps_wait_for_others(lookup: Lookup) -> Broken:
    """Yield steps that could be done before another that they need, as nothing makes them wait.

    Two steps with a piece in common, or at the same container, keep their order; so do those
    that free the keys of a build, or unpack them, and those that bag them, or set them in.
    """
    for name, run in (
        ("take-down", lookup.plan.steps.take_down),
        ("rebuild", lookup.plan.steps.rebuild),
    ):
        waits: dict[int, set[int]] = {}
        last: dict[str, int] = {}
        keys: dict[str | None, list[int]] = defaultdict(list)
        for count, step in enumerate(run, start=1):
            waits[count] = set(step.after).union(*(waits.get(n, set()) for n in step.after))
            if any(n >= count or n not in waits for n in step.after):
                yield f"{name} step {count}", "waits for a step that is not before it"
            needed = {last[thing] for thing in _at_work(step) if thing in last}
            if step.keys and step.kind in (StepKind.PACK, StepKind.JOIN):
                needed.update(keys[step.build])
            elif step.keys:
                keys[step.build].append(count)
            for number in sorted(needed - waits[count]):
                yield f"{name} step {count}", f"does not wait for step {number}"
            last.update(dict.fromkeys(_at_work(step), count))


def _at_work(step: Step) -> set[str]:
    """Return the pieces, and the container, that no two steps have at the same time."""
    pieces = {f"piece {name}" for name in step.pieces + step.stays}
    if step.kind in (StepKind.PACK, StepKind.UNPACK):
        pieces.add(f"container {step.from_ if step.to == TABLE else step.to}")
    return pieces


def _ends_are_true(lookup: Lookup, step: Step) -> bool:
    """Whether work is at the table; what is then packed as it is may be said to go to its home."""
    homes = {lookup.container_of.get(piece, TABLE) for piece in step.pieces}
    far, near = (step.to, step.from_) if step.kind is StepKind.PART else (step.from_, step.to)
    return near == TABLE and (far == TABLE or homes == {far})


def work_at_table(lookup: Lookup) -> Iterator[tuple[str, Step]]:
    """Yield the steps that part or join, with their names."""
    for name, steps in (
        ("take-down", lookup.plan.steps.take_down),
        ("rebuild", lookup.plan.steps.rebuild),
    ):
        for step in steps:
            if step.kind in (StepKind.PART, StepKind.JOIN):
                yield f"{name} step {step.n}", step


def take_down_gives_sub_assemblies(lookup: Lookup) -> Broken:
    """Yield part steps whose pieces are not one group then, and builds not taken down fully."""
    groups: Groups = {pieces for pieces in lookup.build_pieces.values() if pieces}
    for step in lookup.plan.steps.take_down:
        if step.kind is StepKind.PART:
            halves = frozenset(step.pieces), frozenset(step.stays)
            whole = halves[0] | halves[1]
            if all(halves) and halves[0].isdisjoint(halves[1]) and whole in groups:
                groups = (groups - {whole}) | set(halves)
            else:
                yield f"take-down step {step.n}", f"{_names(whole)} are not one group to part"
    for build, subs in _sub_assemblies(lookup).items():
        for left in _of_build(lookup, groups, build) - subs:
            yield build, f"ends with {_names(left)} together, which is no sub-assembly"


def rebuild_gives_the_builds(lookup: Lookup) -> Broken:
    """Yield join steps whose halves are not there then, and builds that are not rebuilt."""
    groups: Groups = set().union(*_sub_assemblies(lookup).values())
    for step in lookup.plan.steps.rebuild:
        if step.kind is StepKind.JOIN:
            halves = {frozenset(step.pieces), frozenset(step.stays)}
            if len(halves) == 2 and halves <= groups:
                groups = (groups - halves) | {frozenset().union(*halves)}
            else:
                missing = " and ".join(_names(half) for half in halves - groups) or "one group"
                yield f"rebuild step {step.n}", f"cannot join {missing}: not a group at that time"
    for build, pieces in lookup.build_pieces.items():
        left = _of_build(lookup, groups, build)
        if pieces and left != {pieces}:
            yield build, f"is not rebuilt: {len(left)} groups are left"


def _sub_assemblies(lookup: Lookup) -> dict[str, Groups]:
    return {
        build.id: {frozenset(sub) for sub in build.sub_assemblies}
        for build in lookup.builds.values()
    }


def _of_build(lookup: Lookup, groups: Groups, build: str) -> Groups:
    return {group for group in groups if not group.isdisjoint(lookup.build_pieces[build])}


def joints_are_worked_once(lookup: Lookup) -> Broken:
    """Yield steps that open other joints than lie between their halves, and forgotten joints."""
    counts: dict[StepKind, Counter[str]] = defaultdict(Counter)
    for where, step in work_at_table(lookup):
        counts[step.kind].update(step.joints)
        between = {joint.id for joint in lookup.joints_between(step.pieces, step.stays)}
        for joint in sorted(between.symmetric_difference(step.joints) & lookup.joints.keys()):
            fault = "is not listed" if joint in between else "does not lie between the halves"
            yield where, f"joint {joint} {fault}"
    kept = {
        joint.id
        for build in lookup.builds.values()
        for sub in build.sub_assemblies
        for joint in lookup.joints_in(sub)
    }
    for name in lookup.joints:
        wanted = int(name not in kept)
        for kind, verb in ((StepKind.PART, "opened"), (StepKind.JOIN, "closed")):
            times = counts[kind][name]
            if times != wanted:
                yield name, f"is {verb} {times} times, its sub-assemblies ask for {wanted}"


def paths_are_free(lookup: Lookup) -> Broken:
    """Yield steps in which something is in the way of the pieces that move."""
    for where, step in work_at_table(lookup):
        if step.direction is None:
            yield where, "has no direction"
            continue
        away = step.direction if step.kind is StepKind.PART else step.direction.opposite
        if away is Direction.DOWN:
            yield where, f"moves {step.direction}: the table is in the way"
        cores = {
            name: lookup.pieces[name].core_um
            for name in step.pieces + step.stays
            if name in lookup.pieces
        }
        for one in step.pieces:
            for other in step.stays:
                if one in cores and other in cores and blocks(cores[one], cores[other], away):
                    yield where, f"{other} is in the way of {one} moving {step.direction}"


def keys_are_counted(lookup: Lookup) -> Broken:
    """Yield steps that miscount keys, and builds whose keys freed, bagged and needed differ."""
    moved: dict[str, Counter[StepKind]] = defaultdict(Counter)
    for where, step in work_at_table(lookup):
        joints = [lookup.joints[name] for name in step.joints if name in lookup.joints]
        keys = sum(joint.keys for joint in joints)
        if step.keys != keys:
            yield where, f"counts {step.keys} keys, its joints have {keys}"
        if step.direction is not None:
            sheared = sum(j.keys for j in joints if j.axis != step.direction.axis)
            if step.keys_first != sheared:
                yield where, f"counts {step.keys_first} keys to work first, there are {sheared}"
        if step.build is not None:
            moved[step.build][step.kind] += step.keys
    bagged = Counter[str | None]()
    for item in lookup.plan.items:
        bagged[item.build] += item.keys
    for build in lookup.builds:
        freed, needed = moved[build][StepKind.PART], moved[build][StepKind.JOIN]
        if not freed == bagged[build] == needed:
            yield (
                build,
                f"{freed} keys come out, {bagged[build]} are bagged and {needed} go in",
            )


def _names(pieces: Iterable[str]) -> str:
    return ", ".join(sorted(pieces)) or "nothing"
