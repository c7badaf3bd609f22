"""Files of other programs to begin from: tables, workbooks and meshes, as small as they can be."""

import json
import struct
from base64 import b64encode
from collections.abc import Callable, Mapping
from io import BytesIO
from pathlib import Path
from zipfile import ZipFile

from packdown.errors import InputError
from packdown.measuring.reading import read_mesh
from packdown.tables import Memory, read_sheets, read_table, workbook_bytes

__all__ = ["MESHES", "SHEET", "SHEET_SEEDS", "TABLE", "check", "mesh_reader", "read_sheet", "table"]

TABLE = (
    b"Stock list;;;;\nName;Size;Weight;Qty;Note\n"
    b"Wall, short;1 1/2 in x 6,4 cm x 50 mm;12,5 g;1.234;\n;;;;\n"
    b"Post;8x8x40;4;20;spare\nTotal;;;24;\n"
)
_CORNERS = [(x, y, z) for x in (0, 9) for y in (0, 8) for z in (0, 7)]
_FACES = [
    (0, 1, 3), (0, 3, 2), (4, 7, 5), (4, 6, 7), (0, 5, 1), (0, 4, 5),
    (2, 3, 7), (2, 7, 6), (0, 2, 6), (0, 6, 4), (1, 5, 7), (1, 7, 3),
]  # fmt: skip


def table(data: bytes, folder: Path) -> None:
    """Read a file of separated values, and what it would change in a workspace."""
    _table(data, folder / "table.csv", folder)


def _table(data: bytes, path: Path, folder: Path) -> None:
    path.write_bytes(data)
    try:
        read_table(folder, read_sheets(path), Memory())
    except InputError as error:
        check(error)


def check(error: InputError) -> None:
    """See that every problem says in which file it is, and what it is."""
    assert all(problem.file and problem.message for problem in error.problems)


def read_sheet(data: bytes, folder: Path) -> None:
    """Put XML into a workbook as its sheet, and read that."""
    _table(_with(_BOOK, "xl/worksheets/sheet1.xml", data), folder / "table.xlsx", folder)


def mesh_reader(kind: str) -> Callable[[bytes, Path], None]:
    """Return what reads a mesh of a kind; of 3MF the model inside is spoilt."""

    def read(data: bytes, folder: Path) -> None:
        path = folder / f"mesh.{kind}"
        path.write_bytes(_with(_PACKAGE, _MODEL_NAME, data) if kind == "3mf" else data)
        try:
            read_mesh(path)
        except ValueError as error:
            assert str(error)  # noqa: PT017 - whatever is said, something is

    return read


def _with(archive: Mapping[str, bytes], name: str, data: bytes) -> bytes:
    """Return an archive in which one file is another."""
    stream = BytesIO()
    with ZipFile(stream, "w") as made:
        for each, text in archive.items():
            made.writestr(each, data if each == name else text)
    return stream.getvalue()


def _contents(data: bytes) -> dict[str, bytes]:
    with ZipFile(BytesIO(data)) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


_BOOK = _contents(
    workbook_bytes([("lamp", "Lamp", "1 cm", 2, 3.5), ("post", None, "=1+1", "x", 1)])
)
SHEET = "xl/worksheets/sheet1.xml"
SHEET_SEEDS = (
    _BOOK[SHEET],
    _BOOK[SHEET].replace(
        b"</sheetData>", b'</sheetData><mergeCells><mergeCell ref="A1:B2"/></mergeCells>'
    ),
)


def _stl() -> tuple[bytes, bytes]:
    corners = [[_CORNERS[k] for k in face] for face in _FACES]
    binary = bytes(80) + struct.pack("<I", len(corners))
    for face in corners:
        binary += struct.pack("<12fH", 0, 0, 0, *(c for corner in face for c in corner), 0)
    text = "solid b\n"
    for face in corners:
        lines = "".join(f"vertex {x} {y} {z}\n" for x, y, z in face)
        text += f"facet normal 0 0 0\nouter loop\n{lines}endloop\nendfacet\n"
    return binary, f"{text}endsolid b\n".encode()


def _obj() -> bytes:
    points = "".join(f"v {x} {y} {z}\n" for x, y, z in _CORNERS)
    return (points + "".join(f"f {a + 1} {b + 1} {c + 1}\n" for a, b, c in _FACES)).encode()


def _ply() -> bytes:
    head = (
        f"ply\nformat ascii 1.0\nelement vertex {len(_CORNERS)}\nproperty float x\n"
        f"property float y\nproperty float z\nelement face {len(_FACES)}\n"
        "property list uchar int vertex_indices\nend_header\n"
    )
    points = "".join(f"{x} {y} {z}\n" for x, y, z in _CORNERS)
    return (head + points + "".join(f"3 {a} {b} {c}\n" for a, b, c in _FACES)).encode()


def _gltf() -> bytes:
    points = struct.pack("<24f", *(c for corner in _CORNERS for c in corner))
    faces = struct.pack("<36H", *(k for face in _FACES for k in face))
    uri = "data:application/octet-stream;base64," + b64encode(points + faces).decode()
    views = [
        {"buffer": 0, "byteOffset": 0, "byteLength": len(points)},
        {"buffer": 0, "byteOffset": len(points), "byteLength": len(faces)},
    ]
    accessors = [
        {"bufferView": 0, "componentType": 5126, "count": 8, "type": "VEC3",
         "min": [0, 0, 0], "max": [9, 8, 7]},
        {"bufferView": 1, "componentType": 5123, "count": 36, "type": "SCALAR"},
    ]  # fmt: skip
    tree = {
        "asset": {"version": "2.0"}, "scene": 0, "scenes": [{"nodes": [0]}], "nodes": [{"mesh": 0}],
        "meshes": [{"primitives": [{"attributes": {"POSITION": 0}, "indices": 1}]}],
        "accessors": accessors, "bufferViews": views,
        "buffers": [{"byteLength": len(points + faces), "uri": uri}],
    }  # fmt: skip
    return json.dumps(tree, indent=1).encode()


_MODEL_NAME = "3D/3dmodel.model"


def _model() -> bytes:
    points = "".join(f'<vertex x="{x}" y="{y}" z="{z}"/>\n' for x, y, z in _CORNERS)
    faces = "".join(f'<triangle v1="{a}" v2="{b}" v3="{c}"/>\n' for a, b, c in _FACES)
    space = "http://schemas.microsoft.com/3dmanufacturing/core/2015/02"
    return (
        f'<?xml version="1.0"?>\n<model unit="millimeter" xmlns="{space}"><resources>\n'
        f'<object id="1" type="model"><mesh><vertices>\n{points}</vertices>\n'
        f"<triangles>\n{faces}</triangles></mesh></object></resources>\n"
        '<build><item objectid="1"/></build></model>\n'
    ).encode()


_PACKAGE = {
    "[Content_Types].xml": b'<?xml version="1.0"?><Types xmlns="http://schemas.openxmlformats.org/'
    b'package/2006/content-types"><Default Extension="model" ContentType="application/'
    b'vnd.ms-package.3dmanufacturing-3dmodel+xml"/></Types>',
    "_rels/.rels": b'<?xml version="1.0"?><Relationships xmlns="http://schemas.openxmlformats.org/'
    b'package/2006/relationships"><Relationship Target="/3D/3dmodel.model" Id="r" Type="http://'
    b'schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/></Relationships>',
    _MODEL_NAME: b"",
}
MESHES: dict[str, tuple[bytes, ...]] = {
    "stl": _stl(), "obj": (_obj(),), "ply": (_ply(),), "gltf": (_gltf(),), "3mf": (_model(),),
}  # fmt: skip
