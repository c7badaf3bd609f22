"""Vehicles and flights are read, and what is wrong with them is told."""

from pathlib import Path

import pytest

from packdown.files import read_workspace
from packdown.geometry import Cuboid
from packdown.model import Allowance, LoadSpace, Opening, OpeningSide
from support.workspaces import FILES, problems_in, write

VAN = """\
[spaces.van]
width = "1200 mm"
length = "1000 mm"
height = "900 mm"
payload = "200 kg"
seat_back = "600 mm"
"""
FLIGHT = "[flights.hop]\n"


def read(folder: Path, text: str) -> LoadSpace:
    """Return the only vehicle of a file."""
    (space,) = read_workspace(write(folder, FILES | {"load_spaces.toml": text})).load_spaces
    return space


def test_a_plain_vehicle_has_its_whole_back_open(tmp_path: Path) -> None:
    """What is left out is the default; the seat back ends what may be filled."""
    van = read(tmp_path, VAN)
    assert van.opening == Opening(
        side=OpeningSide.BACK, low_um=(0, 0), size_um=(1_200_000, 900_000)
    )
    assert van.name == van.id == "van"
    assert van.friction == 0.2
    assert van.usable_um == (1_200_000, 1_000_000, 600_000)
    assert van.volume_um3 == 1_200_000 * 1_000_000 * 600_000


def test_wheel_arches_are_taken_away_on_both_sides(tmp_path: Path) -> None:
    """A pair of 100 x 300 x 200 mm, 400 mm from the back: 2 x 6 litres."""
    arches = 'width = "100 mm", length = "300 mm", height = "200 mm", from_back = "400 mm"'
    van = read(tmp_path, f"{VAN}wheel_arches = {{ {arches} }}\n")
    assert set(van.blocked_um) == {
        Cuboid(0, 400_000, 0, 100_000, 700_000, 200_000),
        Cuboid(1_100_000, 400_000, 0, 1_200_000, 700_000, 200_000),
    }
    assert van.volume_um3 == 720 * 10**15 - 12 * 10**15


def test_a_slope_is_covered_from_outside(tmp_path: Path) -> None:
    """The true line of the tailgate lies within the steps, at every height."""
    van = read(tmp_path, VAN + 'tailgate_slope = { depth = "250 mm", from = "400 mm" }\n')
    for height in range(400_001, 900_000, 9_999):
        true = 250_000 * (height - 400_000) / 500_000
        (step,) = {c.y1 for c in van.door_um if c.z0 < height <= c.z1}
        assert true <= step <= true + 10_001  # 20 mm of height are 10 mm of depth


def test_the_seat_back_may_lean(tmp_path: Path) -> None:
    """A slope of the seat takes from the far end."""
    van = read(tmp_path, VAN + 'seat_slope = { depth = "90 mm" }\n')
    assert {c.y1 for c in van.blocked_um} == {1_000_000}
    assert min(c.y0 for c in van.blocked_um) == 910_000


def test_an_opening_is_centred_above_its_lip(tmp_path: Path) -> None:
    """Unless the file says how far from the left it begins."""
    opening = 'opening = { width = "1000 mm", height = "700 mm", lip = "80 mm" }\n'
    assert read(tmp_path, VAN + opening).opening.low_um == (100_000, 80_000)


@pytest.mark.parametrize(
    ("side", "sizes"),
    [
        ("left", 'length = "600 mm", from_back = "300 mm", height = "700 mm"'),
        ("top", 'width = "600 mm", from_left = "300 mm", length = "700 mm"'),
    ],
)
def test_things_go_in_by_the_side_or_from_above(tmp_path: Path, side: str, sizes: str) -> None:
    """Sizes of an opening are those of the side it is in."""
    van = read(tmp_path, f'{VAN}opening = {{ side = "{side}", {sizes} }}\n')
    assert van.opening.side == side
    assert van.opening.size_um == (600_000, 700_000)
    assert van.opening.low_um[0] == 300_000


def test_a_flight_takes_the_usual_allowance(tmp_path: Path) -> None:
    """23 kg and 158 cm, as IATA prints on "Checking in a bag"; the carrier's figures count."""
    files = FILES | {"load_spaces.toml": FLIGHT}
    (flight,) = read_workspace(write(tmp_path, files)).flights
    assert flight.checked == Allowance(pieces=1, weight_g=23_000, linear_um=1_580_000)
    assert flight.cabin is None


def test_a_flight_takes_the_figures_of_its_carrier(tmp_path: Path) -> None:
    """Every figure can be replaced, and cabin baggage asked for."""
    text = FLIGHT + 'checked = { pieces = 3, weight = "32 kg" }\ncabin = { weight = "7 kg" }\n'
    (flight,) = read_workspace(write(tmp_path, FILES | {"load_spaces.toml": text})).flights
    assert flight.checked == Allowance(pieces=3, weight_g=32_000, linear_um=1_580_000)
    assert flight.cabin == Allowance(pieces=1, weight_g=7_000, size_um=(560_000, 450_000, 250_000))


CASES = {
    "no width": (VAN.replace('width = "1200 mm"\n', ""), "spaces.van.width", "is missing"),
    "no payload": (VAN.replace('payload = "200 kg"\n', ""), "spaces.van.payload", "is missing"),
    "unknown side": (VAN + 'opening = { side = "bak" }', "spaces.van.opening.side", '"back"'),
    "opening too wide": (
        VAN + 'opening = { width = "1300 mm" }',
        "spaces.van.opening.width",
        "ends at 1300 mm, beyond the inside, which ends at 1200 mm",
    ),
    "unknown key": (VAN + "frictoin = 0.3", "spaces.van.frictoin", '"friction"'),
    "twice": (VAN + "[flights.van]", "flights.van", "is the name of a load space too"),
    "weight without unit": (
        FLIGHT + 'checked = { weight = "23" }',
        "flights.hop.checked.weight",
        "has no unit",
    ),
}


@pytest.mark.parametrize(("text", "entry", "words"), CASES.values(), ids=CASES)
def test_what_is_wrong_is_told(tmp_path: Path, text: str, entry: str, words: str) -> None:
    """File, entry, and what was expected."""
    (problem,) = problems_in(write(tmp_path, FILES | {"load_spaces.toml": text}))
    assert (problem.file, problem.entry) == ("load_spaces.toml", entry)
    assert words in str(problem)
