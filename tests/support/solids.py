"""Random cuboids and solids, and slow references for them: unit cells and exact meshes."""

from collections.abc import Iterable
from itertools import product

from hypothesis import strategies as st
from manifold3d import Manifold

from packdown.geometry import Cuboid, Solid, disjoint_union

Cell = tuple[int, int, int]


@st.composite
def cuboids(draw: st.DrawFn, reach: int = 8) -> Cuboid:
    """Return a cuboid with whole sides inside a cube."""
    low, high = [], []
    for _ in range(3):
        start = draw(st.integers(0, reach - 1))
        low.append(start)
        high.append(draw(st.integers(start + 1, reach)))
    return Cuboid(*low, *high)


def heaps(reach: int = 8, most: int = 5) -> st.SearchStrategy[list[Cuboid]]:
    """Return cuboids that may overlap."""
    return st.lists(cuboids(reach), min_size=1, max_size=most)


def solids(reach: int = 8, most: int = 4) -> st.SearchStrategy[Solid]:
    """Return solids of disjoint cuboids."""
    return heaps(reach, most).map(disjoint_union)


def cells(solid: Iterable[Cuboid]) -> set[Cell]:
    """Return the unit cells that a solid fills, by their lower corners."""
    return {
        cell
        for c in solid
        for cell in product(range(c.x0, c.x1), range(c.y0, c.y1), range(c.z0, c.z1))
    }


def moved(filled: Iterable[Cell], shift: Cell) -> set[Cell]:
    """Return cells moved by whole units."""
    return {(x + shift[0], y + shift[1], z + shift[2]) for x, y, z in filled}


def mesh(solid: Iterable[Cuboid]) -> Manifold:
    """Return the union of cuboids as a mesh made by a library of exact booleans."""
    whole = Manifold()
    for c in solid:
        whole += Manifold.cube(c.size).translate(c[:3])
    return whole
