"""Steps in words."""

from dataclasses import replace

from packdown.geometry import Direction
from packdown.model import StepKind
from packdown.teardown import number, order_of_work, write_steps
from support.teardown_builds import build_of, hall, joint, mm, piece, row


def test_a_row_of_two_in_words() -> None:
    """Two tiles in two boxes: one step each way, with the key that comes out and goes in."""
    build = row(2)
    parts = [("b/t0",), ("b/t1",)]
    moves = order_of_work(build, parts)
    (down,), (up,) = write_steps(build, parts, moves, {("b/t0",): "red", ("b/t1",): "blue"})
    assert down.text == (
        "Take part 1 (t0) and slide it to the left, 30 mm or more. "
        "Take out 1 key and put it into the bag for Test hall."
    )
    assert (down.kind, down.direction) == (StepKind.PART, Direction.LEFT)
    assert (down.from_, down.to) == ("table", "red")
    assert up.text == (
        "Take 1 key from the bag for Test hall and put it into place. "
        "Take part 1 (t0), hold it 30 mm off its place and slide it to the right until it touches "
        "part 2 (t1)."
    )
    assert (up.kind, up.direction) == (StepKind.JOIN, Direction.RIGHT)
    assert (up.from_, up.to) == ("red", "table")
    assert (up.keys, up.keys_first, up.joints) == (1, 0, ("b/t0+t1",))


def test_what_is_no_sub_assembly_is_named_by_side_and_parts() -> None:
    """The first step of four tiles moves the left part, which is no sub-assembly yet."""
    build = row(4)
    parts = [(piece.id,) for piece in build.pieces]
    down, _ = write_steps(build, parts, order_of_work(build, parts), {})
    assert down[0].text.startswith("Take the left side (parts 1 and 2, 2 pieces) and slide it")
    assert down[0].to == "table"


def test_sheared_keys_are_pulled_first_and_set_last() -> None:
    """A tile lifted out of a frame: its keys come first, and go in last."""
    frame = piece(
        "frame",
        *(mm(0, 0, 0, 90, 30, 6), mm(0, 60, 0, 90, 90, 6)),
        *(mm(0, 30, 0, 30, 60, 6), mm(60, 30, 0, 90, 60, 6)),
    )
    tile = piece("tile", mm(30, 30, 0, 60, 60, 6))
    build = build_of([frame, tile], [joint("frame", "tile", 0), joint("tile", "frame", 1)])
    moves = order_of_work(build, [("b/frame",), ("b/tile",)])
    (down,), (up,) = write_steps(build, [("b/frame",), ("b/tile",)], moves, {})
    assert down.text.startswith("First pull the 2 keys out of the slots between frame and tile;")
    assert "Take out" not in down.text
    assert up.text.startswith("Take 2 keys from the bag for Test hall. Take ")
    assert "Then push the 2 keys into the slots between frame and tile;" in up.text
    assert (down.keys, down.keys_first) == (up.keys, up.keys_first) == (2, 2)


def test_rebuilding_mirrors_taking_down() -> None:
    """Steps of rebuilding are those of taking down in reverse order and direction."""
    build = hall(3, 2, 2)
    parts = [(piece.id,) for piece in build.pieces]
    down, up = write_steps(build, parts, order_of_work(build, parts), {})
    assert len(down) == len(up) == len(parts) - 1
    for one, two in zip(down, reversed(up), strict=True):
        assert one.pieces == two.pieces
        assert one.joints == two.joints
        assert one.keys == two.keys
        assert one.direction
        assert one.direction.opposite is two.direction
        assert one.hands == two.hands


def test_both_hands_and_what_to_hold_are_said() -> None:
    """What hangs loose is named in the step, and both hands are asked for."""
    case = piece("case", mm(60, 0, 0, 90, 30, 60), mm(0, 0, 60, 90, 30, 70), weight_g=2_000)
    top = piece("top", mm(0, 0, 40, 60, 30, 60), weight_g=500)
    leg = piece("leg", mm(0, 0, 0, 60, 30, 40))
    build = build_of(
        [case, top, leg], [joint("case", "top", 0, holds_g=10), joint("leg", "top", 2)]
    )
    parts = [("b/case", "b/top"), ("b/leg",)]
    (down,), (up,) = write_steps(build, parts, order_of_work(build, parts), {})
    assert "Hold up top: nothing else carries it." in down.text
    assert "Hold up top: nothing else carries it." in up.text
    assert "With both hands" in down.text


def test_steps_are_numbered_from_one() -> None:
    """Numbers are given at the end."""
    build = row(3)
    parts = [(p.id,) for p in build.pieces]
    down, _ = write_steps(build, parts, order_of_work(build, parts), {})
    assert [step.n for step in number(down)] == [1, 2]


def test_pieces_of_one_name_are_told_apart_by_their_place() -> None:
    """Of four posts each is named with the corner it stands in."""
    corners = [(0, 0), (90, 0), (0, 90), (90, 90)]
    posts = [
        replace(piece(f"p{i}", mm(x, y, 0, x + 10, y + 10, 40)), name="Post")
        for i, (x, y) in enumerate(corners)
    ]
    roof = piece("roof", mm(0, 0, 40, 100, 100, 45))
    build = build_of([*posts, roof], [joint(f"p{i}", "roof", 2) for i in range(4)])
    parts = [(p.id,) for p in build.pieces]
    down, _ = write_steps(build, parts, order_of_work(build, parts, exact=True), {})
    text = " ".join(step.text for step in down)
    assert "part 5 (roof)" in text
    for place in ("front right", "back left"):
        assert f"(Post, {place})" in text


def test_what_stands_beside_is_set_down_by_measure() -> None:
    """A post that nothing joins to another is set down 90 mm to its right, 20 mm behind it."""
    build = build_of(
        [piece("left", mm(0, 0, 0, 10, 10, 40)), piece("right", mm(90, 20, 0, 100, 30, 40))]
    )
    parts = [("b/left",), ("b/right",)]
    (move,) = order_of_work(build, parts)
    (down,), (up,) = write_steps(build, parts, [move], {})
    assert "off the table; nothing is joined to it." in down.text
    first, other, side, end = (
        ("part 1 (left)", "part 2 (right)", "left of", "in front of")
        if move.moving == ("b/left",)
        else ("part 2 (right)", "part 1 (left)", "right of", "behind")
    )
    assert up.text == (
        f"Set {first} down on the table: its front left corner 90 mm to the {side} and "
        f"20 mm {end} that of {other}."
    )
