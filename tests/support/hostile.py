"""Files that mean harm, made small and within the rules of their formats, or nearly so."""

import base64
import json
import struct
from collections.abc import Callable
from io import BytesIO
from zipfile import ZIP_DEFLATED, ZipFile

import numpy as np

from support.spreadsheets import workbook

__all__ = ["MESHES", "TABLES", "three_mf"]

ZEROS = b"\0" * 2**20
ENTITIES = b"""<?xml version="1.0"?>
<!DOCTYPE model [<!ENTITY a "lol"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;&a;&a;">
<!ENTITY c "&b;&b;&b;&b;&b;&b;&b;&b;&b;&b;"><!ENTITY d "&c;&c;&c;&c;&c;&c;&c;&c;&c;&c;">
<!ENTITY e "&d;&d;&d;&d;&d;&d;&d;&d;&d;&d;"><!ENTITY f "&e;&e;&e;&e;&e;&e;&e;&e;&e;&e;">]>
"""
OUTSIDE = b"""<?xml version="1.0"?>
<!DOCTYPE model [<!ENTITY x SYSTEM "file:///etc/passwd">]>
"""
TETRAHEDRON = """<mesh><vertices>
<vertex x="0" y="0" z="0"/><vertex x="9" y="0" z="0"/>
<vertex x="0" y="9" z="0"/><vertex x="0" y="0" z="9"/></vertices><triangles>
<triangle v1="0" v2="2" v3="1"/><triangle v1="0" v2="1" v3="3"/>
<triangle v1="0" v2="3" v3="2"/><triangle v1="1" v2="2" v3="3"/></triangles></mesh>"""
_SPACE = "http://schemas.microsoft.com/3dmanufacturing/core/2015/02"


def three_mf(
    resources: str, build: str, head: bytes = b"", extra: dict[str, bytes] | None = None
) -> bytes:
    """Return a 3MF archive with a model."""
    model = (
        head
        + (
            f'<model unit="millimeter" xmlns="{_SPACE}"><resources>{resources}</resources>'
            f"<build>{build}</build></model>"
        ).encode()
    )
    return zipped({"3D/3dmodel.model": model, **(extra or {})})


def zipped(members: dict[str, bytes], repeat: int = 1) -> bytes:
    """Return an archive; each member's bytes are repeated."""
    stream = BytesIO()
    with ZipFile(stream, "w", ZIP_DEFLATED) as archive:
        for name, data in members.items():
            with archive.open(name, "w", force_zip64=True) as member:
                for _ in range(repeat):
                    member.write(data)
    return stream.getvalue()


def _item(number: int) -> str:
    return f'<item objectid="{number}"/>'


def _billion_copies() -> bytes:
    """Nine levels of objects, each of ten copies of the next."""
    levels = [f'<object id="0">{TETRAHEDRON}</object>']
    for level in range(1, 10):
        inside = f'<component objectid="{level - 1}"/>' * 10
        levels.append(f'<object id="{level}"><components>{inside}</components></object>')
    return three_mf("".join(levels), _item(9))


def _circle() -> bytes:
    inside = '<object id="{}"><components><component objectid="{}"/></components></object>'
    return three_mf(inside.format(1, 2) + inside.format(2, 1), _item(1))


def _deep(depth: int) -> bytes:
    return three_mf("<a>" * depth + "</a>" * depth, _item(1))


def _chain(length: int) -> bytes:
    inside = '<object id="{}"><components><component objectid="{}"/></components></object>'
    chain = "".join(inside.format(n, n + 1) for n in range(length))
    return three_mf(f'{chain}<object id="{length}">{TETRAHEDRON}</object>', _item(0))


def _gltf(**header: object) -> bytes:
    return json.dumps({"asset": {"version": "2.0"}, **header}).encode()


def _gltf_mesh(uri: str, count: int = 3, **more: object) -> bytes:
    return _gltf(
        scene=0,
        scenes=[{"nodes": [0]}],
        nodes=[{"mesh": 0}],
        meshes=[{"primitives": [{"attributes": {"POSITION": 0}}]}],
        accessors=[{"componentType": 5126, "count": count, "type": "VEC3", **more}],
        bufferViews=[{"buffer": 0, "byteLength": 36}],
        buffers=[{"uri": uri, "byteLength": 36}],
    )


def _stl(triangles: np.ndarray) -> bytes:
    rows = np.zeros(len(triangles), np.dtype([("f", "<f4", 12), ("a", "<u2")]))
    rows["f"][:, 3:] = triangles.reshape(-1, 9)
    return b" " * 80 + struct.pack("<I", len(rows)) + rows.tobytes()


