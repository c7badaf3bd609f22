"""What the owner wishes of a split: pieces that travel alone, joints that are rather kept."""

from dataclasses import replace

from packdown.model import Build

__all__ = ["parted", "wished"]


def parted(build: Build) -> Build:
    """Return a build without the joints of pieces that travel alone: these are split anyway."""
    alone = {piece.id for piece in build.pieces if piece.alone}
    if not alone:
        return build
    return replace(
        build, joints=tuple(joint for joint in build.joints if alone.isdisjoint(joint.pieces))
    )


def wished(build: Build) -> Build:
    """Return a build as its joints weigh in choosing; see `parted`.

    To the effort of a joint that is rather kept come the seconds that it is spared for.
    """
    build = parted(build)
    if not any(joint.spare_s for joint in build.joints):
        return build
    joints = (replace(joint, effort_s=joint.effort_s + joint.spare_s) for joint in build.joints)
    return replace(build, joints=tuple(joints))
