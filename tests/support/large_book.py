"""A plan of 10 builds, 12 containers and 400 pieces, as a large pack book shows it."""

from collections.abc import Iterator
from dataclasses import replace
from random import Random

from packdown.files.defaults import read_defaults
from packdown.geometry import Cuboid
from packdown.model import Build, Container, Piece, Plan, Settings, Workspace
from packdown.planning import plan_workspace
from support.grown_builds import SHAPES, grown_build

__all__ = ["PIECES", "large_plan"]

MM = 1_000
PIECES = 400
BUILDS = 10
APART = (2, 7)
"""Numbers of the builds of which every piece travels alone."""
SIZES = ((210, 150, 140), (230, 170, 90), (200, 200, 110))
LOOSE = {
    "Floor tile": (64, 64, 8),
    "Wall": (64, 8, 56),
    "Post": (16, 16, 56),
    "Crate": (24, 24, 20),
    "Barrel": (20, 20, 26),
    "Bench": (48, 14, 12),
}


def _named(build: Build, number: int) -> Build:
    """Give a build and all that is in it names of their own; some are taken wholly apart."""
    own = f"build-{number}"
    pieces = tuple(
        replace(
            piece,
            id=piece.id.replace("b/", f"{own}/"),
            build=own,
            name=piece.name.capitalize(),
            alone=number in APART,
        )
        for piece in build.pieces
    )
    joints = tuple(
        replace(
            joint,
            id=joint.id.replace("b/", f"{own}/"),
            pieces=(
                joint.pieces[0].replace("b/", f"{own}/"),
                joint.pieces[1].replace("b/", f"{own}/"),
            ),
        )
        for joint in build.joints
    )
    return replace(build, id=own, name=f"Build {number}", pieces=pieces, joints=joints)


def _builds(settings: Settings, most: int) -> Iterator[Build]:
    shapes = list(SHAPES)
    for number in range(1, BUILDS + 1):
        shape = shapes[number % len(shapes)]
        yield _named(grown_build(shape, most, settings, seed=number), number)


def _loose(number: int) -> Iterator[Piece]:
    rng, copies = Random(1), dict.fromkeys(LOOSE, 0)
    for _ in range(number):
        name = rng.choice(list(LOOSE))
        copies[name] += 1
        length, width, height = (side * MM for side in LOOSE[name])
        solid = (Cuboid(0, 0, 0, length, width, height),)
        yield Piece(
            id=f"{name.lower().replace(' ', '-')}#{copies[name]}",
            part=name.lower().replace(" ", "-"),
            name=name,
            build=None,
            weight_g=max(1, solid[0].volume // 10**12),
            cuboids_um=solid,
            core_um=solid,
        )


def large_plan(most: int = 28, containers: int = 12) -> Plan:
    """Plan builds of up to some number of pieces, and loose pieces up to 400 in all."""
    defaults = read_defaults()
    builds = tuple(_builds(defaults.settings, most))
    loose = PIECES - sum(len(build.pieces) for build in builds)
    boxes = tuple(
        Container(
            id=f"box-{number}",
            name=f"Box {number}",
            type="box",
            inner_um=(length * MM, width * MM, height * MM),
            outer_um=((length + 10) * MM, (width + 10) * MM, (height + 10) * MM),
            tare_g=900,
            payload_g=980,
            clearance_um=defaults.clearance_um,
        )
        for number in range(1, containers + 1)
        for length, width, height in (SIZES[number % len(SIZES)],)
    )
    workspace = Workspace(
        name="A large collection",
        settings=defaults.settings,
        parts=(),
        loose=tuple(_loose(loose)),
        builds=builds,
        containers=boxes,
    )
    return plan_workspace(workspace, effort=1)
