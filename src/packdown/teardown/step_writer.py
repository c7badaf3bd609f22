"""One step of taking down or rebuilding, in short sentences."""

from collections import Counter
from collections.abc import Collection, Iterable, Mapping, Sequence

from packdown.geometry import Cuboid, Direction, bounds
from packdown.model import Build, Joint, Step, StepKind, place_in_words, runs
from packdown.teardown.order import Move

__all__ = ["TABLE", "StepWriter"]

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


class StepWriter:
    """Knows the pieces and sub-assemblies of one build by name, number and place.

    Parameters
    ----------
    build
        The build.
    parts
        Piece ids of its sub-assemblies; they are numbered from 1, as on labels.
    where
        For the pieces of each sub-assembly the id of its container.
    """

    def __init__(
        self,
        build: Build,
        parts: Sequence[Collection[str]],
        where: Mapping[tuple[str, ...], str],
    ) -> None:
        self.build = build
        self.parts = [frozenset(part) for part in parts]
        self.where = {frozenset(pieces): home for pieces, home in where.items()}
        self.pieces = {piece.id: piece for piece in build.pieces}
        self.joints = {joint.id: joint for joint in build.joints}
        self.named = Counter(piece.name for piece in build.pieces)
        self.box = self._box(self.pieces)

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
        if not move.joints and self._on_table(move):
            return f"{_take(move)} {self._part(move)} off the table; nothing is joined to it."
        way = f"{WAYS[move.direction]}, {self._way_mm(move)} mm or more"
        return f"{_take(move)} {self._part(move)} and {way}."

    def _back(self, move: Move) -> str:
        if not move.joints and self._on_table(move):
            return self._set_down(move)
        way = f"{WAYS_BACK[move.direction]} until it touches {self._rest(move)}"
        start = f"hold it {self._way_mm(move)} mm off its place"
        return f"{_take(move)} {self._part(move)}, {start} and {way}."

    def _on_table(self, move: Move) -> bool:
        """Whether what moves stands on the table beside what stays."""
        return self._box(move.moving).z0 == self._box((*move.moving, *move.staying)).z0

    def _set_down(self, move: Move) -> str:
        """Say where to set down what nothing joins, from the nearest that stands there."""
        here = self._box(move.moving)
        boxes = {number: self._box(self.parts[number]) for number in self._numbers(move.staying)}
        near = min(boxes, key=lambda n: (_apart(here, boxes[n]), n)) if boxes else None
        there = self._box(move.staying) if near is None else boxes[near]
        name = "the rest" if near is None else self._sub(near)
        x, y = here.x0 - there.x0, here.y0 - there.y0
        ways = [
            f"{abs(far) / 1_000:g} mm {word}"
            for far, word in (
                (x, "to the right of" if x > 0 else "to the left of"),
                (y, "behind" if y > 0 else "in front of"),
            )
            if far
        ]
        return (
            f"Set {self._part(move)} down on the table: its front left corner "
            f"{' and '.join(ways)} that of {name}."
        )

    def _numbers(self, names: Iterable[str]) -> list[int]:
        """Return the sub-assemblies among some pieces, counted from 0."""
        inside = set(names)
        return [number for number, part in enumerate(self.parts) if part <= inside]

    def _sub(self, number: int) -> str:
        """Name a sub-assembly as its label does, and say where it belongs."""
        pieces = sorted(self.parts[number])
        what = f"{len(pieces)} pieces"
        if len(pieces) == 1:
            what = self._named(pieces[0])
        return f"part {number + 1} ({what})"

    def _named(self, name: str) -> str:
        """Name a piece; where others have the same name, say where in the build it belongs."""
        piece = self.pieces[name]
        if self.named[piece.name] == 1:
            return piece.name
        low, size = self.box[:3], self.box.size
        place = place_in_words(self._box([name]).moved(-low[0], -low[1], -low[2]), size)
        return f"{piece.name}, {place}"

    def _part(self, move: Move) -> str:
        """Name the moving part: a sub-assembly by its number, more by side and numbers."""
        numbers = self._numbers(move.moving)
        if len(numbers) == 1:
            return self._sub(numbers[0])
        side = _side(self._box(move.moving), self._box(move.staying))
        held = f"parts {runs(number + 1 for number in numbers)}, {len(move.moving)} pieces"
        return f"the {side} side ({held})"

    def _rest(self, move: Move) -> str:
        numbers = self._numbers(move.staying)
        return self._sub(numbers[0]) if len(numbers) == 1 else "the rest"

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
        one, two = (self._named(name) for name in joint.pieces)
        return f"{one} and {two}"

    def _held(self, move: Move) -> str:
        if not move.holds:
            return ""
        names = _listed([self._named(name) for name in move.holds], "; ")
        return f"Hold up {names}: nothing else carries {'it' if len(move.holds) == 1 else 'them'}."

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


def _apart(one: Cuboid, two: Cuboid) -> int:
    """Return how far apart two boxes are in plan, one way plus the other."""
    return sum(max(0, one[a] - two[a + 3], two[a] - one[a + 3]) for a in (0, 1))


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
