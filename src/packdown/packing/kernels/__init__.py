"""The compiled loops of the packer; importing this package compiles or loads them."""

from packdown.packing.kernels.compiled import Setup, State
from packdown.packing.kernels.fill import fill

__all__ = ["Setup", "State", "fill"]
