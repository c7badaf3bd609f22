"""A small workspace of a quarry with all three kinds of build, and ways to alter its files."""

from pathlib import Path

from packdown.errors import InputError, Problem
from packdown.files import read_workspace

FILES = {
    "packdown.toml": """\
name = "Quarry"
[grid]
square = "32 mm"
[rules]
shock = "shelf"
weight_limit = "12 kg"
[holds]
keyed = "1 kg"
[key]
weight = "2 g"
[[keep_together]]
builds = ["hut"]
[[keep_apart]]
pieces = ["lamp#1", "hut/e"]
""",
    "parts.toml": """\
[parts.slab]
name = "Slab"
weight = "60 g"
size = ["64 mm", "64 mm", "8 mm"]
slots = [{ sides = ["left", "right", "front", "back"], every = "32 mm", height = "4 mm" }]
tags = ["stone"]
[parts.fence]
name = "Fence"
weight = "25 g"
size = ["64 mm", "10 mm", "50 mm"]
ways_up = ["upright", "on-side"]
magnets = 2
slots = [{ side = "left", at = ["5 mm", "25 mm"], kind = "magnetic" }]
[parts.heap]
weight = "30 g"
size = ["32 mm", "32 mm", "24 mm"]
shape = "triangle"
step = "4 mm"
""",
    "parts.csv": """\
id,name,length,width,height,weight,ways_up,carry,magnets,bagged,tags
lamp,Lamp,10 mm,10 mm,40 mm,5 g,upright;on-side,none,1,yes,light;spare
""",
    "counts.csv": """\
part,count
slab,6
fence,4
lamp,3
""",
    "containers.toml": """\
[types.crate]
inner = ["300 mm", "200 mm", "100 mm"]
outer = ["310 mm", "210 mm", "110 mm"]
tare = "500 g"
payload = "6 kg"
[containers.low]
type = "crate"
stack_limit = "10 kg"
[containers.high]
type = "crate"
stacked_on = "low"
lining = "steel"
""",
    "builds/face.toml": """\
[builds.face]
name = "Rock face"
place = [
    { id = "s", part = "slab", at = [0, 0], repeat = { count = [2, 1], step = [2, 2] } },
    { id = "f", part = "fence", at = [0, 0] },
    { id = "g", part = "fence", at = ["64 mm", "0 mm"], turn = 180 },
]
glued = [["f", "s-1"]]
keep = [["s-1", "s-2"]]
""",
    "builds/rest.toml": """\
[builds.hut]
units = [
    { id = "e", size = ["50 mm", "50 mm", "40 mm"], weight = "90 g", at = ["0 mm", "0 mm"] },
    { id = "r", size = ["60 mm", "60 mm", "20 mm"], weight = "40 g", at = ["-5 mm", "-5 mm"] },
]
joints = [{ between = ["r", "e"], kind = "press-fit", connections = 2 }]
[builds.cart]
needed = 1
size = ["500 mm", "40 mm", "45 mm"]
weight = "110 g"
contains = { slab = 1 }
""",
}


def write(folder: Path, files: dict[str, str] = FILES) -> Path:
    """Write the files of a workspace into a folder."""
    for name, text in files.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return folder


def altered(file: str, old: str, new: str) -> dict[str, str]:
    """Return the files with a passage replaced; the passage must be there once."""
    assert FILES[file].count(old) == 1, f"{old!r} is not there once in {file}"
    return FILES | {file: FILES[file].replace(old, new)}


def problems_in(folder: Path) -> tuple[Problem, ...]:
    """Return all problems of a workspace; none if it can be read."""
    try:
        read_workspace(folder)
    except InputError as error:
        return error.problems
    return ()
