"""However a workspace is spoilt, reading it ends in a workspace or in problems, never otherwise."""

import re
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from packdown.files import read_workspace
from support.workspaces import FILES, problems_in, write

ODD = (
    "true", "-1", "0", "1e308", "nan", "-inf", "0x7fff_ffff_ffff", "9" * 5_000, "[]", "[[]]", "{}",
    '""', '"?"', '"0 mm"', '"-1 mm"', '"9999999 in"', '"1/0 in"', '"0.001 mm"', '"10 m"', '"none"',
    '"slab"', '"fence"', '"s-1"', '"face"', "1979-05-27", '"\\u0000"', "'''", "#", ",", "=", "]",
    "\n[parts.slab]\n", "\n[[keep_apart]]\n", "[0, 0, 0]", "[1e9, -1e9]", '"upside-down"', "90",
)  # fmt: skip
VALUE = re.compile(r'"[^"\n]*"|\b\d+(?:\.\d+)?\b|\b[a-z-]+\b')
SPOTS = [
    (file, match.start(), match.end())
    for file, text in FILES.items()
    for match in VALUE.finditer(text)
]


def is_read_or_refused(folder: Path) -> None:
    """Read a workspace; every problem must say in which file it is and what it is."""
    problems = problems_in(folder)
    assert all(problem.file and problem.message for problem in problems)
    if not problems:
        assert read_workspace(folder).containers


@settings(max_examples=300, deadline=None)
@given(st.sampled_from(SPOTS), st.sampled_from(ODD) | st.text(max_size=5))
def test_any_word_or_value_may_be_odd(
    tmp_path_factory: pytest.TempPathFactory, spot: tuple[str, int, int], odd: str
) -> None:
    """One key, word or value of one file becomes something else."""
    file, start, end = spot
    text = FILES[file][:start] + odd + FILES[file][end:]
    text = text.encode("utf-8", "ignore").decode("utf-8")
    is_read_or_refused(write(tmp_path_factory.mktemp("spoilt"), FILES | {file: text}))


@settings(max_examples=100, deadline=None)
@given(st.sampled_from(sorted(FILES)), st.binary(max_size=40), st.data())
def test_any_bytes_may_stand_anywhere(
    tmp_path_factory: pytest.TempPathFactory, file: str, junk: bytes, data: st.DataObject
) -> None:
    """A stretch of one file is lost, and bytes stand in its place."""
    whole = FILES[file].encode()
    start = data.draw(st.integers(0, len(whole)))
    end = data.draw(st.integers(start, len(whole)))
    folder = write(tmp_path_factory.mktemp("spoilt"))
    (folder / file).write_bytes(whole[:start] + junk + whole[end:])
    is_read_or_refused(folder)


@settings(max_examples=50, deadline=None)
@given(st.lists(st.sampled_from(SPOTS), min_size=2, max_size=6), st.data())
def test_several_may_be_odd_at_once(
    tmp_path_factory: pytest.TempPathFactory,
    spots: list[tuple[str, int, int]],
    data: st.DataObject,
) -> None:
    """Slips in several places do not hide or break each other."""
    files = dict(FILES)
    for file, start, end in sorted(spots, reverse=True):
        files[file] = files[file][:start] + data.draw(st.sampled_from(ODD)) + files[file][end:]
    is_read_or_refused(write(tmp_path_factory.mktemp("spoilt"), files))
