"""Packdown: split, pack, carry and rebuild modular tabletop scenery."""

__version__ = "0.1.0"
