"""Striking: what is there at the end of an event, packed into the containers that are there.

Builds that stand are taken down; all else that was brought is packed as loose pieces, since the
pieces of builds that do not stand may have been in others. What was used up, lent or left is not
there any more. A build that lacks a piece is taken apart to the last.
"""

from collections import Counter
from collections.abc import Callable, Collection, Iterable
from dataclasses import replace

from packdown.errors import UsageError, nearest
from packdown.model import Build, Grade, Piece, Plan, Workspace, loose_piece
from packdown.planning.bringing.packer import Packer
from packdown.planning.whole_job import DEFAULT_EFFORT, plan_workspace

__all__ = ["gone_pieces", "strike"]


def gone_pieces(plan: Plan, names: Iterable[str], already: Collection[str] = ()) -> tuple[str, ...]:
    """Return the ids of pieces that are named by id, or as a part with a number: ``goat=3``.

    Of a part the loose pieces with the highest numbers are taken first.

    Parameters
    ----------
    plan
        What was brought.
    names
        Pieces, and parts with numbers.
    already
        Ids that are taken.

    Raises
    ------
    UsageError
        If there is no such piece, or there are not so many.
    """
    found: list[str] = []
    known = {piece.id: piece for piece in plan.pieces}
    parts = {piece.part for piece in plan.pieces}
    for name in names:
        part, equals, number = name.partition("=")
        taken = {*already, *found}
        if not equals:
            if name not in known or name in taken:
                raise UsageError(f'there is no piece "{name}"', hint=nearest(name, known))
            found.append(name)
            continue
        own = [piece for piece in reversed(plan.pieces) if piece.part == part]
        free = [piece.id for piece in own if piece.id not in taken]
        free.sort(key=lambda piece: known[piece].build is not None)
        if part not in parts or not number.isdecimal():
            raise UsageError(
                f'expected a piece or a part with a number such as "goat=3", not "{name}"',
                hint=nearest(part, parts),
            )
        if int(number) > len(free):
            raise UsageError(f"there are only {len(free)} x {part}")
        found += free[: int(number)]
    return tuple(found)


def strike(
    workspace: Workspace,
    plan: Plan,
    *,
    standing: Collection[str] | None = None,
    gone: Collection[str] = (),
    containers: Collection[str] | None = None,
    effort: int | None = DEFAULT_EFFORT,
    stop: Callable[[], bool] | None = None,
    progress: Callable[[float, str], None] | None = None,
) -> Plan:
    """Plan how what is there at the end is packed.

    Parameters
    ----------
    workspace
        The collection.
    plan
        How it was brought.
    standing
        Ids of the builds that stand at the end; None for all that were brought as builds.
    gone
        Ids of pieces that were used up, lent or left.
    containers
        Ids of the containers that are there; those of the plan if None.
    effort, stop, progress
        As for `plan_workspace`.

    Raises
    ------
    UsageError
        If a build is unknown, or cannot stand with the pieces that were brought.
    """
    there = [piece for piece in plan.pieces if piece.id not in gone]
    builds = {build.id: build for build in (*workspace.builds, *workspace.designs)}
    names = [build.id for build in plan.builds] if standing is None else list(standing)
    stands: list[Build] = []
    for name in names:
        if name not in builds:
            raise UsageError(f'there is no build "{name}"', hint=nearest(name, builds))
        whole = {piece.id for piece in builds[name].pieces}
        if whole & set(gone):
            continue
        there = _without(builds[name], there, names)
        stands.append(replace(builds[name], needed=None, stands=True))
    used = [container.id for container in plan.containers if container.fill]
    own = replace(
        workspace,
        builds=tuple(stands),
        loose=tuple(_loosened(workspace, there)),
        designs=(),
    )
    boxes = tuple(used if containers is None else containers)
    packer = Packer(stop=stop or (lambda: False))
    found = packer.of(own, boxes)
    if found is None:
        return plan_workspace(own, effort=effort, containers=boxes, stop=stop, progress=progress)
    tries = DEFAULT_EFFORT if effort is None else effort
    best = min((found, *packer.better(found, tries)), key=lambda packed: packed.state.score)
    return packer.finished(best, tries)


def _without(build: Build, there: list[Piece], standing: Collection[str]) -> list[Piece]:
    """Return pieces less those that a build stands of: its own, else others of their parts."""
    ids = {piece.id for piece in build.pieces}
    rest = [piece for piece in there if piece.id not in ids]
    lacking = Counter(piece.part for piece in build.pieces)
    lacking.subtract(Counter(piece.part for piece in there if piece.id in ids))
    if build.grade is not Grade.PLACED and +lacking:
        raise UsageError(f"{build.name} was not brought")
    for piece in sorted(rest, key=lambda piece: piece.build is not None):
        if lacking[piece.part] > 0 and piece.build not in standing:
            lacking[piece.part] -= 1
            rest.remove(piece)
    short = [f"{number} x {part}" for part, number in (+lacking).items()]
    if short:
        raise UsageError(
            f"{build.name} cannot stand at the end: {', '.join(short)} short",
            hint="name the builds that stand: --standing ID,...",
        )
    return rest


def _loosened(workspace: Workspace, pieces: Iterable[Piece]) -> Iterable[Piece]:
    """Yield pieces as loose ones in their own frames."""
    parts = {part.id: part for part in workspace.parts}
    for piece in pieces:
        if piece.build is None or piece.part not in parts:
            yield replace(piece, needed=None, build=None)
        else:
            yield replace(loose_piece(parts[piece.part], 1), id=piece.id)
