"""The readers that are fuzzed, with files to begin from."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from fuzzing import foreign
from fuzzing.foreign import check
from packdown.errors import InputError
from packdown.files import (
    parse_plan,
    plan_json,
    read_counted,
    read_event,
    read_stated,
    read_workspace,
)
from packdown.units import parse_length, parse_time, parse_weight
from support.drawn_builds import HALL, PARTS
from support.plans import GOOD
from support.workspaces import FILES, write

__all__ = ["TARGETS", "Target", "prepare"]

Read = Callable[[bytes, Path], None]
YARD = {
    "packdown.toml": 'name = "Yard"\n[grid]\nsquare = "32 mm"\n',
    "parts.toml": PARTS,
    "builds/yard.toml": HALL,
    "containers.toml": '[containers.case]\ntype = "klt-600x400x280"\n',
}
BLOCKS = """
[symbols]
F = "floor"
w = { part = "wall", on = "front", shift = [0.5, "-2 mm"] }
[blocks.bay]
cell = 2
plan = '''
Fw<
Fw!
'''
[builds.quay]
blocks = [
  { id = "low", block = "bay", at = [0, 0], repeat = { count = [2, 1], step = [2, 0] } },
  { id = "m", block = "bay", at = [1, 0, 3], mirror = true, turn = 90 },
]
place = [{ id = "p", part = "post", at = [9, 9], way_up = "on-left", turn = 270 }]
names = { x = "F-1a1" }
"""
SPACES = """\
[spaces.van]
width = "1200 mm"
length = "1000 mm"
height = "900 mm"
payload = "200 kg"
seat_back = "600 mm"
[flights.hop]
"""
EVENT = """\
name = "Quarry fair"
[limits]
containers = ["low", "high"]
weight = "20 kg"
set_up = "45 min"
table = ["180 cm", "75 cm"]
[sessions.late]
day = 2
start = "9:30"
end = "12:00"
builds = [{ id = "hut", must = true, worth = 5 }]
pieces = [{ part = "lamp", count = 2, worth = 3 }]
"""
SETS = """\
[sets.starter]
contains = { slab = 2, fence = 1 }
[sets.large]
contains = { starter = 2, lamp = 1 }
"""
STATED = "piece,place,condition,event\nlamp#1,high,missing,\nslab#1,out,,Fair\n"
COUNTED = "what,found,broken\nlamp,3,1\n# all\n"


@dataclass(frozen=True, slots=True, kw_only=True)
class Target:
    """One reader.

    Parameters
    ----------
    name
        What to call it.
    read
        Reads bytes that stand in a file; a folder is prepared for it.
    seeds
        Files to begin from.
    files
        What else is in the folder.
    """

    name: str
    read: Read
    seeds: tuple[bytes, ...]
    files: dict[str, str]


def _in_workspace(file: str, files: dict[str, str], *more: str) -> Target:
    def read(data: bytes, folder: Path) -> None:
        (folder / file).write_bytes(data)
        try:
            read_workspace(folder)
        except InputError as error:
            check(error)

    seeds = (files.get(file, ""), *more)
    return Target(
        name=file, read=read, seeds=tuple(seed.encode() for seed in seeds if seed), files=files
    )


def _event(data: bytes, folder: Path) -> None:
    (folder / "events" / "fair.toml").write_bytes(data)
    try:
        read_event(folder, "fair", read_workspace(folder))
    except InputError as error:
        check(error)


def _plan(data: bytes, _folder: Path) -> None:
    try:
        plan = parse_plan(data.decode("utf-8", "replace"), "plan.json")
    except InputError as error:
        check(error)
    else:
        assert parse_plan(plan_json(plan), "again") == plan


def _counted(data: bytes, _folder: Path) -> None:
    try:
        read_counted(data.decode("utf-8", "replace"), "list")
    except InputError as error:
        check(error)


def _stated(data: bytes, folder: Path) -> None:
    (folder / "places.csv").write_bytes(data)
    columns = ("piece", "part", "place", "condition", "event")
    try:
        read_stated(folder / "places.csv", columns)
    except InputError as error:
        check(error)


def _units(data: bytes, _folder: Path) -> None:
    text = data.decode("utf-8", "replace")
    for parse in (parse_length, parse_weight, parse_time):
        try:
            parse(text)
        except ValueError as error:
            assert str(error)  # noqa: PT017 - whatever is said, something is


_LIST = [
    _in_workspace("packdown.toml", FILES),
    _in_workspace("parts.toml", FILES),
    _in_workspace("parts.csv", FILES),
    _in_workspace("counts.csv", FILES),
    _in_workspace("containers.toml", FILES),
    _in_workspace("builds/face.toml", FILES, FILES["builds/rest.toml"]),
    _in_workspace("builds/yard.toml", YARD, BLOCKS),
    _in_workspace("load_spaces.toml", FILES, SPACES),
    _in_workspace("sets.toml", FILES, SETS),
    Target(
        name="event", read=_event, seeds=(EVENT.encode(),), files=FILES | {"events/fair.toml": ""}
    ),
    Target(name="plan", read=_plan, seeds=(plan_json(GOOD).encode(),), files={}),
    Target(name="counted", read=_counted, seeds=(COUNTED.encode(),), files={}),
    Target(name="stated", read=_stated, seeds=(STATED.encode(),), files={}),
    Target(name="table.csv", read=foreign.table, seeds=(foreign.TABLE,), files=YARD),
    Target(name="table.xlsx", read=foreign.read_sheet, seeds=foreign.SHEET_SEEDS, files=YARD),
    *(
        Target(name=f"mesh.{kind}", read=foreign.mesh_reader(kind), seeds=seeds, files={})
        for kind, seeds in foreign.MESHES.items()
    ),
    Target(name="units", read=_units, seeds=(b"1 1/2 in", b"12,5 kg", b"-3 min"), files={}),
]
TARGETS = {target.name: target for target in _LIST}


def prepare(target: Target, folder: Path) -> Path:
    """Put into a folder what a reader finds there beside the spoilt file."""
    return write(folder, target.files)
