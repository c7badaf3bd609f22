"""Files in and out: workspaces written by people, defaults, and plan files."""

from packdown.files.atomic import write_bytes, write_text
from packdown.files.counted import Counted, read_counted
from packdown.files.defaults import Defaults, LiftCautions, read_defaults
from packdown.files.events import event_names, read_event
from packdown.files.label_sheets import read_label_sheets, read_papers
from packdown.files.plan_file import (
    parse_plan,
    plan_json,
    plan_schema,
    read_plan,
    steps_json,
    write_plan,
    write_schema,
)
from packdown.files.stated import StatedPlace, read_stated, rows_text
from packdown.files.template import new_workspace
from packdown.files.workspace import Standing, read_standing, read_workspace

__all__ = [
    "Counted",
    "Defaults",
    "LiftCautions",
    "Standing",
    "StatedPlace",
    "event_names",
    "new_workspace",
    "parse_plan",
    "plan_json",
    "plan_schema",
    "read_counted",
    "read_defaults",
    "read_event",
    "read_label_sheets",
    "read_papers",
    "read_plan",
    "read_standing",
    "read_stated",
    "read_workspace",
    "rows_text",
    "steps_json",
    "write_bytes",
    "write_plan",
    "write_schema",
    "write_text",
]
