"""The order of work in words: short steps of taking down and of rebuilding."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from packdown.geometry import Cuboid, Direction, bounds
from packdown.model import Build, Joint, Piece, Step, StepKind
from packdown.teardown.order import Move

__all__ = ["TABLE", "number", "write_steps"]

TABLE = "table"
#: Far enough for a key to leave its slot, in millimetres.
LEAST_WAY_MM = 30
FEW = 3
WAYS = {
    Direction.UP: "lift it straight up",
    Direction.LEFT: "slide it to the left",
    Direction.RIGHT: "slide it to the right",
    Direction.FRONT: "slide it to the front",
    Direction.BACK: "slide it to the back",
}
WAYS_BACK = {
    Direction.UP: "lower it straight down",
    Direction.LEFT: "slide it to the right",
    Direction.RIGHT: "slide it to the left",
    Direction.FRONT: "slide it to the back",
    Direction.BACK: "slide it to the front",
}
SIDES = (("left", "right"), ("front", "back"), ("lower", "upper"))


def write_steps(
    build: Build, moves: Sequence[Move], where: Mapping[tuple[str, ...], str]
) -> tuple[list[Step], list[Step]]:
    """Say each move in words, in the order of taking down and in that of rebuilding.

    Parameters
    ----------
    build
        The build.
    moves
        Its order of work.
    where
        For the pieces of each sub-assembly the id of its container.

    Returns
    -------
    take_down, rebuild
        Steps not yet numbered; the second list is the first one mirrored.
    """
    writer = _Writer(build, where)
    down = [writer.parting(move) for move in moves]
    up = [writer.joining(move) for move in reversed(moves)]
    return down, up


def number(steps: Iterable[Step]) -> tuple[Step, ...]:
    """Return the steps numbered from 1, each with those that must be done before it.

    These are the last that had any of its pieces at work, the one before at the same container,
    and, where loose keys go from one to the other, those that they come from; less those that
    another of them waits for.
    """
    numbered: list[Step] = []
    last: dict[str, int] = {}
    freed: dict[str | None, list[int]] = {}
    waits = [0]  # for each step the bits of all that must be done before it
    for n, step in enumerate(steps, start=1):
        moving = step.kind in (StepKind.PACK, StepKind.UNPACK)
        box = [f"container {step.from_ if step.to == TABLE else step.to}"] if moving else []
        used = [*(f"piece {name}" for name in step.pieces + step.stays), *box]
        gives = step.kind in (StepKind.PART, StepKind.UNPACK)
        before = {last[thing] for thing in used if thing in last}
        if step.keys and gives:
            freed.setdefault(step.build, []).append(n)
        elif step.keys:
            before.update(freed.get(step.build, ()))
        last.update(dict.fromkeys(used, n))
        after, known = [], 0
        for other in sorted(before, reverse=True):
            if not known >> other & 1:
                after.append(other)
                known |= waits[other] | 1 << other
        waits.append(known)
        numbered.append(replace(step, n=n, after=tuple(reversed(after))))
    return tuple(numbered)


class _Writer:
    """Knows the pieces of one build by name."""

    def __init__(self, build: Build, where: Mapping[tuple[str, ...], str]) -> None:
        self.build = build
        self.where = {frozenset(pieces): home for pieces, home in where.items()}
        self.pieces = {piece.id: piece for piece in build.pieces}
        self.joints = {joint.id: joint for joint in build.joints}

    def parting(self, move: Move) -> Step:
        """Return the step that moves a part away."""
        sentences = [
            self._first(move, "First pull", "out of"),
            self._held(move),
            self._away(move),
            self._keys_out(move),
        ]
        return self._step(move, StepKind.PART, sentences, move.direction)

    def joining(self, move: Move) -> Step:
        """Return the step that moves a part back."""
        sentences = [
            self._keys_in(move),
            self._held(move),
            self._back(move),
            self._first(move, "Then push", "into"),
        ]
        return self._step(move, StepKind.JOIN, sentences, move.direction.opposite)

    def _step(
        self, move: Move, kind: StepKind, sentences: Iterable[str], direction: Direction
    ) -> Step:
        home = self.where.get(frozenset(move.moving), TABLE)
        parting = kind is StepKind.PART
        return Step(
            n=0,
            kind=kind,
            build=self.build.id,
            text=" ".join(sentence for sentence in sentences if sentence),
            pieces=move.moving,
            stays=move.staying,
            joints=move.joints,
            direction=direction,
            from_=TABLE if parting else home,
            to=home if parting else TABLE,
            keys=move.keys,
            keys_first=move.keys_first,
            hands=move.hands,
            holds=move.holds,
        )

    def _away(self, move: Move) -> str:
        way = f"{WAYS[move.direction]}, {self._way_mm(move)} mm or more"
        return f"{_take(move)} {self._part(move)} and {way}."

    def _back(self, move: Move) -> str:
        way = f"{WAYS_BACK[move.direction]} until it touches {self._rest(move)}"
        start = f"hold it {self._way_mm(move)} mm off its place"
        return f"{_take(move)} {self._part(move)}, {start} and {way}."

    def _part(self, move: Move) -> str:
        """Name the moving part: a piece by its name, more by side, number and ends."""
        pieces = [self.pieces[name] for name in move.moving]
        if len(pieces) == 1:
            return pieces[0].name
        here, there = self._box(move.moving), self._box(move.staying)
        ends = f"{len(pieces)} pieces, from {pieces[0].name} to {pieces[-1].name}"
        return f"the {_side(here, there)} part ({ends})"

    def _rest(self, move: Move) -> str:
        pieces = [self.pieces[name] for name in move.staying]
        return pieces[0].name if len(pieces) == 1 else "the other part"

    def _box(self, names: Iterable[str]) -> Cuboid:
        return bounds([cuboid for name in names for cuboid in self.pieces[name].cuboids_um])

    def _way_mm(self, move: Move) -> int:
        """Return how far the part goes until it is clear, in whole centimetres."""
        axis = move.direction.axis
        here, there = self._box(move.moving), self._box(move.staying)
        forward = sum(move.direction.vector) > 0
        deep = there[axis + 3] - here[axis] if forward else here[axis + 3] - there[axis]
        return max(LEAST_WAY_MM, 10 * -(-deep // 10_000))

    def _first(self, move: Move, verb: str, preposition: str) -> str:
        """Say which keys the move would shear."""
        sheared = [
            joint
            for name in move.joints
            if (joint := self.joints[name]).keys and joint.axis != move.direction.axis
        ]
        if not sheared:
            return ""
        return (
            f"{verb} the {_count(move.keys_first, 'key')} {preposition} the slots between "
            f"{_listed([self._pair(joint) for joint in sheared], '; ')}."
        )

    def _pair(self, joint: Joint) -> str:
        one, two = (self.pieces[name].name for name in joint.pieces)
        return f"{one} and {two}"

    def _held(self, move: Move) -> str:
        if not move.holds:
            return ""
        pieces: list[Piece] = [self.pieces[name] for name in move.holds]
        return (
            f"Hold {_listed([piece.name for piece in pieces], ', ')}, which nothing else carries."
        )

    def _keys_out(self, move: Move) -> str:
        rest = move.keys - move.keys_first
        if not move.keys:
            return ""
        bag = f"into the bag for {self.build.name}."
        if not move.keys_first:
            return f"Take out {_count(rest, 'key')} and put {_them(rest)} {bag}"
        taken = f"Take out {_count(rest, 'key')}. " if rest else ""
        return f"{taken}Put the {_count(move.keys, 'key')} {bag}"

    def _keys_in(self, move: Move) -> str:
        rest = move.keys - move.keys_first
        if not move.keys:
            return ""
        taken = f"Take {_count(move.keys, 'key')} from the bag for {self.build.name}"
        if not move.keys_first:
            return f"{taken} and put {_them(rest)} into place."
        return f"{taken} and put {rest} of them into place." if rest else f"{taken}."


def _them(number_of: int) -> str:
    return "it" if number_of == 1 else "them"


def _take(move: Move) -> str:
    return "With both hands take" if move.hands == 2 else "Take"


def _count(number_of: int, what: str) -> str:
    return f"{number_of} {what}" + ("" if number_of == 1 else "s")


def _listed(names: Sequence[str], separator: str) -> str:
    """List names; of many, say how many more there are."""
    shown = separator.join(names[:FEW])
    more = len(names) - FEW
    return f"{shown} and {_count(more, 'other')}" if more > 0 else shown


def _side(here: Cuboid, there: Cuboid) -> str:
    """Say on which side of another box a box lies: where they are furthest apart for their size."""

    def apart(axis: int) -> float:
        extent = max(here[axis + 3], there[axis + 3]) - min(here[axis], there[axis])
        return (here[axis] + here[axis + 3] - there[axis] - there[axis + 3]) / extent

    axis = max(range(3), key=lambda a: abs(apart(a)))
    return SIDES[axis][apart(axis) > 0]
