"""Any sequence of changes keeps every piece in exactly one place."""

import os
import random
import tempfile
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, ExitStack, contextmanager
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, precondition, rule

from packdown.errors import PackdownError
from packdown.model import Plan
from packdown.store.backup import backup, restore
from packdown.store.connection import Store
from packdown.store.counting import count
from packdown.store.expecting import expect
from packdown.store.finding import box_of
from packdown.store.listing import list_container
from packdown.store.moving import move
from packdown.store.sweeping import sweep
from packdown.store.tally import Answer, Rest
from packdown.store.undoing import undo
from support.stores import (
    NO_SERVER,
    SERVER,
    everything,
    file_store,
    places,
    server_store,
    state,
    stowed,
)
from support.stow_plans import stowing_plan

CUBES = (*(f"crate#{n}" for n in range(1, 6)), "tile#1", "tile#2", "mill/wall", "mill/roof")
BOXES = ("long", "small", "spare")
GOALS = (*BOXES, "out")
Lend = Callable[[], AbstractContextManager[Store]]


@st.composite
def plans(draw: st.DrawFn) -> Plan:
    """Plans that put some of the cubes into containers, in any order."""
    cubes = draw(st.permutations(CUBES))
    homes = {cube: draw(st.sampled_from((*BOXES, ""))) for cube in cubes}
    inside = {box: [cube for cube in cubes if homes[cube] == box] for box in BOXES}
    return stowing_plan(inside, left=[cube for cube in cubes if not homes[cube]])


@contextmanager
def lend_file() -> Iterator[Store]:
    """Lend a store in a file."""
    with tempfile.TemporaryDirectory() as folder:
        yield file_store(Path(folder))


class AnySequence(RuleBasedStateMachine):
    """A store, and what it must hold after each change: the same pieces, each once."""

    lend: Lend = staticmethod(lend_file)

    def __init__(self) -> None:
        super().__init__()
        self.stack = ExitStack()
        self.store: Store = self.stack.enter_context(self.lend())
        self.folder = Path(self.stack.enter_context(tempfile.TemporaryDirectory()))
        self.states: list[dict[str, list[tuple[object, ...]]]] = [{}]

    def teardown(self) -> None:
        """Give the store back."""
        self.stack.close()

    def changed(self) -> None:
        """Remember the state for the undoing of the next change."""
        self.states.append(state(self.store))

    @rule(plan=plans(), only=st.sets(st.sampled_from(BOXES)))
    def stow(self, plan: Plan, only: set[str]) -> None:
        """Stow a plan, or some containers of it; these then hold what the plan says, by kind."""
        stowed(self.store, plan, *sorted(only))
        now = places(self.store)
        for box in plan.containers:
            if not only or box.id in only:
                held = sorted(name.partition("#")[0] for name, at in now.items() if at == box.id)
                meant = sorted(place.item.partition("#")[0] for place in box.fill)
                assert held == meant
        self.changed()

    @precondition(lambda self: len(self.states) > 1)
    @rule(name=st.sampled_from((*CUBES, "crate", "mill", *BOXES)), to=st.sampled_from(GOALS))
    def move(self, name: str, to: str) -> None:
        """Move something by hand."""
        try:
            moved = move(self.store, [name], to)
        except PackdownError:
            return  # there is no such thing, or it is there already
        now = places(self.store)
        assert {now[piece] for piece in moved.pieces} == {to}
        self.changed()

    @precondition(lambda self: len(self.states) > 1)
    @rule(box=st.sampled_from(BOXES), seed=st.integers(0, 99), rest=st.sampled_from(Rest))
    def count(self, box: str, seed: int, rest: Rest) -> None:
        """Count a container; some lines have too few, some have too many."""
        rng = random.Random(seed)
        with self.store.reading() as rows:
            lines = expect(rows, box_of(rows, box)).lines
        found = {line.what: rng.randint(0, line.number) for line in lines if rng.random() < 0.7}
        answers = [Answer(what=what, found=number) for what, number in found.items()]
        if rng.random() < 0.3:
            answers.append(Answer(what="tile", found=1))
        try:
            count(self.store, box, answers, rest)
        except PackdownError:
            return  # more tiles than there are
        self.changed()

    @precondition(lambda self: len(self.states) > 1)
    @rule()
    def undo(self) -> None:
        """Take the last change back: everything is as it was before it."""
        undo(self.store)
        self.states.pop()
        now = state(self.store)
        assert now == {name: self.states[-1].get(name, []) for name in now}

    @precondition(lambda self: len(self.states) > 1)
    @rule()
    def back_up_and_restore(self) -> None:
        """A backup restored is what was backed up, whatever came in between."""
        before = everything(self.store)
        backup(self.store, self.folder / "save.db")
        stowed(self.store, stowing_plan({"long": list(CUBES)}))
        restore(self.store, self.folder / "save.db")
        assert everything(self.store) == before

    @precondition(lambda self: len(self.states) > 1)
    @invariant()
    def each_piece_is_in_one_place(self) -> None:
        """What the lists of containers, of loose things and of the rest tell adds up."""
        owned = len(CUBES) if self.states[-1] else 0
        with self.store.reading() as rows:
            names = rows.rows("SELECT id FROM containers")
            inside = sum(list_container(rows, name).number for (name,) in names)
            about = sweep(rows)
        assert inside + sum(one.number for one in about.loose) + about.never_stowed == owned
        assert sorted(places(self.store)) == sorted(CUBES)[:owned]


class AnySequenceOnServer(AnySequence):
    """The same on a server."""

    lend = staticmethod(server_store)


def run(machine: type[AnySequence], examples: int) -> None:
    """Run the machine so many times."""
    case = machine.TestCase
    case.settings = settings(
        max_examples=examples,
        stateful_step_count=12,
        deadline=None,
        suppress_health_check=list(HealthCheck),
        derandomize=True,
    )
    case("runTest").runTest()


def test_any_sequence_in_a_file() -> None:
    """Whatever one does, in a store of one's own."""
    run(AnySequence, 8)


@pytest.mark.skipif(SERVER not in os.environ, reason=NO_SERVER)
def test_any_sequence_on_a_server() -> None:
    """Whatever one does, in the store of a club."""
    run(AnySequenceOnServer, 3)
