"""Readers given spoilt files in small numbers, and every file that was ever found to go wrong."""

import re
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path
from random import Random

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from fuzzing import watching
from fuzzing.findings import FINDINGS
from fuzzing.spoiling import spoilt
from fuzzing.targets import TARGETS, Target, prepare
from fuzzing.watching import FindingError, read_watched
from support.most_memory import most_memory


@pytest.mark.parametrize("name", TARGETS)
def test_seeds_are_read_as_they_are(name: str, tmp_path: Path) -> None:
    """What fuzzing begins from is right, so that it gets past the first line."""
    target = TARGETS[name]
    for seed in target.seeds:
        read_watched(target, seed, prepare(target, tmp_path))


@pytest.mark.parametrize("name", TARGETS)
@settings(max_examples=15, deadline=None, suppress_health_check=list(HealthCheck))
@given(seed=st.integers(0, 2**32))
def test_spoilt_files_are_read_or_refused(
    name: str, seed: int, tmp_path_factory: pytest.TempPathFactory
) -> None:
    """However a file is spoilt, nothing is raised, written or waited for."""
    target, chance = TARGETS[name], Random(seed)
    data = spoilt(chance.choice(target.seeds), chance, chance.choice(target.seeds))
    read_watched(target, data, prepare(target, tmp_path_factory.mktemp("spoilt")))


@pytest.mark.parametrize("name", FINDINGS)
def test_what_once_went_wrong(name: str, tmp_path: Path) -> None:
    """Files that were found by fuzzing, or by thinking, stay mended."""
    reader, data = FINDINGS[name]
    read_watched(TARGETS[reader], data, prepare(TARGETS[reader], tmp_path))


def _writes_beside(_data: bytes, folder: Path) -> None:
    (folder / "more.txt").write_text("x", encoding="utf-8")


def _writes_elsewhere(_data: bytes, folder: Path) -> None:
    (folder.parent / "elsewhere.txt").write_text("x", encoding="utf-8")


def _makes_a_folder(_data: bytes, folder: Path) -> None:
    (folder.parent / "elsewhere").mkdir()


def _takes_long(_data: bytes, _folder: Path) -> None:
    end = time.process_time() + 0.02
    while time.process_time() < end:
        pass


def _raises(data: bytes, _folder: Path) -> None:
    data[10]


@pytest.mark.parametrize(
    ("read", "words"),
    [
        (_writes_beside, "wrote more.txt"),
        (_writes_elsewhere, "did open"),
        (_makes_a_folder, "did os.mkdir"),
        (_takes_long, "took"),
        (_raises, "index out of range"),
    ],
)
def test_the_watch_sees_what_goes_wrong(
    read: Callable[[bytes, Path], None],
    words: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """A reader that writes, takes long or fails is found."""
    monkeypatch.setattr(watching, "MOST_S", 0.01)
    (tmp_path / "home").mkdir()
    bad = Target(name="bad", read=read, seeds=(b"",), files={})
    with pytest.raises((FindingError, IndexError), match=words):
        read_watched(bad, b"", tmp_path / "home")


def test_too_much_memory_is_seen(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """With a bound below what the program takes anyway, the first file is a finding."""
    if not most_memory():
        pytest.skip("this system does not say how much memory a program takes")
    monkeypatch.setattr(watching, "MOST_BYTES", 1)
    with pytest.raises(FindingError, match="MiB"):
        read_watched(TARGETS["units"], b"1 mm", tmp_path)


def test_the_same_seed_spoils_the_same() -> None:
    """A finding of the random search can be repeated."""
    data = TARGETS["builds/yard.toml"].seeds[0]
    assert spoilt(data, Random(7), data) == spoilt(data, Random(7), data)
    assert len({spoilt(data, Random(seed), data) for seed in range(50)}) > 40


def test_the_engine_runs(tmp_path: Path) -> None:
    """A second of fuzzing, guided where atheris is at hand, reads files and finds nothing."""
    tests = Path(__file__).resolve().parents[1]
    words = [sys.executable, "-m", "fuzzing.engine", "units", "1", str(tmp_path)]
    done = subprocess.run(words, check=False, capture_output=True, text=True, cwd=tests)
    assert done.returncode == 0, done.stderr[-2_000:]
    assert re.search(r"number_of_executed_units: [1-9]|units: \d+ files", done.stdout + done.stderr)
    assert not list(tmp_path.glob("failed-*"))
