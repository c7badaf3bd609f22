"""The tutorial, from an empty folder to a stowed collection: every file, command and answer."""

import re
import shlex
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

from packdown.data import data_folder

BLOCK = re.compile(r"^```(?P<info>[^\n]*)\n(?P<text>.*?)^```$", re.DOTALL | re.MULTILINE)


class Command(NamedTuple):
    """A command of the tutorial, and what it is to print."""

    line: str
    shown: tuple[str, ...]


def blocks() -> Iterator[tuple[str, str]]:
    """Yield every block of code: what stands behind its first fence, and its text."""
    page = (data_folder("shared") / "tutorial.md").read_text(encoding="utf-8")
    for block in BLOCK.finditer(page):
        yield block["info"], block["text"]


def commands(text: str) -> Iterator[Command]:
    """Yield the commands of a block with the lines below each."""
    for part in re.split(r"^\$ ", text, flags=re.MULTILINE)[1:]:
        line, *shown = part.rstrip("\n").split("\n")
        yield Command(line, tuple(shown))


def save(info: str, text: str, folder: Path) -> None:
    """Write a file of the tutorial, or add to it where a plus says so."""
    _, name, *more = info.split()
    path = folder / name
    before = path.read_text(encoding="utf-8") if more == ["+"] else ""
    gap = "\n" if before and not before.endswith("\n") else ""
    path.write_text(before + gap + text, encoding="utf-8")


def agrees(shown: tuple[str, ...], printed: str) -> bool:
    """Whether lines were printed in this order; dots stand for anything."""
    pattern = r"\n?".join(
        "(?s:.*?)" if line == "..." else re.escape(line).replace(r"\.\.\.", "[^\n]*?") + "\n"
        for line in shown
    )
    return re.fullmatch(pattern, printed) is not None


def run(words: list[str], folder: Path) -> tuple[int, str, str]:
    """Run Python in the folder of the tutorial."""
    done = subprocess.run(
        [sys.executable, *words], capture_output=True, text=True, check=False, cwd=folder
    )
    return done.returncode, done.stdout, done.stderr


def test_the_tutorial(tmp_path: Path) -> None:
    """Whoever follows it word by word ends with 120 pieces and a crane that can be found."""
    printed, kinds = "", []
    for info, text in blocks():
        kinds.append(info.split()[0])
        if info == "console":
            for command in commands(text):
                program, *words = shlex.split(command.line)
                assert program == "packdown"
                status, printed, talk = run(["-m", "packdown", *words], tmp_path)
                assert status == 0, (command.line, printed, talk)
                assert not command.shown or agrees(command.shown, printed), (command, printed)
        elif info == "python":
            status, printed, talk = run(["-c", text], tmp_path)
            assert status == 0, talk
        elif info == "output":
            assert printed == text
        else:
            save(info, text, tmp_path)
    assert kinds.count("console") == 6
    assert {"csv", "toml", "python", "output"} <= set(kinds)
    counts = (tmp_path / "landing" / "counts.csv").read_text(encoding="utf-8")
    owned = re.findall(r"^\w+,(\d+)$", counts, flags=re.MULTILINE)
    assert sum(map(int, owned)) == 120


def test_the_comparison_sees_differences() -> None:
    """Lines in another order, a line too much or a word too little do not pass."""
    assert agrees(("a", "...", "b ... c"), "a\nx\ny\nb 1 c\n")
    assert agrees(("...", "b"), "a\nb\n")
    assert not agrees(("a", "b"), "b\na\n")
    assert not agrees(("a", "..."), "b\n")
    assert not agrees(("a",), "a\nb\n")
    assert not agrees(("b ... c",), "b 1 d\n")
