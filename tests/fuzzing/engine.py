"""Fuzz one reader: ``cd tests && python -m fuzzing.engine NAME SECONDS FOLDER``.

Where atheris is at hand the search is guided by which branches a file reaches; elsewhere files are
spoilt at random. FOLDER takes what was found interesting, and what failed as ``failed-...``.
"""

import sys
import tempfile
import time
from hashlib import sha256
from importlib import import_module
from importlib.util import find_spec
from pathlib import Path
from random import Random
from typing import Any

from fuzzing.spoiling import spoilt
from fuzzing.watching import read_watched

__all__: list[str] = []

MOST_BYTES = 1 << 30
HANG_S = 120


def main(name: str, seconds: float, found: Path) -> None:
    """Fuzz a reader for some time; end with an error at the first finding."""
    try:
        atheris: Any = import_module("atheris")
    except ImportError:
        at_random(name, seconds, found)
    else:
        guided(atheris, name, seconds, found)


def at_random(name: str, seconds: float, found: Path) -> None:
    """Spoil files without any guidance."""
    targets = import_module("fuzzing.targets")
    target, chance, count = targets.TARGETS[name], Random(name), 0
    end = time.monotonic() + seconds
    with tempfile.TemporaryDirectory() as home:
        folder = targets.prepare(target, Path(home))
        while time.monotonic() < end:
            data = spoilt(chance.choice(target.seeds), chance, chance.choice(target.seeds))
            try:
                read_watched(target, data, folder)
            except BaseException:
                (found / f"failed-{sha256(data).hexdigest()[:12]}").write_bytes(data)
                raise
            count += 1
    sys.stdout.write(f"{name}: {count} files at random\n")


def compiled_modules() -> list[str]:
    """Return the modules that hold compiled loops, which cannot be watched."""
    spec = find_spec("packdown")
    home = Path(next(iter(spec.submodule_search_locations or ()))) if spec else Path()
    paths = (path.relative_to(home.parent) for path in home.glob("**/kernels/*.py"))
    return [".".join(path.with_suffix("").parts).removesuffix(".__init__") for path in paths]


def guided(atheris: Any, name: str, seconds: float, found: Path) -> None:  # noqa: ANN401 - untyped
    """Look for files that reach new branches."""
    with atheris.instrument_imports(include=["packdown"], exclude=compiled_modules()):
        targets = import_module("fuzzing.targets")
    target = targets.TARGETS[name]
    folder = targets.prepare(target, Path(tempfile.mkdtemp()))
    for seed in target.seeds:
        (found / sha256(seed).hexdigest()[:12]).write_bytes(seed)

    def one(data: bytes) -> None:
        read_watched(target, data, folder)

    def mutate(data: bytes, most: int, seed: int) -> bytes:
        chance = Random(seed)
        if chance.random() < 0.3:
            return bytes(atheris.Mutate(data, most))
        return spoilt(data, chance, chance.choice(target.seeds))[:most]

    options = {
        "max_total_time": max(1, round(seconds)),
        "timeout": HANG_S,
        "rss_limit_mb": MOST_BYTES >> 20,
        "max_len": 20_000,
        "artifact_prefix": f"{found}/failed-",
        "print_final_stats": 1,
    }
    words = [sys.argv[0], *(f"-{key}={value}" for key, value in options.items()), str(found)]
    atheris.Setup(words, one, custom_mutator=mutate)
    atheris.Fuzz()


if __name__ == "__main__":
    main(sys.argv[1], float(sys.argv[2]), Path(sys.argv[3]))
