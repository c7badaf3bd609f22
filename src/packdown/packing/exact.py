"""The fewest containers for a small group of items, by proof."""

from collections import Counter
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

import numpy as np

from packdown.geometry import Cuboid, drop_height, rotated
from packdown.model import Packing, PackingProblem
from packdown.packing import layout as at
from packdown.packing.kinds import Kinds, kinds_of

if TYPE_CHECKING:
    from ortools.sat.python import cp_model

    from packdown.packing.construct import Rows
    from packdown.packing.disjunctions import Places

__all__ = ["Exact", "Status", "exact"]

LIMIT = 10.0
"""Deterministic time, roughly in seconds."""


class Status(StrEnum):
    """What is known of the fewest containers that hold all items."""

    OPTIMAL = "optimal"
    FEASIBLE = "feasible"
    INFEASIBLE = "infeasible"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True, kw_only=True)
class Exact:
    """An answer with what is proved of it.

    Parameters
    ----------
    status
        Optimal: `containers` is proved the fewest. Feasible: a packing was found, with no proof
        that it is best. Infeasible: no packing holds all items. Unknown: nothing was found.
    containers
        Containers in use, or None without a packing.
    bound
        No packing of all items uses fewer; 0 if there is none at all.
    packing
        The packing found, or None.
    """

    status: Status
    containers: int | None
    bound: int
    packing: Packing | None


def exact(problem: PackingProblem, *, limit: float = LIMIT) -> Exact:
    """Pack all items into the fewest containers, and prove it; for some ten items.

    Kept are: inside, no overlap, clearance, ways up, lowering from above in the loading order,
    sheets, magnets on steel, payload and gross weight, groups, and first needed on top. Support,
    balance, loads on items and tender parts are not looked at: a packing may break these rules,
    and the number of containers is then only a lower bound. With support 0 and no such limits it
    is the optimum.

    Parameters
    ----------
    problem
        Items, containers and rules.
    limit
        Deterministic time, roughly in seconds. The same problem and limit give the same answer.

    Raises
    ------
    RuntimeError
        If the solver rejects the model: a fault of the program.
    """
    from ortools.sat.python import cp_model  # noqa: PLC0415 - slow to load

    from packdown.packing.bounds.least import things_of  # noqa: PLC0415 - loads the solver
    from packdown.packing.bounds.task import Task  # noqa: PLC0415 - loads the solver
    from packdown.packing.disjunctions import Places  # noqa: PLC0415 - loads the solver

    things = things_of(problem)
    task = Task(Counter(things), problem.containers, problem.rules)
    fewest = task.fewest_by_all()
    if fewest is None:
        return Exact(status=Status.INFEASIBLE, containers=None, bound=0, packing=None)
    kinds = kinds_of(problem)
    by_item = {item.id: thing for item, thing in zip(problem.items, things, strict=True)}
    index = {thing: number for number, thing in enumerate(task.things)}
    places = Places(kinds, task, [index[by_item[items[0].id]] for items in kinds.items], fewest)
    places.model.minimize(cp_model.LinearExpr.sum(places.relaxation.used))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 0
    solver.parameters.max_deterministic_time = limit
    status = solver.solve(places.model)
    if status == cp_model.MODEL_INVALID:
        raise RuntimeError(f"invalid model of places: {places.model.validate()}")
    if status == cp_model.INFEASIBLE:
        return Exact(status=Status.INFEASIBLE, containers=None, bound=0, packing=None)
    bound = max(fewest, round(solver.best_objective_bound))
    if status == cp_model.UNKNOWN:
        return Exact(status=Status.UNKNOWN, containers=None, bound=bound, packing=None)
    packing = _packing(kinds, places, solver)
    return Exact(
        status=Status.OPTIMAL if status == cp_model.OPTIMAL else Status.FEASIBLE,
        containers=len(packing.fills),
        bound=bound,
        packing=packing,
    )


def _packing(kinds: Kinds, places: "Places", solver: "cp_model.CpSolver") -> Packing:
    """Return the packing of a solution; items are lowered until they rest."""
    from packdown.packing.placements import fills_of  # noqa: PLC0415 - loads the compiled loops

    rows = {site: _lowered(kinds, site, found) for site, found in places.found(solver).items()}
    return Packing(fills=fills_of(kinds, rows), unpacked=())


def _lowered(kinds: Kinds, site: int, found: list[tuple[int, int, int, int]]) -> "Rows":
    """Return rows of items in loading order (kind, pose, x and y), each lowered onto the rest."""
    container = kinds.containers[site]
    below: list[Cuboid] = []
    rows = []
    for kind, pose, x, y in found:
        own = kinds.poses[pose]
        solid, _ = rotated(kinds.items[kind][0].cuboids_um, own.way_up, own.turn, (x, y, 0))
        z = drop_height(solid, below, clearance=container.clearance_um, gap=container.sheet_um)
        below += [cuboid.moved(0, 0, z) for cuboid in solid]
        rows.append((kind, pose, x, y, z))
    return np.array(rows, dtype=np.int64).reshape(-1, at.ROW_COLUMNS)
