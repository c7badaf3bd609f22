"""Files in and out: workspaces written by people, defaults, and plan files."""

from packdown.files.defaults import Defaults, LiftCautions, read_defaults
from packdown.files.workspace import read_workspace

__all__ = ["Defaults", "LiftCautions", "read_defaults", "read_workspace"]
