"""Parts to draw with."""

import pytest

from packdown.geometry import Cuboid
from packdown.model import Part


@pytest.fixture(name="slab")
def slab_part() -> Part:
    """Return a slab of 64 x 64 x 8 mm."""
    solid = (Cuboid(0, 0, 0, 64_000, 64_000, 8_000),)
    return Part(id="slab", name="Slab", cover_um=solid, core_um=solid, weight_g=60)
