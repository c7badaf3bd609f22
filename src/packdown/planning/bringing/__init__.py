"""What to bring to an event: wishes chosen by an integer program, and packed for real."""

from packdown.planning.bringing.bring import DEFAULT_BRING_EFFORT, bring
from packdown.planning.bringing.choosing import Chosen, choose
from packdown.planning.bringing.demand import Choice, Demand
from packdown.planning.bringing.oracle import Oracle
from packdown.planning.bringing.packer import Packer

__all__ = [
    "DEFAULT_BRING_EFFORT",
    "Choice",
    "Chosen",
    "Demand",
    "Oracle",
    "Packer",
    "bring",
    "choose",
]
