"""Carrying out moves on solids."""

from dataclasses import replace

import pytest

from packdown.geometry import Direction
from packdown.teardown import check_moves, order_of_work
from support.teardown_builds import hall, row


def test_good_moves_pass() -> None:
    """The order of work of a hall in single pieces can be carried out both ways."""
    build = hall(2, 2, 2)
    check_moves(build, order_of_work(build, [(piece.id,) for piece in build.pieces]))


def test_a_collision_is_found() -> None:
    """The left half of a row cannot be pushed to the right."""
    build = row(4)
    (move,) = order_of_work(build, [("b/t0", "b/t1"), ("b/t2", "b/t3")])
    back = {Direction.LEFT: Direction.RIGHT, Direction.RIGHT: Direction.LEFT}[move.direction]
    with pytest.raises(ValueError, match="runs into what stays"):
        check_moves(build, [replace(move, direction=back)])


def test_only_pieces_that_are_together_can_be_parted() -> None:
    """The second move of a row cannot be done twice."""
    build = row(3)
    moves = order_of_work(build, [(piece.id,) for piece in build.pieces])
    with pytest.raises(ValueError, match="not together"):
        check_moves(build, [*moves, moves[-1]])


def test_a_joint_that_was_forgotten_is_found() -> None:
    """A move must name every joint between its parts."""
    build = row(2)
    (move,) = order_of_work(build, [("b/t0",), ("b/t1",)])
    with pytest.raises(ValueError, match="joints between its parts"):
        check_moves(build, [replace(move, joints=())])
