"""Where the program's own data lies, in a checkout and in an installed package alike."""

from pathlib import Path

__all__ = ["data_folder"]


def data_folder(name: str) -> Path:
    """Return the folder ``containers``, ``shared`` or ``examples``.

    Raises
    ------
    FileNotFoundError
        If the installation is incomplete.
    """
    here = Path(__file__).resolve().parent
    checkout = here.parent.parent
    for root in (here / "resources", checkout):
        folder = root / name
        if folder.is_dir() and (root != checkout or (checkout / "pyproject.toml").is_file()):
            return folder
    raise FileNotFoundError(f"the folder {name!r} of the program is missing: install it again")
