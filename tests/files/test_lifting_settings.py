"""The user's own figures for lifting and for magnets reach the rules of a plan."""

from pathlib import Path

from packdown.files import read_workspace
from packdown.model import Lifting, Magnet
from packdown.planning.job import rules_of
from support.workspaces import FILES, problems_in, write

OWN = """
[lifting]
limit = "12 kg"
handles = true
[magnets]
diameter = "6 mm"
remanence_mt = 1450
"""


def test_own_figures_are_read_over_the_defaults(tmp_path: Path) -> None:
    """What is left out keeps its default; limit and magnet are what a plan is made under."""
    head = FILES["packdown.toml"].replace("[key]", f"{OWN}[key]")
    workspace = read_workspace(write(tmp_path, FILES | {"packdown.toml": head}))
    assert workspace.settings.lifting == Lifting(limit_g=12_000, has_handles=True)
    magnet = Magnet(diameter_um=6_000, thickness_um=2_000, remanence_mt=1_450)
    assert workspace.settings.magnet == magnet
    rules = rules_of(workspace)
    assert (rules.lift_limit_g, rules.magnet) == (12_000, magnet)


def test_without_them_the_defaults_hold(tmp_path: Path) -> None:
    """15 kg, and discs of 5 x 2 mm."""
    settings = read_workspace(write(tmp_path)).settings
    assert settings.lifting == Lifting()
    assert settings.magnet == Magnet()


def test_what_is_wrong_is_told(tmp_path: Path) -> None:
    """File, entry, and what was expected."""
    head = FILES["packdown.toml"].replace("[key]", '[lifting]\nlimit = "12"\n[key]')
    (problem,) = problems_in(write(tmp_path, FILES | {"packdown.toml": head}))
    assert problem.entry == "lifting.limit"
    assert "has no unit" in problem.message
