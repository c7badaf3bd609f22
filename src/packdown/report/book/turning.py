"""What can be turned in 3D: solids as compact data, and the library that draws them.

The library is three.js, as it comes inside the wheel of trimesh; nothing of it is in this
repository. Library and data are packed, and unpacked by the page when they are first asked for.
"""

import gzip
import json
from base64 import b64encode
from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache
from importlib.util import find_spec
from pathlib import Path
from typing import Any
from zipfile import BadZipFile, ZipFile

from packdown.geometry import Solid
from packdown.model import PackedContainer, PlanBuild
from packdown.report.creases import creases
from packdown.report.lookup import Lookup
from packdown.report.stages import stages

__all__ = ["library", "packed", "solids"]

UNIT_UM = 100
"""Lengths are sent in tenths of a millimetre, which no screen can tell apart."""
_TEMPLATE = Path("resources", "templates", "viewer.zip")
_LAST = '"__esModule",{value:!0})}));'
"""Ends the text of the library within the page that the wheel holds."""


@lru_cache(maxsize=1)
def library() -> str:
    """Return the text of the drawing library; empty where it cannot be had."""
    found = find_spec("trimesh")
    if found is None or found.origin is None:
        return ""
    try:
        with ZipFile(Path(found.origin).parent / _TEMPLATE) as pages:
            page = pages.read(pages.namelist()[0]).decode()
    except (OSError, BadZipFile):
        return ""
    text, end, _ = page.partition("<script>")[2].partition(_LAST)
    return text + end if end and "Three.js Authors" in text else ""


def packed(text: str) -> str:
    """Return a text, compressed and in letters; the same text gives the same letters."""
    return b64encode(gzip.compress(text.encode(), 9, mtime=0)).decode()


def solids(lookup: Lookup) -> str:
    """Return all containers and builds of a plan as JSON.

    Each item or piece is its group (the layer, or the number of its sub-assembly), the corners of
    its cuboids and the ends of its edges, both in tenths of a millimetre. Builds have the stages
    of rebuilding: indices of what moves and of what stays, and how far off its place what moves is.
    """
    return json.dumps(
        {
            "containers": {c.id: _container(c) for c in lookup.used},
            "builds": {b.id: _build(lookup, b) for b in lookup.plan.builds},
        },
        separators=(",", ":"),
    )


def _container(container: PackedContainer) -> dict[str, Any]:
    return {
        "size": _small(container.inner_um),
        "items": [[p.layer, *_solid(p.cuboids_um)] for p in container.fill],
    }


def _build(lookup: Lookup, build: PlanBuild) -> dict[str, Any]:
    names = [piece for part in build.sub_assemblies for piece in part]
    part_of = {piece: n for n, part in enumerate(build.sub_assemblies, 1) for piece in part}
    index = {name: n for n, name in enumerate(names)}
    return {
        "items": [[part_of[name], *_solid(lookup.pieces[name].cuboids_um)] for name in names],
        "stages": [
            [
                [index[name] for name in stage.moving],
                [index[name] for name in stage.staying],
                _small(stage.offset_um),
            ]
            for stage in stages(lookup, build, lookup.plan.steps.rebuild)
        ],
    }


def _solid(solid: Solid) -> Iterator[list[int]]:
    yield _small(number for cuboid in solid for number in cuboid)
    edges = [edge for own in creases(solid) for edge in own]
    yield _small(number for edge in edges for end in (edge.start, edge.end) for number in end)


def _small(numbers: Iterable[int] | Sequence[int]) -> list[int]:
    return [round(number / UNIT_UM) for number in numbers]
