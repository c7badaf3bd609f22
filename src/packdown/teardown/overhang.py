"""Why pieces come off: which must be in a sub-assembly, and which out of it, for that.

What comes off one sub-assembly comes off many. The reason found is valid for all of them: some
pieces, the core, hang; around them lies a region in which nothing is supported, whatever of it is
in; the few pieces that could support it from outside are out.
"""

from collections import Counter
from collections.abc import Callable, Iterator

from packdown.geometry import Direction
from packdown.model import Joint, JointKind
from packdown.teardown.graph import BuildGraph, bits, components
from packdown.teardown.leverage import GRAVITY, GRAVITY_UNIT

__all__ = ["Overhangs"]

Reason = tuple[int, int]
"""Masks of the pieces that are in, and of those that are out."""


class Overhangs:
    """Reasons why sub-assemblies of one build do not hold in one way up.

    Parameters
    ----------
    graph
        The build.
    down
        The direction that is down.
    shock_factor
        How many times its weight a joint must hold.
    """

    def __init__(self, graph: BuildGraph, down: Direction, shock_factor: int) -> None:
        self.graph, self.down, self.shock_factor = graph, down, shock_factor
        edge = down.axis if sum(down.vector) < 0 else down.axis + 3
        #: Height of the underside of each piece.
        self.level = [-sum(down.vector) * box[edge] for box in graph.boxes]
        self.weights = [shock_factor * piece.weight_g for piece in graph.build.pieces]
        self.joints: list[list[tuple[int, Joint]]] = [[] for _ in graph.boxes]
        for pair, joint in graph.joints:
            if joint.kind is not JointKind.STACKED:
                a, b = bits(pair)
                self.joints[a].append((b, joint))
                self.joints[b].append((a, joint))

    def reasons(self, mask: int, hung: int) -> Iterator[Reason]:
        """Yield reasons why pieces that hang come off a sub-assembly; none if it is not clear.

        Parameters
        ----------
        mask
            The pieces of the sub-assembly.
        hung
            Those that come off.
        """
        foot = min(bits(mask), key=lambda i: (self.level[i], i))
        for part in components(hung, self.graph.held(self.down)):
            claims = [_Claim(self, mask, foot, self.weights, self._holds, None)]
            claims += [
                self._at_seam(mask, foot, axis, at, sign)
                for axis, at in self.graph.seams
                if axis != self.down.axis
                for sign in (1, -1)
            ]
            for claim in claims:
                found = claim.reason(part)
                if found:
                    yield found

    def _holds(self, _inner: int, _outer: int, joint: Joint) -> int | None:
        return joint.holds_g

    def _at_seam(self, mask: int, foot: int, axis: int, at: int, sign: int) -> "_Claim":
        """Return the claim that what lies beyond a seam bends its joints open."""
        graph = self.graph
        edge = axis if sign > 0 else axis + 3
        beyond = sum(1 << i for i, box in enumerate(graph.boxes) if sign * (box[edge] - at) >= 0)
        moments = [
            sign * (graph.moments[i][axis] - at * piece.weight_g * graph.moment_unit)
            for i, piece in enumerate(graph.build.pieces)
        ]

        def bears(inner: int, outer: int, joint: Joint) -> int | None:
            if joint.bends_mnm is None or joint.axis != axis or beyond >> outer & 1:
                return None
            if graph.plane(1 << inner | 1 << outer, axis) != at:
                return None
            return joint.bends_mnm * graph.moment_unit * GRAVITY_UNIT

        loads = [moment * self.shock_factor * GRAVITY for moment in moments]
        return _Claim(self, mask, foot, loads, bears, beyond)


class _Claim:
    """One way in which pieces may come off: their loads against what the joints around bear.

    Parameters
    ----------
    overhangs, mask
        The build, and the pieces of the sub-assembly.
    foot
        A piece that stands: what is higher does not.
    loads
        Load of each piece; never below nothing inside `within`.
    bears
        What a joint from a piece inside to one outside bears; None if it never gives way.
    beyond
        The pieces beyond a seam, where none but these may come off, nor what touches them there
        stay; None without a seam.
    """

    def __init__(
        self,
        overhangs: Overhangs,
        mask: int,
        foot: int,
        loads: list[int],
        bears: Callable[[int, int, Joint], int | None],
        beyond: int | None,
    ) -> None:
        self.joints, self.level, self.graph = overhangs.joints, overhangs.level, overhangs.graph
        self.rests = self.graph.lies_on[overhangs.down]
        self.held = self.graph.held(overhangs.down)
        self.mask, self.foot, self.loads = mask, foot, loads
        self.bears = bears
        self.within = self.graph.all if beyond is None else beyond
        self.touching = beyond or 0

    def reason(self, hung: int) -> Reason | None:
        """Return why some pieces come off in this way, or None if they do not."""
        if hung & ~self.within or any(self.level[i] <= self.level[self.foot] for i in bits(hung)):
            return None
        load = sum(self.loads[i] for i in bits(hung))
        supports, borne = self._around(hung)
        if supports & self.mask or self._kept(borne) >= load:
            return None
        region = self._widened(hung, load)
        supports, borne = self._around(region)
        for other in sorted(borne, key=lambda other: (-borne[other], other)):
            if sum(borne.values()) >= load and not self.mask >> other & 1:
                supports |= 1 << other
                del borne[other]
        return self._core(hung, sum(borne.values())) | 1 << self.foot, supports

    def _around(self, region: int) -> tuple[int, Counter[int]]:
        """Return what would support a region, and what the joints to each other piece bear."""
        supports = 0
        borne: Counter[int] = Counter()
        for i in bits(region):
            supports |= (self.rests[i] | self.held[i] & self.touching) & ~region
            for other, joint in self.joints[i]:
                if not region >> other & 1:
                    bears = self.bears(i, other, joint)
                    if bears is None:
                        supports |= 1 << other
                    else:
                        borne[other] += bears
        for other in bits(supports):
            del borne[other]
        return supports, borne

    def _kept(self, borne: Counter[int]) -> int:
        return sum(bears for other, bears in borne.items() if self.mask >> other & 1)

    def _widened(self, region: int, load: int) -> int:
        """Return a region with all that could be in it without supporting it."""
        tried = 0
        while True:
            supports, borne = self._around(region)
            near = supports | sum(1 << other for other in borne)
            near &= self.within & ~self.mask & ~tried
            if not near:
                return region
            tried |= near & -near
            wider = region | near & -near
            if self.level[(near & -near).bit_length() - 1] > self.level[self.foot]:
                supports, borne = self._around(wider)
                if not supports & self.mask and self._kept(borne) < load:
                    region = wider

    def _core(self, hung: int, borne: int) -> int:
        """Return few of the pieces that hang, joined, that load more than is borne."""
        for i in sorted(bits(hung), key=lambda i: (self.loads[i], i)):
            rest = hung & ~(1 << i)
            left = sum(self.loads[k] for k in bits(rest))
            if left > borne and len(components(rest, self.held)) == 1:
                hung = rest
        return hung
