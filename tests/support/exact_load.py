"""An exact model of a load for CP-SAT, which says whether so many can be loaded at once.

It has every rule of a load but the way in, which it leaves out; so its "no" is a proof, and its
"yes" may name places that cannot be reached. Pairs of containers are kept apart by disjunctions,
as in Chen, Lee, Shen (1995), European Journal of Operational Research 80(1). Lengths are whole
millimetres.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import permutations, product
from typing import Literal

from ortools.sat.python import cp_model

from packdown.model import Cargo, LoadRules, LoadSpace

__all__ = ["can_load"]

COMMON_MM = 1_200
"""Every length and width divides this, so that shares of a container are whole numbers."""
Answer = Literal["yes", "no", "open"]


@dataclass(frozen=True)
class _Box:
    """Variables of one container, in millimetres."""

    cargo: Cargo
    inside: cp_model.IntVar
    turned: cp_model.IntVar
    at: tuple[cp_model.IntVar, cp_model.IntVar, cp_model.IntVar]
    end: tuple[cp_model.LinearExpr, cp_model.LinearExpr, cp_model.LinearExpr]
    low: cp_model.IntVar


class _Model:
    """The model of one load."""

    def __init__(self, space: LoadSpace, cargo: Sequence[Cargo], rules: LoadRules) -> None:
        self.space, self.rules = space, rules
        self.model = cp_model.CpModel()
        self.size = tuple(side // 1_000 for side in space.size_um)
        self.top = space.usable_um[2] // 1_000
        self.boxes = [self._box(one) for one in cargo]
        self.pairs = list(permutations(range(len(cargo)), 2))
        self.on = {pair: self.model.new_bool_var("") for pair in self.pairs}
        self.sinks = {pair: self.model.new_bool_var("") for pair in self.pairs}
        self.apart = {pair: self._apart(*pair) for pair in self.pairs}

    def _box(self, one: Cargo) -> _Box:
        model = self.model
        length, width, height = (side // 1_000 for side in one.size_um)
        turned, inside = model.new_bool_var(""), model.new_bool_var("")
        x, y = (model.new_int_var(0, self.size[axis], "") for axis in range(2))
        z = model.new_int_var(0, max(0, self.top - height), "")
        end = (x + length + (width - length) * turned, y + width + (length - width) * turned)
        for axis in range(2):
            model.add(end[axis] <= self.size[axis]).only_enforce_if(inside)
        if height > self.top:
            model.add(inside == 0)
        low = model.new_bool_var("")
        model.add(z == 0).only_enforce_if(low)
        for cut in self.space.taken_um:
            c = [side // 1_000 for side in cut]
            beside = [model.new_bool_var("") for _ in range(6)]
            model.add(end[0] <= c[0]).only_enforce_if(beside[0])
            model.add(x >= c[3]).only_enforce_if(beside[1])
            model.add(end[1] <= c[1]).only_enforce_if(beside[2])
            model.add(y >= c[4]).only_enforce_if(beside[3])
            model.add(z >= c[5]).only_enforce_if(beside[4])
            model.add(z + height <= c[2]).only_enforce_if(beside[5])
            model.add_bool_or([*beside, inside.negated()])
        return _Box(one, inside, turned, (x, y, z), (*end, z + height), low)

    def _apart(self, i: int, j: int) -> list[cp_model.IntVar]:
        """Return marks of which one says that i is left of, before, or clear above j."""
        a, b = self.boxes[i], self.boxes[j]
        marks = []
        for choice in (a.end[0] <= b.at[0], a.end[1] <= b.at[1], a.at[2] >= b.end[2] + 1):
            mark = self.model.new_bool_var("")
            self.model.add(choice).only_enforce_if(mark)
            marks.append(mark)
        return marks

    def keep_apart(self) -> None:
        """Containers share no volume; where one touches the other's top, it stands on it."""
        for i, j in self.pairs:
            a, b, on = self.boxes[i], self.boxes[j], self.on[i, j]
            self.model.add(a.at[2] == b.end[2]).only_enforce_if(on)
            for mark in (on, self.sinks[i, j]):
                self.model.add_implication(mark, a.inside)
                self.model.add_implication(mark, b.inside)
            self._sink(i, j)
            if i < j:
                marks = [*self.apart[i, j], *self.apart[j, i], on, self.on[j, i]]
                marks += [self.sinks[i, j], self.sinks[j, i]]
                self.model.add_bool_or(marks).only_enforce_if([a.inside, b.inside])

    def _sink(self, i: int, j: int) -> None:
        a, b, mark = self.boxes[i], self.boxes[j], self.sinks[i, j]
        nest = b.cargo.nest_um // 1_000
        if not nest or a.cargo.size_um != b.cargo.size_um or a.cargo.nest_um != b.cargo.nest_um:
            self.model.add(mark == 0)
            return
        for axis in range(2):
            self.model.add(a.at[axis] == b.at[axis]).only_enforce_if(mark)
        self.model.add(a.turned == b.turned).only_enforce_if(mark)
        self.model.add(a.at[2] == b.end[2] - nest).only_enforce_if(mark)

    def stand(self) -> None:
        """Every container stands on the floor, in a rim, or with its corners on others."""
        count = len(self.boxes)
        for i, a in enumerate(self.boxes):
            rims = [self.sinks[i, j] for j in range(count) if j != i]
            self.model.add_at_most_one([*rims, a.low])
            self.model.add_at_most_one(self.sinks[j, i] for j in range(count) if j != i)
            for x, y in product((a.at[0], a.end[0]), (a.at[1], a.end[1])):
                under = []
                for j, b in enumerate(self.boxes):
                    if j == i:
                        continue
                    mark = self.model.new_bool_var("")
                    self.model.add_implication(mark, self.on[i, j])
                    for corner, low, high in ((x, b.at[0], b.end[0]), (y, b.at[1], b.end[1])):
                        self.model.add(corner >= low).only_enforce_if(mark)
                        self.model.add(corner <= high).only_enforce_if(mark)
                    under.append(mark)
                self.model.add_bool_or([*under, *rims, a.low, a.inside.negated()])

    def carry(self) -> None:
        """Nothing stands on what is much lighter, is needed first, or may not carry it."""
        count = len(self.boxes)
        above = {pair: self.model.new_bool_var("") for pair in self.pairs}
        for i, j in self.pairs:
            a, b = self.boxes[i].cargo, self.boxes[j].cargo
            light = a.gross_g * 100 > b.gross_g * (100 + self.rules.heavier_percent)
            for mark in (self.on[i, j], self.sinks[i, j]):
                self.model.add_implication(mark, above[i, j])
                if light or _rank(a) > _rank(b):
                    self.model.add(mark == 0)
                for k in range(count):
                    if k not in {i, j}:
                        self.model.add_bool_or([mark.negated(), above[j, k].negated(), above[i, k]])
        for j, box in enumerate(self.boxes):
            limit = box.cargo.stack_limit_g
            if limit is not None:
                others = [i for i in range(count) if i != j]
                load = sum(self.boxes[i].cargo.gross_g * above[i, j] for i in others)
                self.model.add(load <= limit)

    def weigh(self) -> None:
        """The payload is kept, and a load that is not light is spread along the length."""
        total = sum(box.cargo.gross_g * box.inside for box in self.boxes)
        self.model.add(total <= self.space.payload_g)
        most_light = self.space.payload_g * self.rules.spread_percent // 100
        light = self.model.new_bool_var("")
        self.model.add(total <= most_light).only_enforce_if(light)
        front = sum(self._front(box) for box in self.boxes)
        half = self.rules.half_percent
        self.model.add(front * 100 <= half * COMMON_MM * total).only_enforce_if(light.negated())
        self.model.add(front * 100 >= (100 - half) * COMMON_MM * total).only_enforce_if(
            light.negated()
        )

    def _front(self, box: _Box) -> cp_model.IntVar:
        """Return grams in the forward half, times the common length."""
        model, weight = self.model, box.cargo.gross_g
        middle = self.size[1] // 2
        deep = self.size[1]
        beyond, part = model.new_int_var(0, deep, ""), model.new_int_var(0, deep, "")
        model.add_max_equality(beyond, [box.end[1] - middle, 0])
        length, width = (side // 1_000 for side in box.cargo.size_um[:2])
        side = width + (length - width) * box.turned
        model.add_min_equality(part, [beyond, side])
        share = model.new_int_var(0, weight * COMMON_MM, "")
        for flag, own in ((box.turned, length), (box.turned.negated(), width)):
            model.add(share == weight * (COMMON_MM // own) * part).only_enforce_if(
                [flag, box.inside]
            )
        model.add(share == 0).only_enforce_if(box.inside.negated())
        return share


def _rank(one: Cargo) -> float:
    return float("inf") if one.needed is None else one.needed


def can_load(
    space: LoadSpace, cargo: Sequence[Cargo], rules: LoadRules, number: int, work: float
) -> Answer:
    """Say whether so many of the containers can be loaded, the way in left out.

    Parameters
    ----------
    space, cargo, rules
        The problem.
    number
        How many are to be loaded at least.
    work
        Deterministic time of CP-SAT after which the question stays open, about seconds on a
        machine with nothing else to do.
    """
    if number > len(cargo):
        return "no"
    built = _Model(space, cargo, rules)
    built.keep_apart()
    built.stand()
    built.carry()
    built.weigh()
    built.model.add(sum(box.inside for box in built.boxes) >= number)
    volume = sum(
        box.cargo.size_um[0] * box.cargo.size_um[1] * (box.cargo.size_um[2] - box.cargo.nest_um)
        // 10**9 * box.inside
        for box in built.boxes
    )  # fmt: skip
    built.model.add(volume <= space.volume_um3 // 10**9 + 1_000 * len(cargo))
    solver = cp_model.CpSolver()
    solver.parameters.max_deterministic_time = work
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 0
    status = solver.solve(built.model)
    names: dict[cp_model.CpSolverStatus, Answer] = {
        cp_model.OPTIMAL: "yes", cp_model.FEASIBLE: "yes", cp_model.INFEASIBLE: "no",
    }  # fmt: skip
    if status == cp_model.MODEL_INVALID:
        raise ValueError(built.model.validate())
    return names.get(status, "open")
