"""Events are read from their files, with every problem at once."""

import re
from pathlib import Path

import pytest

from packdown.errors import InputError, Problem
from packdown.files import event_names, new_workspace, read_event, read_workspace
from packdown.model import Wish
from support.workspaces import write

FAIR = """\
name = "Quarry fair"
[limits]
containers = ["low", "high"]
most_containers = 1
weight = "20 kg"
journeys = 2
set_up = "45 min"
strike = "0.5 h"
helpers = 3
table = ["180 cm", "75 cm"]
[sessions.late]
day = 2
start = "9:30"
end = "12:00"
builds = [{ id = "hut" }]
[sessions.early]
name = "Stone cutters"
start = "14:00"
end = "16:00"
tables = 2
builds = [{ id = "face", must = true, worth = 5 }]
pieces = [{ part = "lamp", count = 2, worth = 3 }]
"""


def problems(folder: Path, text: str) -> list[Problem]:
    """Return the problems of an event in the quarry."""
    write(folder)
    (folder / "events").mkdir()
    (folder / "events" / "fair.toml").write_text(text, encoding="utf-8")
    workspace = read_workspace(folder)
    try:
        read_event(folder, "fair", workspace)
    except InputError as error:
        return list(error.problems)
    return []


def test_an_event(tmp_path: Path) -> None:
    """Everything that an event can say is read; sessions come in the order of their start."""
    assert problems(tmp_path, FAIR) == []
    event = read_event(tmp_path, "fair", read_workspace(tmp_path))
    assert event_names(tmp_path) == ("fair",)
    assert event.name == "Quarry fair"
    assert [session.id for session in event.sessions] == ["early", "late"]
    early, late = event.sessions
    assert (early.day, early.start_s, early.end_s, early.tables) == (1, 14 * 3_600, 16 * 3_600, 2)
    assert (late.day, late.start_s, late.name) == (2, 9 * 3_600 + 1_800, "late")
    assert early.wishes == (
        Wish(build="face", must=True, worth=5),
        Wish(part="lamp", count=2, worth=3),
    )
    limits = event.limits
    assert limits.containers == ("low", "high")
    assert (limits.most_containers, limits.weight_g, limits.journeys) == (1, 20_000, 2)
    assert (limits.set_up_s, limits.strike_s, limits.helpers) == (2_700, 1_800, 3)
    assert limits.table_um == (1_800_000, 750_000)


CASES = {
    "unknown build": ('id = "hut"', 'id = "hat"', "sessions.late.builds[0].id",
        'no build "hat" (did you mean "hut"?)'),
    "unknown part": ('part = "lamp"', 'part = "lmp"', "sessions.early.pieces[0].part",
        'unknown part "lmp" (did you mean "lamp"?)'),
    "unknown container": ('"high"]', '"hihg"]', "limits.containers[1]",
        'no container "hihg" (did you mean "high"?)'),
    "container twice": ('"high"]', '"low"]', "limits.containers[1]", "named twice"),
    "build twice": ('[{ id = "hut" }]', '[{ id = "hut" }, { id = "hut" }]',
        "sessions.late.builds[1]", '"hut" is wanted twice'),
    "no clock": ('"9:30"', '"9.30"', "sessions.late.start", 'a time of day such as "09:30"'),
    "later than a day": ('"9:30"', '"24:00"', "sessions.late.start", "a time of day"),
    "ends before": ('"16:00"', '"14:00"', "sessions.early.end", "is not after its start"),
    "no unit": ('"45 min"', '"45"', "limits.set_up", "has no unit"),
    "no time at all": ('"45 min"', '"0 min"', "limits.set_up", 'a time such as "45 min"'),
    "no worth": ("worth = 5", "worth = 0", "sessions.early.builds[0].worth", "a whole number"),
    "no table": ("tables = 2", "tables = 0", "sessions.early.tables", "a whole number"),
    "unknown key": ("helpers = 3", "helper = 3", "limits.helper", 'did you mean "helpers"?'),
    "wants nothing": ('builds = [{ id = "hut" }]', "", "sessions.late", "wants nothing"),
    "table of one side": ('["180 cm", "75 cm"]', '["180 cm"]', "limits.table", "a list of 2"),
}  # fmt: skip


@pytest.mark.parametrize("case", CASES)
def test_bad_entries(tmp_path: Path, case: str) -> None:
    """Every bad entry is the only problem, with where it is and what to do."""
    old, new, entry, words = CASES[case]
    assert old in FAIR
    (problem,) = problems(tmp_path, FAIR.replace(old, new, 1))
    assert (problem.file, problem.entry) == ("events/fair.toml", entry)
    assert words in f"{problem.message} ({problem.hint})"


def test_all_problems_at_once(tmp_path: Path) -> None:
    """Several bad entries are all told."""
    text = FAIR
    for case in ("unknown build", "no clock", "no unit", "unknown key"):
        old, new, *_ = CASES[case]
        text = text.replace(old, new, 1)
    assert len(problems(tmp_path, text)) == 4


def test_no_session_and_no_event(tmp_path: Path) -> None:
    """An event without sessions, and a name that no event has, are told."""
    (problem,) = problems(tmp_path, 'name = "Empty"\n')
    assert "at least one session" in problem.message
    with pytest.raises(InputError, match=r"no such event \(did you mean \"fair\"\?\)"):
        read_event(tmp_path, "fiar", read_workspace(tmp_path))


def test_the_template_is_an_event(tmp_path: Path) -> None:
    """With its examples in use, the event of a new workspace reads without a problem."""
    new_workspace(tmp_path)
    for path in (path for path in tmp_path.rglob("*") if path.is_file()):
        text = path.read_text(encoding="utf-8")
        path.write_text(re.sub(r"^#(?! \S)", "", text, flags=re.MULTILINE), encoding="utf-8")
    event = read_event(tmp_path, "example", read_workspace(tmp_path))
    assert len(event.sessions) == 1
    assert len(event.sessions[0].wishes) == 3


def test_a_design_may_use_pieces_of_builds(tmp_path: Path) -> None:
    """Builds that do not stand are designs: their pieces are not taken from what is owned."""
    write(tmp_path)
    design = (
        "[builds.plan]\nstands = false\n"
        'place = [{ id = "s", part = "slab", at = [0, 0], '
        "repeat = { count = [3, 2], step = [2, 2] } }]\n"
    )
    before = read_workspace(tmp_path)
    (tmp_path / "builds" / "plan.toml").write_text(design, encoding="utf-8")
    workspace = read_workspace(tmp_path)
    assert [build.id for build in workspace.designs] == ["plan"]
    assert workspace.builds == before.builds
    assert workspace.loose == before.loose
    assert dict(workspace.owned) == {"slab": 6, "fence": 4, "lamp": 3}
    standing = design.replace("stands = false\n", "")
    (tmp_path / "builds" / "plan.toml").write_text(standing, encoding="utf-8")
    with pytest.raises(InputError, match="stands = false"):
        read_workspace(tmp_path)
