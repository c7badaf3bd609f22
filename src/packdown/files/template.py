"""An empty workspace whose commented files explain every field.

In them, lines that begin with ``#`` and one space explain. All other lines that begin with ``#``
are examples: without it they make a workspace that can be planned.
"""

from pathlib import Path

from packdown.errors import UsageError
from packdown.files.atomic import write_text

__all__ = ["new_workspace"]

_TEMPLATE = Path(__file__).resolve().parent / "empty_workspace"


def new_workspace(folder: Path) -> None:
    """Write an empty workspace whose commented files explain themselves.

    Parameters
    ----------
    folder
        It is made if it is not there.

    Raises
    ------
    UsageError
        If there is something in it, or it cannot be made.
    """
    try:
        if folder.exists() and any(folder.iterdir()):
            raise UsageError(f"{folder} is not empty", hint="name a new folder")
        for inside in ("builds", "events"):
            (folder / inside).mkdir(parents=True)
    except OSError as error:
        raise UsageError(f"{folder} cannot be made: {error.strerror or error}") from error
    for source in sorted(path for path in _TEMPLATE.rglob("*") if path.is_file()):
        write_text(source.read_text(encoding="utf-8"), folder / source.relative_to(_TEMPLATE))
