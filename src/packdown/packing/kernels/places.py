"""The best place for one more item of a kind."""

from packdown.packing import layout as at
from packdown.packing.kernels.compiled import (
    F1,
    I1,
    Flag,
    Ints,
    Real,
    Reals,
    Setup,
    SetupType,
    State,
    StateType,
    Whole,
    compiled,
)
from packdown.packing.kernels.rest import bears, rest_height, touch

__all__ = ["best_place"]

NOWHERE = 1e300


@compiled(Flag(SetupType, Whole, Whole))
def _barred(setup: Setup, kind: int, pose: int) -> bool:
    """Whether magnets bar a pose from a steel floor."""
    on_steel = setup.kinds[kind, at.KIND_MAGNETS] * setup.box[at.BOX_STEEL]
    return bool(on_steel != 0 and setup.poses[pose, at.POSE_UPRIGHT] == 0)


@compiled(Whole(Whole, Whole, Whole))
def _rest(slack: int, side: int, copies: int) -> int:
    """Return what remains of a side of a space once copies are laid along it."""
    return slack - min(slack // side, copies - 1) * side


@compiled(Real(SetupType, StateType, Whole, Whole, Whole, Whole, F1))
def _tightness(
    setup: Setup, state: State, pose: int, anchor: int, space: int, copies: int, weights: Reals
) -> float:
    """Score how an anchor of a pose fills a space, or `NOWHERE` if it is too large."""
    box, spaces, anchors, poses = setup.box, state.spaces, setup.anchors, setup.poses
    side_x = anchors[anchor, 2] - anchors[anchor, 0] + box[at.BOX_CLEARANCE]
    side_y = anchors[anchor, 3] - anchors[anchor, 1] + box[at.BOX_CLEARANCE]
    side_z = poses[pose, at.POSE_HEIGHT]
    low = max(0, spaces[space, at.SPACE_Z] - poses[pose, at.POSE_UNDERSIDE])
    slack_x = spaces[space, 2] - spaces[space, 0] - side_x
    slack_y = spaces[space, 3] - spaces[space, 1] - side_y
    slack_z = box[at.BOX_HEIGHT] - low - side_z
    if slack_x < 0 or slack_y < 0 or slack_z < 0:
        return NOWHERE
    length, width, height = box[at.BOX_LENGTH], box[at.BOX_WIDTH], box[at.BOX_HEIGHT]
    rest = _rest(slack_x, side_x, copies) / length + _rest(slack_y, side_y, copies) / width
    rest += _rest(slack_z, side_z + box[at.BOX_SHEET], copies) / height
    return float(
        weights[at.REST] * rest + weights[at.SLACK] * min(slack_x / length, slack_y / width)
    )


@compiled(Whole(Whole, Real, Real))
def _ceiling(limit: int, spare: float, per_um: float) -> int:
    """Return the height above which a place has no room or scores no better."""
    if per_um > 0 and spare < limit * per_um:
        return int(spare / per_um) + 1
    return limit


@compiled(Whole(SetupType, StateType, Whole, Whole, Whole, Whole, F1, F1, I1))
def best_place(
    setup: Setup,
    state: State,
    kind: int,
    copies: int,
    deep: int,
    since: int,
    weights: Reals,
    bias: Reals,
    best: Ints,
) -> int:
    """Find the place with the least score for one more item.

    Parameters
    ----------
    setup, state
        The construction.
    kind
        Kind of the item.
    copies
        How many of the kind there are still to place.
    deep
        What is laid against the corners of spaces: bounding boxes (`SHALLOW`), single cuboids
        too (`DEEP_TOO`), or only they (`DEEP_ONLY`).
    since
        Spaces that were there with fewer items than this are passed over.
    weights, bias
        Weights of the score; a number for each pose that is part of it, and then one for each
        corner of a space against which a pose may be laid.
    best
        Receives pose, x, y and z. If it names a pose of the kind, this one is tried first.

    Returns
    -------
    int
        1 if there is a place, 0 if there is none, or `NO_ROOM`.
    """
    kinds, poses, box, spaces = setup.kinds, setup.poses, setup.box, state.spaces
    apart, length, width, height = (
        box[at.BOX_CLEARANCE],
        box[at.BOX_LENGTH],
        box[at.BOX_WIDTH],
        box[at.BOX_HEIGHT],
    )
    on_steel = kinds[kind, at.KIND_MAGNETS] * box[at.BOX_STEEL]
    per_um = (weights[at.BOTTOM] + weights[at.TOP]) / height
    least = NOWHERE
    first_pose, poses_end = kinds[kind, at.KIND_FIRST], kinds[kind, at.KIND_END]
    lead = best[0] if first_pose <= best[0] < poses_end else first_pose
    for turn in range(first_pose - 1, poses_end):
        pose = lead if turn < first_pose else turn
        if turn == lead:
            continue
        dx, dy, dz = (
            poses[pose, at.POSE_LENGTH],
            poses[pose, at.POSE_WIDTH],
            poses[pose, at.POSE_HEIGHT],
        )
        if dz > height or dx + 2 * apart > length or dy + 2 * apart > width:
            continue
        if _barred(setup, kind, pose):
            continue
        fixed = (
            weights[at.FOOTPRINT] * (dx / length) * (dy / width)
            + weights[at.OF_POSE] * bias[pose]
            + weights[at.TOP] * dz / height
        )
        first_anchor, last_anchor = (
            poses[pose, at.POSE_FIRST_ANCHOR],
            poses[pose, at.POSE_END_ANCHOR],
        )
        if deep == at.SHALLOW:
            last_anchor = first_anchor + 1
        elif deep == at.DEEP_ONLY:
            first_anchor += 1
        for a in range(first_anchor, last_anchor):
            ax0, ay0 = setup.anchors[a, 0], setup.anchors[a, 1]
            ax1, ay1 = setup.anchors[a, 2], setup.anchors[a, 3]
            for s in range(state.used[at.SPACES] - 1, -1, -1):
                if spaces[s, at.SPACE_BORN] < since:
                    continue
                low = max(0, spaces[s, at.SPACE_Z] - poses[pose, at.POSE_UNDERSIDE])
                if fixed + per_um * low >= least or (on_steel != 0 and low > 0):
                    continue
                base = fixed + _tightness(setup, state, pose, a, s, copies, weights)
                if base + per_um * low >= least:
                    continue
                slack_x = spaces[s, 2] - spaces[s, 0] - (ax1 - ax0) - apart
                slack_y = spaces[s, 3] - spaces[s, 1] - (ay1 - ay0) - apart
                for corner in range(4):
                    if (corner % 2 == 1 and slack_x == 0) or (corner > 1 and slack_y == 0):
                        continue
                    x = spaces[s, 0] - ax0 + (slack_x if corner % 2 == 1 else 0)
                    y = spaces[s, 1] - ay0 + (slack_y if corner > 1 else 0)
                    if x < apart or y < apart or x + dx + apart > length or y + dy + apart > width:
                        continue
                    level = base + weights[at.CORNER] * (x / length + y / width)
                    level += weights[at.OF_CORNER] * bias[poses.shape[0] + 4 * pose + corner]
                    if level + per_um * low >= least:
                        continue
                    limit = _ceiling(height - dz, least - level, per_um)
                    z = rest_height(setup, state, pose, x, y, limit)
                    if z + dz > height or (on_steel != 0 and z > 0):
                        continue
                    score = level + per_um * z
                    if score >= least:
                        continue
                    end = touch(setup, state, kind, pose, x, y, z)
                    if end == at.NO_ROOM:
                        return at.NO_ROOM
                    if end < 0:
                        continue
                    if bears(setup, state, kind, pose, x, y, end):
                        least = score
                        best[0], best[1], best[2], best[3] = pose, x, y, z
    return 1 if least < NOWHERE else 0
