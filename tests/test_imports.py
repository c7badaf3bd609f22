"""Which module may import which: arrows point inward, heavy libraries stay at home."""

import ast
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

import packdown

ROOT = Path(packdown.__file__).parent
MODULES = sorted(ROOT.rglob("*.py"))

CORE = {"errors", "units"}
FOUNDATION = CORE | {"geometry", "model"}
ALLOWED = {
    "errors": set(),
    "units": set(),
    "data": set(),
    "archives": set(),
    "geometry": CORE,
    "model": CORE | {"geometry"},
    "limits": FOUNDATION,
    "files": FOUNDATION | {"data", "limits", "archives"},
    "measuring": FOUNDATION | {"data", "archives", "files"},
    "tables": FOUNDATION | {"archives", "files"},
    "teardown": FOUNDATION,
    "packing": FOUNDATION,
    "verify": FOUNDATION,
    "store": FOUNDATION | {"data"},
    "planning": FOUNDATION | {"teardown", "packing", "limits"},
    "report": FOUNDATION | {"store", "data", "limits", "measuring", "tables"},
}
ALLOWED["api"] = {*ALLOWED} - {"archives"}
ALLOWED["__init__"] = {"api", "errors"}
"""For each package what else of ours it may import; `cli` may import all."""

HOMES = {
    "ortools": {"packing", "teardown", "planning", "verify"},
    "numba": {"packing", "measuring"},
    "trimesh": {"measuring"},
    "defusedxml": {"measuring", "tables"},
    "openpyxl": {"tables"},
    "networkx": {"verify", "teardown", "report"},
    "pydantic": {"files"},
    "jinja2": {"report"},
    "rich": {"report", "cli"},
    "typer": {"cli"},
    "sqlite3": {"store"},
    "sqlalchemy": {"store"},
    "alembic": {"store"},
    "rapidfuzz": {"store"},
    "fpdf": {"report"},
    "segno": {"report"},
    "pymupdf_fonts": {"report"},
}
"""Libraries that only some packages may import."""


def _package(path: Path) -> str:
    """Name the package, or the module at the top, that a file belongs to."""
    parts = path.relative_to(ROOT).with_suffix("").parts
    return parts[0]


def _imports(tree: ast.AST) -> Iterator[str]:
    """Yield the full name of every module or name that is imported, wherever it stands."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, "imports inside the package are written in full"
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def _name(path: Path) -> str:
    return str(path.relative_to(ROOT))


def _tree(path: Path) -> ast.Module:
    return ast.parse(path.read_text(encoding="utf-8"))


INNER = [path for path in MODULES if _package(path) not in {"cli", "__main__"}]


def test_every_module_is_read() -> None:
    """The guard sees the whole program."""
    assert {"verify", "model", "geometry"} <= {_package(path) for path in MODULES}


@pytest.mark.parametrize("path", INNER, ids=_name)
def test_imports_point_inward(path: Path) -> None:
    """A package imports only what lies further in."""
    package = _package(path)
    allowed = ALLOWED.get(package, set()) | {package, "__version__"}
    ours = {name.split(".")[1] for name in _imports(_tree(path)) if name.startswith("packdown.")}
    assert ours <= allowed


@pytest.mark.parametrize("path", MODULES, ids=_name)
def test_libraries_stay_at_home(path: Path) -> None:
    """Heavy or outward-facing libraries are imported only by the packages that need them."""
    package = _package(path)
    strangers = {
        library
        for name in _imports(_tree(path))
        if (library := name.split(".")[0]) in HOMES and package not in HOMES[library]
    }
    assert not strangers


@pytest.mark.parametrize("path", sorted((ROOT / "verify").glob("*.py")), ids=_name)
def test_verifier_knows_no_solver(path: Path) -> None:
    """The verifier shares with what it verifies the foundation and libraries, and nothing else."""
    foundation = {f"packdown.{name}" for name in FOUNDATION | {"verify"}}
    known = foundation | sys.stdlib_module_names | {"networkx", "ortools"}
    names = (
        ".".join(name.split(".")[: 1 + name.startswith("packdown.")])
        for name in _imports(_tree(path))
    )
    assert set(names) <= known


@pytest.mark.parametrize("path", MODULES, ids=_name)
def test_nothing_prints(path: Path) -> None:
    """No module calls print: data and talk leave through the command line."""
    calls = [
        node.lineno
        for node in ast.walk(_tree(path))
        if isinstance(node, ast.Call)
        and isinstance(node.func, ast.Name)
        and node.func.id == "print"
    ]
    assert not calls


def test_command_line_starts_light() -> None:
    """Modules of the command line import heavy libraries only inside functions."""
    heavy = {"numba", "ortools", "networkx", "pydantic", "jinja2", "scipy"}
    heavy |= {"sqlalchemy", "fpdf", "segno", "trimesh", "openpyxl"}
    for path in (ROOT / "cli").glob("*.py"):
        top = ast.Module(
            body=[n for n in _tree(path).body if isinstance(n, ast.Import | ast.ImportFrom)],
            type_ignores=[],
        )
        names = {name.split(".")[0] for name in _imports(top)}
        assert not names & heavy, path.name
