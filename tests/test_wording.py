"""What the program says where work can hurt someone: no promise, and always somebody to ask.

All texts are read: every string of the source but docstrings, help texts, templates, scripts,
files of an empty workspace, the example, and data that ship.
"""

import ast
import re
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

import packdown
from packdown.data import data_folder
from packdown.limits.magnets import AirClass
from packdown.model import Cargo, Flight, FlightLoad
from packdown.planning.flight import load_flight
from packdown.planning.loading import load
from packdown.report.cautions import Caution, cautions
from packdown.report.flight_words import flight_cautions
from packdown.report.lift_words import _AIR, LIFT_NOTE, flight_caution
from packdown.report.load_words import load_cautions
from packdown.report.lookup import look_up
from support.flights import HOP
from support.loads import box, vehicle
from support.plans import GOOD

ROOT = Path(packdown.__file__).parent
PROMISE = re.compile(
    r"\b(safe|safely|compliant|complies|certified|guaranteed?|harmless)\b", re.IGNORECASE
)
DENIED = re.compile(r"\b(no|not|never|nor|neither)\b[^.]*$", re.IGNORECASE)
"""A promise that is denied in the same sentence is none."""
ASK = re.compile(
    r"\bask (the|your|its)\b[^.]*\b(carrier|maker|authority|adviser|club|venue|employer|doctor)\b",
    re.IGNORECASE,
)


def promises(text: str) -> list[str]:
    """Return promises in a text, with what stands before them in their sentence."""
    found = []
    for match in PROMISE.finditer(text):
        before = re.split(r"[.!?]\s", text[: match.start()])[-1]
        if not DENIED.search(before):
            found.append(f"{before[-60:]}{match[0]}")
    return found


def strings_of(path: Path) -> Iterator[str]:
    """Yield the strings of a module; of its docstrings only those of commands, which are shown."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    hidden = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef):
            first = node.body[0] if node.body else None
            shown = isinstance(node, ast.FunctionDef) and path.parent.name == "cli"
            if isinstance(first, ast.Expr) and not shown:
                hidden.add(id(first.value))
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and id(node) not in hidden:
            yield from [node.value] if isinstance(node.value, str) else []


def shipped() -> list[Path]:
    """Return all files whose text may be shown."""
    kinds = {".j2", ".js", ".toml", ".csv", ".md"}
    folders = [ROOT, *(data_folder(name) for name in ("shared", "containers", "examples"))]
    return sorted(p for f in folders for p in f.rglob("*") if p.suffix in kinds)


def test_a_promise_is_found_and_a_denied_one_is_not() -> None:
    """The test of the tests: what they look for, and what they let pass."""
    assert promises("This box is safe to fly.")
    assert promises("Compliant with all rules")
    assert not promises("This is not a safe load, and never certified.")


@pytest.mark.parametrize("path", sorted(ROOT.rglob("*.py")), ids=lambda p: p.name)
def test_no_module_promises_anything(path: Path) -> None:
    """No output calls anything safe, compliant or certified."""
    assert [found for text in strings_of(path) for found in promises(text)] == []


@pytest.mark.parametrize("path", shipped(), ids=lambda p: p.name)
def test_no_template_promises_anything(path: Path) -> None:
    """Nor do templates and files that ship."""
    assert promises(path.read_text(encoding="utf-8")) == []


def all_cautions() -> Iterator[Caution]:
    """Yield every caution that can be shown."""
    rules = replace(GOOD.rules, lift_limit_g=1)
    lookup = look_up(replace(GOOD, rules=rules))
    yield from cautions(lookup)
    flight = flight_caution(lookup)
    assert flight
    yield flight
    yield LIFT_NOTE
    yield from load_cautions(load(replace(vehicle(), guarded=True), [box("a", 5_000)], effort=1))
    yield from flight_cautions(load_flight(HOP, [box("a", 5_000)]))


def test_every_caution_names_whom_to_ask() -> None:
    """Carrier, maker, road authority, adviser, venue or doctor."""
    found = {caution.title: caution.text for caution in all_cautions()}
    assert len(found) >= 7
    for title, text in found.items():
        assert ASK.search(text), title


def test_what_carriers_decide_is_left_to_them() -> None:
    """Every estimate of a field that is near a limit or above it leads to the carrier."""
    for kind in AirClass:
        assert "carrier" in _AIR[kind]


def test_estimates_call_themselves_estimates() -> None:
    """Of lifting, of fields, and of forces."""
    texts = [caution.text for caution in all_cautions()]
    assert sum("estimate" in text for text in texts) >= 2
    assert LIFT_NOTE.title == "These are estimates"


def test_a_flight_counts_as_its_workspace_says() -> None:
    """The caution shows the figures that were used."""
    cargo: tuple[Cargo, ...] = (box("a", 5_000),)
    flight: Flight = replace(HOP, checked=replace(HOP.checked, weight_g=20_000))
    found: FlightLoad = load_flight(flight, cargo)
    assert "20.0 kg" in flight_cautions(found)[0].text
