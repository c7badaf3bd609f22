"""The catalogue of container types agrees with the publications its figures come from."""

import tomllib
from math import ceil
from pathlib import Path
from shutil import copytree

import pytest

from packdown.data import data_folder
from packdown.files import read_workspace
from packdown.geometry import Cuboid, WayUp, disjoint_union, rotated, size, translate
from packdown.model import Container, Lining
from packdown.units import parse_length

INCH = 25_400
UM3_PER_LITRE = 10**15
STEEL_G_PER_CM3 = 7.85  # sheet steel, from memory

Types = dict[str, Container]


@pytest.fixture(scope="module")
def entries() -> dict[str, dict[str, object]]:
    """Return the catalogue as it stands in its file."""
    text = (data_folder("containers") / "catalogue.toml").read_text(encoding="utf-8")
    types: dict[str, dict[str, object]] = tomllib.loads(text)["types"]
    return types


@pytest.fixture(scope="module")
def types(entries: dict[str, dict[str, object]], tmp_path_factory: pytest.TempPathFactory) -> Types:
    """Read one container of every type, the way a workspace does."""
    folder: Path = tmp_path_factory.mktemp("catalogue") / "workspace"
    copytree(data_folder("examples") / "saltworks", folder)
    own = "".join(f'[containers.{kind}]\ntype = "{kind}"\n' for kind in entries)
    (folder / "containers.toml").write_text(own, encoding="utf-8")
    return {container.type: container for container in read_workspace(folder).containers}


def outer_litres(container: Container) -> float:
    """Return the volume that a container takes up."""
    length, width, height = container.outer_um
    return length * width * height / UM3_PER_LITRE


def liner_g(container: Container, thickness_mm: float) -> float:
    """Return the mass of a steel sheet that covers the floor of a container."""
    length, width = (side / 10_000 for side in container.inner_um[:2])
    return length * width * thickness_mm / 10 * STEEL_G_PER_CM3


def test_every_type_can_be_used(types: Types, entries: dict[str, dict[str, object]]) -> None:
    """A container of each type is read by its type alone, without any problem."""
    assert set(types) == set(entries)
    assert 25 <= len(types) <= 40


def test_every_type_names_its_source(entries: dict[str, dict[str, object]]) -> None:
    """Each entry names a publication or says there is none, and marks its tare as remembered."""
    publications = ("VDA 4500", "ISO 3394", "EN 631-1", "8115-00-117-8249")
    for entry in entries.values():
        source = str(entry["source"])
        assert "common practice, no source" in source or any(p in source for p in publications)
        assert "from memory" in source


def test_what_is_inside_is_smaller_than_outside(types: Types) -> None:
    """Walls have a thickness, so no floor is as large as the outside."""
    for container in types.values():
        inner, outer = container.inner_um, container.outer_um
        assert inner[0] < outer[0]
        assert inner[1] < outer[1]
        assert inner[2] <= outer[2]


@pytest.mark.parametrize(
    ("kind", "litres"), [("klt-600x400x280", 65.86), ("klt-400x300x280", 32.93)]
)
def test_outer_volume_of_small_load_carriers(types: Types, kind: str, litres: float) -> None:
    """VDA 4500: carriers of 594 x 396 x 280 and 396 x 297 x 280 mm."""
    assert outer_litres(types[kind]) == pytest.approx(litres, rel=1e-3)


def test_fill_limit_of_small_load_carriers(types: Types) -> None:
    """VDA 4500: at most 20 kg."""
    limits = {c.payload_g for kind, c in types.items() if kind.startswith("klt-")}
    assert limits == {20_000}


