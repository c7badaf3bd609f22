"""Which views a step gets: one where that shows all, else a second that shows the rest."""

from packdown.geometry import Cuboid, bounds
from packdown.report.views import LEAST_SEEN, VIEWS, Target, choose_views, seen_of

CUBE = (Cuboid(0, 0, 0, 100, 100, 100),)


def _views(target: Target) -> list[str]:
    box = bounds((*target.solid, *target.around))
    return [seen.view.name for seen in choose_views([target], box)]


def test_one_view_is_enough_for_what_stands_free() -> None:
    """Nothing is hidden, so there is no second picture."""
    assert _views(Target(CUBE, ())) == [VIEWS[0].name]


def test_behind_a_wall_a_view_from_behind_is_added() -> None:
    """The wall in front and to the left hides it; from behind it is free."""
    walls = (Cuboid(-200, -20, 0, 300, -10, 400), Cuboid(-20, 0, 0, -10, 300, 400))
    assert _views(Target(CUBE, walls)) == [VIEWS[0].name, "from the back right"]


def test_in_a_shaft_only_a_view_from_above_is_left() -> None:
    """Four walls around a thing, open above."""
    walls = (
        Cuboid(-10, -10, 0, 110, 0, 200),
        Cuboid(-10, 100, 0, 110, 110, 200),
        Cuboid(-10, 0, 0, 0, 100, 200),
        Cuboid(100, 0, 0, 110, 100, 200),
    )
    assert _views(Target(CUBE, walls)) == [VIEWS[0].name, "from above"]


def test_what_no_view_shows_gets_no_second_one() -> None:
    """In a closed box nothing is gained by another side."""
    lid = Cuboid(-10, -10, 200, 110, 110, 210)
    walls = (
        Cuboid(-10, -10, -10, 110, 0, 200),
        Cuboid(-10, 100, -10, 110, 110, 200),
        Cuboid(-10, 0, -10, 0, 100, 200),
        Cuboid(100, 0, -10, 110, 100, 200),
        Cuboid(0, 0, -10, 100, 100, 0),
        lid,
    )
    assert _views(Target(CUBE, walls)) == [VIEWS[0].name]


def test_below_a_roof_a_low_view_is_added() -> None:
    """A wide roof hides what is beneath it from all views but one that is nearly level."""
    roof = (Cuboid(-300, -300, 160, 400, 400, 170),)
    assert _views(Target(CUBE, roof)) == [VIEWS[0].name, "from low in front"]


def test_a_target_may_ask_for_less() -> None:
    """Where a third is enough, no second view is given for what is 40 per cent free."""
    box = bounds(CUBE)
    wall = (Cuboid(-60, -120, -200, 40, -110, 300),)
    share = choose_views([Target(CUBE, wall, 0.0)], box)[0].shares[0]
    assert len(choose_views([Target(CUBE, wall, share)], box)) == 1
    assert len(choose_views([Target(CUBE, wall, share + 0.01)], box)) == 2


def test_the_second_view_is_for_what_the_first_hides() -> None:
    """Of two things one is free from the front and one from behind: together all is shown."""
    wall = (Cuboid(-300, 110, 0, 400, 120, 500), Cuboid(-310, 120, 0, -300, 600, 500))
    behind = (Cuboid(0, 130, 0, 100, 230, 100),)
    targets = [Target(CUBE, (*wall, *behind)), Target(behind, (*wall, *CUBE))]
    views = choose_views(targets, bounds((*CUBE, *wall, *behind)))
    assert len(views) == 2
    assert views[0].shares[1] < LEAST_SEEN
    assert min(seen_of(views)) >= LEAST_SEEN