def _needles(count: int) -> bytes:
    """Return triangles that are lines."""
    corners = np.random.default_rng(0).random((count, 3, 3))
    corners[:, 2] = corners[:, 1]
    return _stl(corners)


def _soup(count: int) -> bytes:
    return _stl(np.random.default_rng(0).random((count, 3, 3)) * 50)


def _glb(header: bytes) -> bytes:
    header += b" " * (-len(header) % 4)
    return struct.pack("<4sIIII", b"glTF", 2, 20 + len(header), len(header), 0x4E4F534A) + header


DATA_URI = "data:application/octet-stream;base64," + base64.b64encode(bytes(36)).decode()

MESHES: dict[str, tuple[str, Callable[[], bytes], str]] = {
    "entities in 3MF": ("a.3mf", lambda: three_mf("", "", ENTITIES), "entities"),
    "entities in 3MF, in UTF-16": (
        "a.3mf",
        lambda: zipped(
            {"3D/3dmodel.model": (ENTITIES.decode() + "<model>&f;</model>").encode("utf-16")}
        ),
        "entities",
    ),
    "a file of the system in 3MF": ("a.3mf", lambda: three_mf("", "", OUTSIDE), "entities"),
    "a zip bomb in 3MF": (
        "a.3mf", lambda: zipped({"3D/3dmodel.model": ZEROS}, repeat=300), "zip bomb"
    ),
    "ten thousand files in 3MF": (
        "a.3mf", lambda: zipped({f"{n}.txt": b"" for n in range(10_000)}), "2,000 files"
    ),
    "a path that climbs out of 3MF": (
        "a.3mf", lambda: three_mf("", "", extra={"../../evil.model": b"<a/>"}), "leads out"
    ),
    "a billion copies in 3MF": ("a.3mf", _billion_copies, "copies"),
    "objects inside each other in 3MF": ("a.3mf", _circle, "contain themselves"),
    "a million levels of 3MF": ("a.3mf", lambda: _deep(1_000_000), "nested too deeply"),
    "ten thousand levels of objects": ("a.3mf", lambda: _chain(10_000), "levels"),
    "no model in 3MF": ("a.3mf", lambda: zipped({"a.txt": b""}), "no model"),
    "no archive": ("a.3mf", lambda: b"PK\x03\x04 nonsense", "archive"),
    "a million triangles without area": ("a.stl", lambda: _needles(1_000_000), "has an area"),
    "a hundred thousand loose triangles": ("a.stl", lambda: _soup(100_000), "surface is open"),
    "a file that is too large": ("a.stl", lambda: bytes(130 * 2**20), "larger than 128 MiB"),
    "numbers that are none": (
        "a.stl", lambda: _stl(np.full((4, 3, 3), np.nan)), "no numbers"
    ),
    "numbers that are too large": (
        "a.stl", lambda: _stl(np.random.default_rng(0).random((9, 3, 3)) * 1e38), "10 m"
    ),
    "four billion triangles said": (
        "a.stl", lambda: b" " * 80 + b"\xff\xff\xff\xff" + bytes(50), "length does not agree"
    ),
    "a billion values said in glTF": (
        "a.gltf", lambda: _gltf_mesh(DATA_URI, 10**9), "values"
    ),
    "a file of the system in glTF": (
        "a.gltf", lambda: _gltf_mesh("../../../../etc/passwd", bufferView=0), "outside its folder"
    ),
    "an absolute path in glTF": (
        "a.gltf", lambda: _gltf_mesh("/etc/passwd", bufferView=0), "outside its folder"
    ),
    "an address in glTF": (
        "a.gltf", lambda: _gltf_mesh("file:///etc/passwd", bufferView=0), "outside its folder"
    ),
    "nodes inside each other in glTF": (
        "a.glb",
        lambda: _glb(_gltf(nodes=[{"children": [1]}, {"children": [0]}])),
        "contain themselves",
    ),
    "deep JSON in glTF": (
        "a.gltf", lambda: b'{"a":' + b"[" * 200_000 + b"]" * 200_000 + b"}", "nested too deeply"
    ),
    "a billion corners said in PLY": (
        "a.ply",
        lambda: b"ply\nformat binary_little_endian 1.0\nelement vertex 1000000000\n"
        b"property float x\nproperty float y\nproperty float z\nelement face 1000000000\n"
        b"property list uchar int vertex_indices\nend_header\n",
        "PLY",
    ),
    "corners that are not there in OBJ": (
        "a.obj", lambda: b"v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 99999999\n", ""
    ),
    "a path in OBJ": (
        "a.obj",
        lambda: b"mtllib ../../../../etc/passwd\nv 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 3\n",
        "surface is open",
    ),
    "nothing": ("a.stl", lambda: b"", "is empty"),
}  # fmt: skip
"""For each its file, what makes its contents, and words of the refusal."""


