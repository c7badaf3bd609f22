"""Files in and out: workspaces written by people, defaults, and plan files."""

from packdown.files.adding import Added, NewPart, add_parts
from packdown.files.advice import Advice, AdviceKind, read_advice
from packdown.files.atomic import write_bytes, write_text
from packdown.files.choices import read_choices
from packdown.files.counted import Counted, read_counted
from packdown.files.defaults import Defaults, read_defaults
from packdown.files.events import event_names, read_event
from packdown.files.label_sheets import read_label_sheets, read_papers
from packdown.files.lifting import read_filter, read_lift_tables
from packdown.files.load_file import (
    is_load,
    load_json,
    load_schema,
    read_load,
    write_load,
    write_load_schema,
)
from packdown.files.part_text import cuboid_tables, part_text, short_name
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
    "Added",
    "Advice",
    "AdviceKind",
    "Counted",
    "Defaults",
    "NewPart",
    "Standing",
    "StatedPlace",
    "add_parts",
    "cuboid_tables",
    "event_names",
    "is_load",
    "load_json",
    "load_schema",
    "new_workspace",
    "parse_plan",
    "part_text",
    "plan_json",
    "plan_schema",
    "read_advice",
    "read_choices",
    "read_counted",
    "read_defaults",
    "read_event",
    "read_filter",
    "read_label_sheets",
    "read_lift_tables",
    "read_load",
    "read_papers",
    "read_plan",
    "read_standing",
    "read_stated",
    "read_workspace",
    "rows_text",
    "short_name",
    "steps_json",
    "write_bytes",
    "write_load",
    "write_load_schema",
    "write_plan",
    "write_schema",
    "write_text",
]
