"""A flight whose figures can be checked by hand."""

from packdown.model import Allowance, Flight

__all__ = ["HOP"]

HOP = Flight(
    id="hop",
    name="Hop",
    checked=Allowance(pieces=2, weight_g=23_000, linear_um=1_580_000),
    cabin=Allowance(pieces=1, weight_g=8_000, size_um=(550_000, 400_000, 200_000)),
)
