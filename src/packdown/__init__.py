"""Packdown: split, pack, carry and rebuild modular tabletop scenery."""

from packdown.api import (
    advise,
    find_pieces,
    load_plan,
    load_workspace,
    make_plan,
    save_plan,
    stow_plan,
    verify_plan,
)
from packdown.errors import InputError, PackdownError, Problem, StoreError, UsageError

__version__ = "0.1.0"

__all__ = [
    "InputError",
    "PackdownError",
    "Problem",
    "StoreError",
    "UsageError",
    "advise",
    "find_pieces",
    "load_plan",
    "load_workspace",
    "make_plan",
    "save_plan",
    "stow_plan",
    "verify_plan",
]
