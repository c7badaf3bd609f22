"""From where a step is looked at so that what is new in it can be seen: one view, or two."""

from collections.abc import Sequence
from typing import NamedTuple

from packdown.geometry import Cuboid, Solid
from packdown.report.projection import Camera
from packdown.report.sight import seen_share

__all__ = ["LEAST_SEEN", "VIEWS", "Seen", "Target", "View", "choose_views", "seen_of"]

LEAST_SEEN = 0.5
"""Share of a thing on the drawing that must be free in at least one view: enough to tell it by."""


class View(NamedTuple):
    """A side to look from: its name, and where the eye stands as in `Camera.looking_at`."""

    name: str
    azimuth: float
    elevation: float

    def camera(self, box: Cuboid) -> Camera:
        """Return the camera that looks at a box from here."""
        return Camera.looking_at(box, azimuth=self.azimuth, elevation=self.elevation)


VIEWS = (
    View("from the front left", -28.0, 38.0),
    View("from the back right", 152.0, 38.0),
    View("from the front right", 62.0, 38.0),
    View("from the back left", -118.0, 38.0),
    View("from above", -28.0, 72.0),
    View("from low in front", -28.0, 12.0),
)
"""The views to choose from; the first one is always given."""


class Target(NamedTuple):
    """Something to be seen, all that may hide it, and the share that must be free in one view."""

    solid: Solid
    around: Solid
    least: float = LEAST_SEEN


class Seen(NamedTuple):
    """A view, and the share of each target that is free in it, from 0 to 1."""

    view: View
    shares: tuple[float, ...]


def choose_views(targets: Sequence[Target], box: Cuboid) -> tuple[Seen, ...]:
    """Return the first view and, where it hides a target, the one that shows most of the hidden.

    Parameters
    ----------
    targets
        What has to be seen.
    box
        What the drawing shows; the eye looks at its middle.

    Returns
    -------
    tuple of Seen
        One or two. A target that no view shows enough of is as free as in any.
    """
    first = _look(VIEWS[0], targets, box)
    hidden = [index for index, target in enumerate(targets) if first.shares[index] < target.least]
    if not hidden:
        return (first,)

    def gain(seen: Seen) -> tuple[int, float]:
        """Return how many of the hidden targets a view shows, then how much of the worst."""
        shown = sum(seen.shares[index] >= targets[index].least for index in hidden)
        return shown, min(seen.shares[index] for index in hidden)

    second = max((_look(view, targets, box) for view in VIEWS[1:]), key=gain)
    better = any(second.shares[index] > first.shares[index] for index in hidden)
    return (first, second) if better else (first,)


def _look(view: View, targets: Sequence[Target], box: Cuboid) -> Seen:
    camera = view.camera(box)
    return Seen(view, tuple(seen_share(target.solid, target.around, camera) for target in targets))


def seen_of(views: Sequence[Seen]) -> tuple[float, ...]:
    """Return the best share of each target over some views."""
    return tuple(max(shares) for shares in zip(*(seen.shares for seen in views), strict=True))
