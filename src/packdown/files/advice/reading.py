"""All advice on the builds of a workspace."""

from collections.abc import Iterator
from pathlib import Path

from packdown.errors import Problem
from packdown.files.advice.advice import Advice
from packdown.files.advice.resting import hanging, tipping
from packdown.files.advice.slots import almost_meeting
from packdown.files.advice.weights import too_heavy
from packdown.files.builds import Contents
from packdown.files.checks import rules_of
from packdown.files.place import Place
from packdown.files.spots import place_pieces
from packdown.files.workspace import read_builds_of
from packdown.model import Build, Workspace, find_joints, usable_payloads

__all__ = ["read_advice"]


def read_advice(folder: Path, workspace: Workspace) -> tuple[Advice, ...]:
    """Read the builds once more and advise on those that stand.

    Parameters
    ----------
    folder
        The folder of the workspace.
    workspace
        What was read from it without a problem.
    """
    found: list[Problem] = []
    contents = read_builds_of(folder, found).standing
    payloads = usable_payloads(workspace.containers, rules_of(workspace.settings))
    most_g = max(payloads.values())
    return tuple(
        advice
        for build in workspace.builds
        if build.id in contents
        for advice in _advised(build, contents[build.id], most_g, workspace)
    )


def _advised(
    build: Build, contents: Contents, most_g: int, workspace: Workspace
) -> Iterator[Advice]:
    whole = contents.place or Place("builds", [], f"builds.{build.id}")
    yield from too_heavy(build, most_g, whole)
    places = {piece.id: whole for piece in build.pieces}
    possible = build.joints
    if contents.spots:
        places |= {f"{build.id}/{spot.id}": spot.place for spot in contents.spots}
        pieces, slots = place_pieces(build.id, contents.spots)
        possible = find_joints(build.id, pieces, slots, workspace.settings)
        yield from almost_meeting(contents.spots)
    yield from hanging(build.pieces, build.joints, possible, places)
    yield from tipping(build.pieces, build.joints, places)
