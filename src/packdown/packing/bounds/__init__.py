"""Lower bounds: what no packing can do without, by volume, weight, lengths and conflicts."""

from packdown.packing.bounds.least import (
    NamedBounds,
    PackingBounds,
    container_bounds,
    item_bounds,
    named_bounds,
)

__all__ = ["NamedBounds", "PackingBounds", "container_bounds", "item_bounds", "named_bounds"]
