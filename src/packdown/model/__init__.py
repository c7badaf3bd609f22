"""The nouns of Packdown as frozen data with their own checks.

Most are loaded when they are asked for: a command that needs few of them starts faster.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

from packdown.model.short_id import as_short_id, meant, short_id  # else its module wins

if TYPE_CHECKING:
    from packdown.model.bringing import Bringing, Left, Pick, Turnover
    from packdown.model.build import (
        Build,
        Grade,
        Joint,
        JointState,
        Piece,
        Weak,
        loose_piece,
    )
    from packdown.model.choice import Choice
    from packdown.model.container import Container, Lining
    from packdown.model.event import Event, Limits, Session, Wish
    from packdown.model.item import Item, ItemKind, grown, merged_solid
    from packdown.model.joints import find_joints, make_joint
    from packdown.model.label_sheet import LabelSheet
    from packdown.model.load_space import Allowance, Flight, LoadSpace, Opening, OpeningSide
    from packdown.model.loading import (
        Baggage,
        Cargo,
        FlightLoad,
        LeftBehind,
        Loaded,
        Loading,
        LoadRules,
        Securing,
        cargo_of,
    )
    from packdown.model.magnet import Magnet
    from packdown.model.number_words import runs
    from packdown.model.part import JointKind, Part, Slot
    from packdown.model.place_words import place_in_words
    from packdown.model.plan import (
        Bound,
        Bounds,
        NotPacked,
        Objective,
        PackedContainer,
        Placement,
        Plan,
        PlanBuild,
        Step,
        StepKind,
        Steps,
    )
    from packdown.model.problem import Fill, Packing, PackingProblem, usable_payloads
    from packdown.model.rules import Rules
    from packdown.model.settings import BagSize, Effort, Lifting, Prefer, Settings
    from packdown.model.straight import Straight
    from packdown.model.timeline import Task, Timeline, Turn, tasks_of
    from packdown.model.workspace import Workspace

__all__ = [
    "Allowance",
    "BagSize",
    "Baggage",
    "Bound",
    "Bounds",
    "Bringing",
    "Build",
    "Cargo",
    "Choice",
    "Container",
    "Effort",
    "Event",
    "Fill",
    "Flight",
    "FlightLoad",
    "Grade",
    "Item",
    "ItemKind",
    "Joint",
    "JointKind",
    "JointState",
    "LabelSheet",
    "Left",
    "LeftBehind",
    "Lifting",
    "Limits",
    "Lining",
    "LoadRules",
    "LoadSpace",
    "Loaded",
    "Loading",
    "Magnet",
    "NotPacked",
    "Objective",
    "Opening",
    "OpeningSide",
    "PackedContainer",
    "Packing",
    "PackingProblem",
    "Part",
    "Pick",
    "Piece",
    "Placement",
    "Plan",
    "PlanBuild",
    "Prefer",
    "Rules",
    "Securing",
    "Session",
    "Settings",
    "Slot",
    "Step",
    "StepKind",
    "Steps",
    "Straight",
    "Task",
    "Timeline",
    "Turn",
    "Turnover",
    "Weak",
    "Wish",
    "Workspace",
    "as_short_id",
    "cargo_of",
    "find_joints",
    "grown",
    "loose_piece",
    "make_joint",
    "meant",
    "merged_solid",
    "place_in_words",
    "runs",
    "short_id",
    "tasks_of",
    "usable_payloads",
]

_MODULES = {
    "bringing": "Bringing Left Pick Turnover",
    "build": "Build Grade Joint JointState Piece Weak loose_piece",
    "choice": "Choice",
    "container": "Container Lining",
    "event": "Event Limits Session Wish",
    "item": "Item ItemKind grown merged_solid",
    "joints": "find_joints make_joint",
    "label_sheet": "LabelSheet",
    "load_space": "Allowance Flight LoadSpace Opening OpeningSide",
    "loading": "Baggage Cargo FlightLoad LeftBehind Loaded Loading LoadRules Securing cargo_of",
    "number_words": "runs",
    "magnet": "Magnet",
    "part": "JointKind Part Slot",
    "place_words": "place_in_words",
    "plan": "Bound Bounds NotPacked Objective PackedContainer Placement Plan PlanBuild Step "
    "StepKind Steps",
    "problem": "Fill Packing PackingProblem usable_payloads",
    "rules": "Rules",
    "settings": "BagSize Effort Lifting Prefer Settings",
    "straight": "Straight",
    "timeline": "Task Timeline Turn tasks_of",
    "workspace": "Workspace",
}
_HOMES = {name: module for module, names in _MODULES.items() for name in names.split()}


def __getattr__(name: str) -> Any:  # noqa: ANN401 - whatever the module holds
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    found = getattr(import_module(f"{__name__}.{_HOMES[name]}"), name)
    globals()[name] = found
    return found
