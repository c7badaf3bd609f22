"""Checks of mesh files before they are read: what would take too much, or reach too far."""

import json
import struct
from io import BytesIO
from typing import Any
from zipfile import BadZipFile, ZipFile

from defusedxml.ElementTree import iterparse

from packdown.archives import check_archive

__all__ = ["MAX_INSTANCES", "MAX_TRIANGLES", "check"]

MAX_TRIANGLES = 1_000_000
MAX_UNPACKED_BYTES = 256 * 2**20
MAX_INSTANCES = 10_000
MAX_DEPTH = 60
_STL_HEAD = 84
_STL_TRIANGLE = 50


def check(data: bytes, kind: str) -> None:
    """Check the contents of a mesh file of a kind, such as ``stl``.

    Raises
    ------
    ValueError
        If it holds more than is allowed, or something that must not be there.
    """
    if not data.strip():
        raise ValueError("is empty")
    if kind == "stl":
        _check_stl(data)
    elif kind == "3mf":
        _check_3mf(data)
    elif kind in {"glb", "gltf"}:
        _check_gltf(_header(data, kind))
    elif kind == "obj":
        count_limited(data.count(b"\nf ") + data.count(b"\nf\t"))


def count_limited(count: int) -> None:
    """Refuse more triangles than are allowed."""
    if count > MAX_TRIANGLES:
        raise ValueError(
            f"has {count:,} triangles, more than {MAX_TRIANGLES:,}; "
            "simplify it in a mesh editor first"
        )


def _check_stl(data: bytes) -> None:
    if len(data) >= _STL_HEAD:
        said = struct.unpack_from("<I", data, _STL_HEAD - 4)[0]
        if len(data) == _STL_HEAD + _STL_TRIANGLE * said:
            count_limited(said)
            return
    if data.lstrip()[:5].lower() != b"solid":
        raise ValueError("is no STL: its length does not agree with the number of its triangles")
    count_limited(data.count(b"endfacet"))


def _check_3mf(data: bytes) -> None:
    try:
        archive = ZipFile(BytesIO(data))
    except BadZipFile as error:
        raise ValueError("is no 3MF: it is not an archive") from error
    with archive:
        check_archive(archive, MAX_UNPACKED_BYTES)
        models = [name for name in archive.namelist() if name.lower().endswith(".model")]
        if not models:
            raise ValueError("is no 3MF: it holds no model")
        links: dict[str, list[str]] = {}
        items: list[str] = []
        triangles = 0
        for name in models:
            with archive.open(name) as stream:
                triangles += _read_links(stream, links, items)
                count_limited(triangles)
    _count_instances(links, items)


def _read_links(stream: Any, links: dict[str, list[str]], items: list[str]) -> int:  # noqa: ANN401 - any binary stream
    """Note which objects contain which; return the number of triangles."""
    triangles, depth, current = 0, 0, ""
    try:
        for event, node in iterparse(stream, events=("start", "end"), forbid_dtd=True):
            tag = node.tag.rpartition("}")[2]
            if event == "start":
                depth += 1
                if depth > MAX_DEPTH:
                    raise ValueError("is nested too deeply")
                if tag == "object":
                    current = node.get("id", "")
                elif tag == "component":
                    links.setdefault(current, []).append(node.get("objectid", ""))
                elif tag == "item":
                    items.append(node.get("objectid", ""))
                continue
            depth -= 1
            triangles += tag == "triangle"
            node.clear()
    except SyntaxError as error:
        raise ValueError(f"is no 3MF: {error}") from error
    return triangles


def _count_instances(links: dict[str, list[str]], items: list[str]) -> None:
    """Refuse objects that contain themselves, and more copies than are allowed."""
    counts: dict[str, int] = {}
    open_ones: set[str] = set()

    def copies(name: str, depth: int) -> int:
        if name in open_ones or depth > MAX_DEPTH:
            raise ValueError("holds objects that contain themselves, or too many levels of them")
        if name not in counts:
            open_ones.add(name)
            counts[name] = 1 + sum(copies(inner, depth + 1) for inner in links.get(name, ()))
            open_ones.discard(name)
        return min(counts[name], MAX_INSTANCES + 1)

    if sum(copies(item, 0) for item in items) > MAX_INSTANCES:
        raise ValueError(f"holds more than {MAX_INSTANCES:,} copies of its objects")


def _header(data: bytes, kind: str) -> dict[str, Any]:
    try:
        if kind == "glb":
            length = struct.unpack_from("<I", data, 12)[0]
            data = data[20 : 20 + length]
        header = json.loads(data)
    except (ValueError, struct.error) as error:
        raise ValueError("is no glTF: its header is not JSON") from error
    except RecursionError as error:
        raise ValueError("is nested too deeply") from error
    if not isinstance(header, dict):
        raise ValueError("is no glTF: its header is no JSON object")  # noqa: TRY004 - of the file
    return header


def _check_gltf(header: dict[str, Any]) -> None:
    total = 0
    for accessor in _list(header, "accessors"):
        count = accessor.get("count")
        if not isinstance(count, int) or count < 0:
            raise ValueError("is no glTF: an accessor does not say how much it holds")
        total += count
    if total > 12 * MAX_TRIANGLES:
        raise ValueError(f"says that it holds {total:,} values, more than are allowed")
    nodes = _list(header, "nodes")
    if len(nodes) > MAX_INSTANCES:
        raise ValueError(f"holds more than {MAX_INSTANCES:,} nodes")
    children = {str(i): [str(c) for c in _plain(n, "children")] for i, n in enumerate(nodes)}
    named = {child for inner in children.values() for child in inner}
    _count_instances(children, [node for node in children if node not in named])
    if nodes and len(named) == len(nodes):
        raise ValueError("holds objects that contain themselves")


def _list(header: dict[str, Any], key: str) -> list[dict[str, Any]]:
    found = _plain(header, key)
    if not all(isinstance(one, dict) for one in found):
        raise ValueError(f"is no glTF: {key} is no list of objects")
    return found


def _plain(table: dict[str, Any], key: str) -> list[Any]:
    found = table.get(key, [])
    if not isinstance(found, list):
        raise ValueError(f"is no glTF: {key} is no list")  # noqa: TRY004 - of the file
    return found
