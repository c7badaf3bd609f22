"""Packing: which item goes into which container, how it lies, and in which order."""

from packdown.packing.exact import exact
from packdown.packing.pack import pack, pack_one
from packdown.packing.poses import fits_alone

__all__ = ["exact", "fits_alone", "pack", "pack_one"]
