"""The defaults that ship with the program, against publications and each other."""

from pathlib import Path
from shutil import copytree

import pytest

from packdown.data import data_folder
from packdown.errors import InputError
from packdown.files import defaults, read_defaults
from packdown.model import BagSize, JointKind, Prefer


def test_limits_of_a_workspace_that_says_nothing() -> None:
    """The rules are those of the guide."""
    found = read_defaults()
    settings = found.settings
    assert (settings.support_percent, settings.shock_factor, settings.prefer) == (
        80, 3, Prefer.BALANCED,
    )  # fmt: skip
    assert (settings.joint_tolerance_um, found.clearance_um) == (200, 2_000)
    assert found.shock_factors == {"transport": 3, "shelf": 1}
    assert settings.bag == BagSize()
    assert settings.holds_g == {
        JointKind.KEYED: 1_200,
        JointKind.PRESS_FIT: 800,
        JointKind.MAGNETIC: 300,
        JointKind.STACKED: 0,
    }
    assert settings.bends_mnm == {
        JointKind.KEYED: 47,
        JointKind.PRESS_FIT: 31,
        JointKind.MAGNETIC: 7,
    }


def test_lifting_cautions_are_those_of_the_publications() -> None:
    """15 kg: EN 1005-2 (from memory); 23 kg: DHHS (NIOSH) Publication 94-110, page 7."""
    found = read_defaults()
    assert found.settings.weight_limit_g == 15_000
    assert found.settings.lifting.limit_g == 15_000
    assert found.settings.lifting.two_people_above_g == 23_000
    assert "94-110" in found.lift_source


def test_placing_one_sub_assembly_takes_about_nine_seconds() -> None:
    """5 s of finding and reading at the usual pace, and three times a loose tile's 1.357 s."""
    effort = read_defaults().settings.effort
    # (1357 + 5000 / 3) ms = 3024 ms for practised hands; x 3 = 9.07 s
    assert effort.place_ms == 3_024
    assert effort.place_s == 9


def test_every_kind_that_opens_has_its_times() -> None:
    """Only glued joints have none; a keyed joint costs more than one that is only stacked."""
    effort = read_defaults().settings.effort
    assert set(effort.split_ms) == set(effort.remake_ms) == set(JointKind) - {JointKind.GLUED}
    assert effort.joint_s(JointKind.PRESS_FIT, 1) > effort.joint_s(JointKind.KEYED, 1)
    assert effort.joint_s(JointKind.KEYED, 1) > effort.joint_s(JointKind.STACKED, 1)


def test_spoilt_defaults_are_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Who edits the program's own files is told what is wrong in them."""
    folder = copytree(data_folder("shared"), tmp_path / "shared")
    path = folder / "effort.toml"
    path.write_text(path.read_text(encoding="utf-8").replace('"press",', '"pres",', 1))
    monkeypatch.setattr(defaults, "data_folder", lambda _: folder)
    with pytest.raises(InputError, match=r'effort\.toml: remake\.keyed\[4\].*"press"'):
        read_defaults.__wrapped__()
