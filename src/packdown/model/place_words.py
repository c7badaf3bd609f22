"""Places in a container, in words."""

from packdown.geometry import Cuboid, Vector

__all__ = ["place_in_words"]


def place_in_words(box: Cuboid, inner_um: Vector) -> str:
    """Say where in a container something lies, in thirds of its length and width.

    Parameters
    ----------
    box
        The smallest box around it, in the container's frame.
    inner_um
        Inner size of the container.

    Examples
    --------
    >>> place_in_words(Cuboid(0, 0, 0, 10, 10, 5), (60, 40, 20))
    'front left'
    """
    x = (box.x0 + box.x1) * 3 // (2 * inner_um[0])
    y = (box.y0 + box.y1) * 3 // (2 * inner_um[1])
    words = (("front", "", "back")[min(y, 2)], ("left", "", "right")[min(x, 2)])
    return " ".join(word for word in words if word) or "middle"
