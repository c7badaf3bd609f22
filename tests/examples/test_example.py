"""The example workspace reads without a problem, and holds all that a collection can hold."""

from collections import Counter

from packdown.geometry import WayUp, size, volume
from packdown.model import Build, Grade, JointKind, Lining, Workspace
from packdown.units import parse_length
from support.saltworks import build_of, placed

MM = 1_000
SQUARE = 32 * MM


def counted(build: Build) -> int:
    """Return how many pieces a build is made of, those counted in measured units too."""
    return sum(sum(n for _, n in piece.contains) or 1 for piece in build.pieces)


def test_numbers(works: Workspace) -> None:
    """It is a collection of realistic size: parts, loose pieces, builds and containers."""
    assert len(works.parts) >= 24
    assert len(works.loose) >= 260
    assert len(works.builds) == 8
    assert len(works.containers) >= 9
    assert len({container.type for container in works.containers}) >= 5


def test_loose_pieces_are_of_many_kinds(works: Workspace) -> None:
    """No kind makes up more than a fifth of what is loose, and most kinds are there."""
    kinds = Counter(piece.part for piece in works.loose)
    assert len(kinds) >= 24
    assert kinds.most_common(1)[0][1] * 5 < len(works.loose)


def test_grid_is_not_the_usual_inch(works: Workspace) -> None:
    """Floors are made for squares of 32 mm."""
    sides = {
        side for part in works.parts if "floor" in part.tags for side in size(part.cover_um)[:2]
    }
    assert {side % SQUARE for side in sides} == {0}
    assert all(side % parse_length("1 in") for side in sides)


def test_all_grades_of_builds(works: Workspace) -> None:
    """One build was only measured, one is known in units, all others are placed."""
    grades = Counter(build.grade for build in works.builds)
    assert grades == {Grade.PLACED: 6, Grade.UNITS: 1, Grade.MEASURED: 1}


def test_builds_are_of_6_to_60_pieces(works: Workspace) -> None:
    """The smallest is done in a minute, the two largest are a job."""
    assert all(6 <= counted(build) <= 60 for build in works.builds)
    assert sum(len(build.pieces) >= 54 for build in placed(works)) == 2


def test_units_hold_counted_pieces(works: Workspace) -> None:
    """The measured build and every measured unit say what was counted in them."""
    for build in works.builds:
        for piece in build.pieces:
            assert bool(piece.contains) == (build.grade is not Grade.PLACED)


def test_measured_weights_are_near_what_the_counted_pieces_weigh(works: Workspace) -> None:
    """Glue and paint come on top, but never more than a fifth."""
    grams = {part.id: part.weight_g for part in works.parts}
    for build in works.builds:
        for piece in build.pieces:
            if piece.contains:
                counted_g = sum(grams[part] * number for part, number in piece.contains)
                assert counted_g <= piece.weight_g <= 1.2 * counted_g


def test_every_kind_of_joint(works: Workspace) -> None:
    """Keyed, press-fit, magnetic, stacked and glued joints all occur among placed pieces."""
    kinds = Counter(joint.kind for build in placed(works) for joint in build.joints)
    assert set(kinds) == set(JointKind)
    assert kinds[JointKind.GLUED] >= 2
    assert kinds[JointKind.MAGNETIC] >= 2
    assert kinds[JointKind.KEYED] > sum(kinds.values()) / 2


def test_every_kind_of_part(works: Workspace) -> None:
    """Fragile, upright-only, magnetic, bagged, stepped, hollow and big awkward parts occur."""
    fragile = {part.id for part in works.parts if part.carry_limit_g == 0}
    upright_only = {part.id for part in works.parts if part.ways_up == (WayUp.UPRIGHT,)}
    magnetic = {part.id for part in works.parts if part.magnets}
    bagged = {part.id for part in works.parts if part.bagged}
    stepped = {part.id for part in works.parts if part.cover_um != part.core_um}
    awkward = {p.id for p in works.parts if len(p.cover_um) >= 4 and p.weight_g >= 250}
    for kinds, least in (
        (fragile, 4),
        (upright_only, 4),
        (magnetic, 2),
        (bagged, 3),
        (stepped, 3),
        (awkward, 2),
    ):
        assert len(kinds & {piece.part for piece in works.loose}) >= least


def test_a_triangle_is_built_in(works: Workspace) -> None:
    """A triangular floor is keyed to a build."""
    tip = next(p for p in build_of(works, "causeway").pieces if p.part == "floor-triangle")
    assert volume(tip.core_um) < volume(tip.cuboids_um)
    joints = build_of(works, "causeway").joints
    held = [joint.kind for joint in joints if tip.id in joint.pieces]
    assert held == [JointKind.KEYED, JointKind.KEYED]


def test_containers_differ(works: Workspace) -> None:
    """There is a steel-lined, a shallow foam, a tall and a sheeted one, and a stack of two."""
    boxes = {box.id: box for box in works.containers}
    assert any(box.lining is Lining.STEEL for box in boxes.values())
    foam = [box for box in boxes.values() if box.lining is Lining.FOAM]
    assert foam
    assert foam[0].inner_um[2] < 60 * MM
    assert any(box.inner_um[2] >= max(box.inner_um[:2]) for box in boxes.values())
    assert any(box.sheet_um > 0 for box in boxes.values())
    on_top = [box for box in boxes.values() if box.stacked_on]
    assert len(on_top) == 1
    limit = boxes[str(on_top[0].stacked_on)].stack_limit_g
    assert limit is not None
    assert limit >= works.settings.weight_limit_g
    for plan in ("600x400", "400x300"):
        assert sum(plan in box.type for box in boxes.values()) >= 3


def test_groups_and_ranks(works: Workspace) -> None:
    """One group stays together, others never share a container, some builds are needed first."""
    assert len(works.keep_together) >= 1
    assert len(works.keep_apart) >= 1
    known = {piece.id for piece in works.loose}
    known |= {piece.id for build in works.builds for piece in build.pieces}
    for group in works.keep_together + works.keep_apart:
        assert len(group) >= 2
        assert known.issuperset(group)
    ranks = {build.needed for build in works.builds}
    assert {1, 2, 3, None} <= ranks
