"""Signs on drawings: where joints are opened or closed, where keys go, which way a part moves."""

from collections.abc import Sequence
from math import hypot

from packdown.model import Joint, JointKind
from packdown.report.svg import Spot, outline, path, segments

__all__ = ["JOINT_WORDS", "arrow", "joint_mark", "sign"]

_SIGNS: dict[JointKind, tuple[tuple[int, int], ...]] = {
    JointKind.KEYED: ((-30, -17), (0, -6), (30, -17), (30, 17), (0, 6), (-30, 17)),
    JointKind.PRESS_FIT: ((0, -26), (26, 0), (0, 26), (-26, 0)),
    JointKind.MAGNETIC: (
        (-24, -24), (-8, -24), (-8, 8), (8, 8), (8, -24), (24, -24), (24, 24), (-24, 24),
    ),
    JointKind.STACKED: ((-26, -18), (26, -18), (0, 24)),
}  # fmt: skip
"""Outlines by kind, in drawing units: a key, a peg, a horseshoe, a weight."""
JOINT_WORDS = {
    JointKind.KEYED: "keyed joint, with its keys",
    JointKind.PRESS_FIT: "press-fit joint",
    JointKind.MAGNETIC: "magnetic joint",
    JointKind.STACKED: "stacked, held by its weight",
}
"""What the signs mean; glued joints have none, since they stay."""
SHAFT, HEAD, SPREAD = 13, 62, 40
LEAST_SHAFT = 46


def sign(kind: JointKind, at: Spot) -> str:
    """Return the sign of a kind of joint with its middle at a point of the drawing."""
    points = [(at[0] + x, at[1] + y) for x, y in _SIGNS.get(kind, _SIGNS[JointKind.PRESS_FIT])]
    return path("j", outline(points))


def joint_mark(joint: Joint, here: Spot, there: Spot) -> str:
    """Mark where a joint is on the staying part and on the moving one, and join both by a line.

    Parameters
    ----------
    joint
        The joint.
    here, there
        Its place on the staying part, and on the moving part as it is drawn.
    """
    signs = sign(joint.kind, here) + sign(joint.kind, there)
    number = ""
    if joint.keys > 1:
        number = f'<text class="n2" x="{here[0] + 56}" y="{here[1] + 14}">{joint.keys} x</text>'
    return path("tie", segments([(here, there)])) + signs + number


def arrow(start: Spot, end: Spot) -> str:
    """Return an arrow; where both ends fall nearly together it still has its head."""
    x, y = end[0] - start[0], end[1] - start[1]
    length = hypot(x, y)
    if not length:
        return ""
    along, across = (x / length, y / length), (-y / length, x / length)
    reach = max(length, HEAD + LEAST_SHAFT)

    def at(far: float, aside: float) -> Spot:
        return (
            round(start[0] + far * along[0] + aside * across[0]),
            round(start[1] + far * along[1] + aside * across[1]),
        )

    neck = reach - HEAD
    half: Sequence[tuple[float, float]] = ((0, SHAFT), (neck, SHAFT), (neck, SPREAD))
    points = [at(far, aside) for far, aside in half]
    points.append(at(reach, 0))
    points += [at(far, -aside) for far, aside in reversed(half)]
    return path("arrow", outline(points))
