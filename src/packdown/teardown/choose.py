"""Choose the cheapest partition among many known sub-assemblies, by an integer program."""

from collections.abc import Iterable, Sequence

from ortools.linear_solver import pywraplp

from packdown.teardown.graph import BuildGraph, bits

__all__ = ["choose"]

#: Most nodes of the search tree, so that the answer is the same on any machine.
NODES = 500


def choose(
    graph: BuildGraph, parts: Iterable[int], known: Sequence[int], place_s: int
) -> list[int]:
    """Return the cheapest partition of a build found among given sub-assemblies.

    Parameters
    ----------
    graph
        The build.
    parts
        Masks of sub-assemblies to choose from.
    known
        A partition to fall back on.
    place_s
        Seconds that one more sub-assembly costs.
    """
    pool = list(dict.fromkeys([*known, *parts]))
    solver = pywraplp.Solver.CreateSolver("SCIP")
    solver.SetSolverSpecificParametersAsString(f"limits/nodes = {NODES}")
    once = [solver.Constraint(1, 1) for _ in graph.build.pieces]
    taken = [solver.BoolVar("") for _ in pool]
    for variable, part in zip(taken, pool, strict=True):
        solver.Objective().SetCoefficient(variable, graph.inner_effort(part) - place_s)
        for i in bits(part):
            once[i].SetCoefficient(variable, 1)
    solver.Objective().SetMaximization()
    if solver.Solve() not in {pywraplp.Solver.OPTIMAL, pywraplp.Solver.FEASIBLE}:
        return list(known)
    half = 0.5
    chosen = [
        part for variable, part in zip(taken, pool, strict=True) if variable.solution_value() > half
    ]

    def kept(partition: Sequence[int]) -> int:
        return sum(graph.inner_effort(part) - place_s for part in partition)

    return max(list(known), chosen, key=kept)
