"""Reading binary glTF back by the letter of the specification, without code of ours.

The Khronos Group (2021), glTF 2.0 Specification, version 2.0.1; sections in brackets.
"""

import json
import struct
from collections.abc import Iterator
from typing import Any, NamedTuple

import numpy as np

__all__ = ["Read", "accessed", "read_glb", "walked"]


class Read(NamedTuple):
    """The two chunks of a file."""

    told: Any
    data: bytes


def read_glb(file: bytes) -> Read:
    """Take a file apart, and check its container format (4.4)."""
    magic, version, length = struct.unpack_from("<4sII", file)
    assert (magic, version, length) == (b"glTF", 2, len(file))
    chunks, at = [], 12
    while at < length:
        size, kind = struct.unpack_from("<I4s", file, at)
        assert size % 4 == at % 4 == 0
        chunks.append((kind, file[at + 8 : at + 8 + size]))
        at += 8 + size
    assert [kind for kind, _ in chunks] == [b"JSON", b"BIN\0"]
    told = json.loads(chunks[0][1])
    (buffer,) = told["buffers"]
    assert 0 <= len(chunks[1][1]) - buffer["byteLength"] <= 3
    return Read(told, chunks[1][1][: buffer["byteLength"]])


def accessed(read: Read, number: int) -> np.ndarray:
    """Return what an accessor stands for (3.6.2), and check that it lies inside its buffer."""
    accessor = read.told["accessors"][number]
    view = read.told["bufferViews"][accessor["bufferView"]]
    kind = {5126: "<f4", 5125: "<u4"}[accessor["componentType"]]
    width = {"SCALAR": 1, "VEC3": 3}[accessor["type"]]
    start = view["byteOffset"] + accessor.get("byteOffset", 0)
    assert start % 4 == 0
    assert accessor["count"] * width * 4 == view["byteLength"]
    assert view["byteOffset"] + view["byteLength"] <= len(read.data)
    values = np.frombuffer(read.data, kind, accessor["count"] * width, start)
    return values.reshape(-1, width)


def walked(read: Read) -> Iterator[tuple[tuple[str, ...], Any]]:
    """Yield each node below the scene's roots, with the names from the root down to it (3.5)."""

    def below(number: int, path: tuple[str, ...]) -> Iterator[tuple[tuple[str, ...], Any]]:
        node = read.told["nodes"][number]
        own = (*path, node["name"])
        yield own, node
        for child in node.get("children", ()):
            yield from below(child, own)

    for root in read.told["scenes"][read.told["scene"]]["nodes"]:
        yield from below(root, ())