def _sheet(xml: str, head: bytes = b"") -> bytes:
    """Return a workbook with another XML in the place of its sheet."""
    with ZipFile(BytesIO(workbook(lambda sheet: sheet.append(("name", "qty"))))) as archive:
        members = {name: archive.read(name) for name in archive.namelist()}
    space = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
    members["xl/worksheets/sheet1.xml"] = (
        head + f'<worksheet xmlns="{space}">{xml}</worksheet>'.encode()
    )
    return zipped(members)


def _text(place: str, words: str) -> str:
    return f'<c r="{place}" t="inlineStr"><is><t>{words}</t></is></c>'


_HEAD = f'<row r="1">{_text("A1", "name")}{_text("B1", "qty")}</row>'

TABLES: dict[str, tuple[str, Callable[[], bytes], str]] = {
    "entities in XLSX": ("a.xlsx", lambda: _sheet("<sheetData/>", ENTITIES), "entities"),
    "a file of the system in XLSX": (
        "a.xlsx", lambda: _sheet("<sheetData/>", OUTSIDE), "entities"
    ),
    "a zip bomb in XLSX": (
        "a.xlsx", lambda: zipped({"xl/worksheets/sheet1.xml": ZEROS}, repeat=60), "zip bomb"
    ),
    "a path that climbs out of XLSX": (
        "a.xlsx", lambda: zipped({"../evil.xml": b"<a/>"}), "leads out"
    ),
    "no workbook in XLSX": ("a.xlsx", lambda: zipped({"a.txt": b""}), "cannot be read"),
    "all cells merged": (
        "a.xlsx",
        lambda: _sheet(
            f"<sheetData>{_HEAD}</sheetData>"
            '<mergeCells><mergeCell ref="A1:XFD1048576"/></mergeCells>'
        ),
        "",
    ),
    "a cell at the far end": (
        "a.xlsx",
        lambda: _sheet(
            f'<sheetData>{_HEAD}<row r="1048576">{_text("XFD1048576", "x")}</row></sheetData>'
        ),
        "",
    ),
    "a million columns hidden": (
        "a.xlsx",
        lambda: _sheet(
            '<cols><col min="1" max="999999999" hidden="1"/></cols>'
            f"<sheetData>{_HEAD}</sheetData>"
        ),
        "",
    ),
    "a million levels of XLSX": (
        "a.xlsx", lambda: _sheet("<a>" * 500_000 + "</a>" * 500_000), "nested too deeply"
    ),
    "a billion of one": (
        "a.csv", lambda: b"name,qty\nslab,1000000000\n", "more than 10,000"
    ),
    "a number of many digits": (
        "a.csv", lambda: b"name,qty\nslab," + b"9" * 100_000 + b"\n", "short cells"
    ),
    "a million rows": ("a.csv", lambda: b"name,qty\n" + b"slab,1\n" * 1_000_000, "10,000 rows"),
    "a million columns": ("a.csv", lambda: b"name" + b",qty" * 1_000_000, "200 columns"),
    "quotation marks without an end": (
        "a.csv", lambda: b'name,qty\n"' + b"x\n" * 2_000_000, ""
    ),
    "bytes without meaning": ("a.csv", lambda: bytes(range(256)) * 4_000, ""),
    "deep JSON in a cell": (
        "a.csv",
        lambda: b'name,qty,more\nslab,1,"' + b"[" * 15_000 + b'"\n',
        "packdown export",
    ),
    "keys of a program in a cell": (
        "a.csv",
        lambda: b'id,size,weight,more\n"x]\n[y",1x1x1 mm,1 g,"{""a\\"" = 1\\n[parts.q]"": 1}"\n',
        "unknown key",
    ),
    "an old workbook": ("a.xlsx", lambda: b"\xd0\xcf\x11\xe0" + ZEROS, "old or a locked"),
    "twenty megabytes": ("a.csv", lambda: b"x" * 20 * 2**20, "larger than 16 MiB"),
}  # fmt: skip
