"""The program's own data is found in a checkout and in an installed package."""

import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from packdown.data import data_folder

ROOT = Path(__file__).resolve().parent.parent


@pytest.mark.parametrize("name", ["containers", "shared", "examples"])
def test_data_is_found_in_a_checkout(name: str) -> None:
    """Each folder is there and holds files."""
    assert any(path.is_file() for path in data_folder(name).rglob("*"))


def test_unknown_data_is_an_error() -> None:
    """A folder that does not belong to the program is not found by chance."""
    with pytest.raises(FileNotFoundError, match="nothing-like-it"):
        data_folder("nothing-like-it")


def test_the_wheel_carries_the_same_data(tmp_path: Path) -> None:
    """The built wheel holds every data file, and a program run from it finds them."""
    subprocess.run(
        [sys.executable, "-m", "pip", "wheel", "-q", "--no-deps", "-w", tmp_path, ROOT],
        check=True,
        capture_output=True,
    )
    wheel = next(tmp_path.glob("*.whl"))
    unpacked = tmp_path / "unpacked"
    with zipfile.ZipFile(wheel) as archive:
        archive.extractall(unpacked)  # our own wheel, just built
    code = "from packdown.data import data_folder; print(data_folder('containers'))"
    found = subprocess.run(
        [sys.executable, "-c", code],
        check=True,
        capture_output=True,
        text=True,
        cwd=tmp_path,
        env={"PYTHONPATH": str(unpacked)},
    ).stdout.strip()
    assert Path(found).is_relative_to(unpacked)
    for name in ("containers", "shared", "examples"):
        wanted = sorted(p.relative_to(ROOT / name) for p in (ROOT / name).rglob("*") if p.is_file())
        inside = unpacked / "packdown" / "resources" / name
        got = sorted(p.relative_to(inside) for p in inside.rglob("*") if p.is_file())
        assert got == wanted