@pytest.mark.parametrize(
    ("kind", "inner_mm", "squares"),
    [
        ("klt-600x400x147", (544, 364), 294),
        ("klt-400x300x147", (346, 265), 130),
        ("klt-300x200x147", (243, 162), 54),
    ],
)
def test_squares_of_an_inch_on_the_floor(
    types: Types, kind: str, inner_mm: tuple[int, int], squares: int
) -> None:
    """Inner plans of VDA 4500; whole squares of 25.4 mm: 21 x 14, 13 x 10 and 9 x 6."""
    length, width, _ = types[kind].inner_um
    assert (length, width) == (inner_mm[0] * 1_000, inner_mm[1] * 1_000)
    assert (length // INCH) * (width // INCH) == squares


@pytest.mark.parametrize(
    ("kind", "copies", "area_mm2"),
    [
        ("gn-1-1x65", 1, 172_250),
        ("gn-1-2x65", 2, 172_250),
        ("gn-1-3x65", 3, 171_600),
        ("gn-1-4x65", 4, 171_720),
    ],
)
def test_fractions_of_a_gastronorm_tray(
    types: Types, kind: str, copies: int, area_mm2: int
) -> None:
    """EN 631-1: rims of 530 x 325 mm and its fractions, which leave at most 650 mm2 over."""
    length, width, _ = types[kind].outer_um
    assert copies * length * width == area_mm2 * 10**6


def test_volume_of_the_records_box(types: Types) -> None:
    """United States stock number 8115-00-117-8249: 14 3/4 x 12 x 9 1/2 in, 0.973 cubic feet."""
    volume_um3 = types["records-box-us"].volume_um3
    assert volume_um3 / parse_length("1 ft") ** 3 == pytest.approx(0.973, rel=1e-3)


@pytest.mark.parametrize(
    ("kind", "turn", "columns", "rows"),
    [
        ("smooth-600x400x120", 0, 2, 2),
        ("smooth-400x300x120", 90, 4, 2),
        ("smooth-300x200x120", 0, 4, 4),
    ],
)
def test_modules_cover_a_unit_load(
    types: Types, kind: str, turn: int, columns: int, rows: int
) -> None:
    """ISO 3394: 600 x 400 mm and its submultiples cover 1200 x 800 mm without a gap."""
    box, _ = rotated([Cuboid(0, 0, 0, *types[kind].outer_um)], WayUp.UPRIGHT, turn)
    length, width, height = size(box)
    boxes = [
        cuboid
        for column in range(columns)
        for row in range(rows)
        for cuboid in translate(box, column * length, row * width, 0)
    ]
    assert disjoint_union(boxes) == (Cuboid(0, 0, 0, 1_200_000, 800_000, height),)
    assert columns * rows * length * width == 1_200_000 * 800_000


@pytest.mark.parametrize(
    ("kind", "lined", "grams"),
    [
        ("klt-400x300x147", "steel-tray-400x300x147", 359.9),
        ("klt-600x400x147", "steel-tray-600x400x147", 777.2),
    ],
)
def test_a_steel_liner_weighs_and_takes_height(
    types: Types, kind: str, lined: str, grams: float
) -> None:
    """A sheet of 0.5 mm on the inner plans of VDA 4500: 346 x 265 and 544 x 364 mm."""
    plain, steel = types[kind], types[lined]
    assert steel.lining is Lining.STEEL
    assert steel.inner_um[:2] == plain.inner_um[:2]
    assert plain.inner_um[2] - steel.inner_um[2] == 500
    assert liner_g(steel, 0.5) == pytest.approx(grams, rel=1e-3)
    assert steel.tare_g - plain.tare_g == ceil(grams)


def test_foam_lies_between_contents_and_walls(types: Types) -> None:
    """A foam tray is 10 mm smaller on the floor and on each side than the tray it is made of."""
    plain, foam = types["smooth-600x400x75"], types["foam-tray-600x400x75"]
    assert foam.lining is Lining.FOAM
    assert foam.outer_um == plain.outer_um
    taken = [a - b for a, b in zip(plain.inner_um, foam.inner_um, strict=True)]
    assert taken == [20_000, 20_000, 10_000]


def test_a_foam_insert_lies_in_the_boxes_it_is_made_for(types: Types) -> None:
    """The insert fits on the floor of every 400 x 300 mm stacking box with 2 mm to spare."""
    insert = types["foam-insert-400x300x50"]
    for height in (75, 120, 170, 220):
        box = types[f"smooth-400x300x{height}"]
        assert all(box.inner_um[axis] - insert.outer_um[axis] >= 2_000 for axis in range(3))


@pytest.mark.parametrize(
    ("kind", "rim_in"), [("half-sheet-tray", (18, 13)), ("quarter-sheet-tray", (13, 9.5))]
)
def test_the_floor_of_a_sheet_tray_is_inside_its_taper(
    types: Types, kind: str, rim_in: tuple[float, float]
) -> None:
    """Common practice, no source: rim size, and walls that lean 1/4 in inwards an inch of depth."""
    tray = types[kind]
    assert tray.outer_um[:2] == tuple(side * INCH for side in rim_in)
    assert tray.outer_um[2] == INCH
    for inner, rim in zip(tray.inner_um[:2], rim_in, strict=True):
        assert inner <= (rim - 2 * 0.25) * INCH
