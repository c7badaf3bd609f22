"""Parts of an invented shipyard and a build of forty pieces that is drawn with them."""

from pathlib import Path
from textwrap import dedent

from support.workspaces import write

__all__ = ["HALL", "PARTS", "workspace"]

PARTS = """
[parts.floor]
weight = "60 g"
size = ["64 mm", "64 mm", "8 mm"]
slots = [{ sides = ["left", "right", "front", "back"], every = "32 mm", height = "4 mm" }]
[parts.wall]
weight = "30 g"
size = ["44 mm", "10 mm", "50 mm"]
[parts.post]
weight = "5 g"
size = ["12 mm", "12 mm", "50 mm"]
[parts.hook]
weight = "9 g"
cuboids = [
  { from = ["0 mm", "0 mm", "0 mm"], to = ["32 mm", "8 mm", "20 mm"] },
  { from = ["0 mm", "8 mm", "0 mm"], to = ["8 mm", "24 mm", "10 mm"] },
]
slots = [{ side = "right", at = ["4 mm", "10 mm"], kind = "press-fit" }]
"""

HALL = """
[builds.hall]
name = "Mould loft"
tags = ["yard"]
cell = 2
symbols = { F = "floor", w = { part = "wall", on = "front" }, p = "post", c = "hook" }
plan = '''
Fw^w< Fw^ Fw^w>
Fw<   Fp  Fw>
Fww<  Fp  Fw
--
F     F   Fw^w>
Fw<p  Fp  Fc
Fww<  Fw  Fc
'''
"""


def workspace(folder: Path, build: str, parts: str = PARTS) -> Path:
    """Write a workspace with one file of builds."""
    return write(
        folder,
        {
            "packdown.toml": 'name = "Yard"\n[grid]\nsquare = "32 mm"\n',
            "parts.toml": parts,
            "builds/yard.toml": dedent(build),
            "containers.toml": '[containers.case]\ntype = "klt-600x400x280"\n',
        },
    )
