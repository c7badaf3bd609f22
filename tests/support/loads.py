"""Small load spaces and cargo whose figures can be checked by hand."""

from packdown.model import Cargo, LoadSpace, Opening, OpeningSide

__all__ = ["box", "vehicle"]


def vehicle() -> LoadSpace:
    """Return a floor of 1,000 x 800 mm, 700 mm high, open at the back, seat back at 500 mm."""
    return LoadSpace(
        id="car",
        name="Car",
        size_um=(1_000_000, 800_000, 700_000),
        opening=Opening(side=OpeningSide.BACK, low_um=(0, 0), size_um=(1_000_000, 700_000)),
        payload_g=150_000,
        seat_back_um=500_000,
        friction=0.3,
        lashing_points=4,
        sill_um=650_000,
    )


def box(name: str, gross_g: int, size_mm: tuple[int, int, int] = (400, 300, 200)) -> Cargo:
    """Return a container whose centre of gravity is in its middle."""
    x, y, z = (side * 1_000 for side in size_mm)
    return Cargo(
        id=name,
        name=name.upper(),
        size_um=(x, y, z),
        gross_g=gross_g,
        centre_um=(x // 2, y // 2, z // 2),
    )
