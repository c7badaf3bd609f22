"""The front door for programs: load, plan, verify, save, stow and find.

Everything heavy is loaded by the function that needs it, so that importing this costs nothing.
"""

import os
import time
from collections.abc import Collection
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from packdown.files import Advice
    from packdown.model import Plan, Prefer, Workspace
    from packdown.store.records import Found
    from packdown.verify import Report

__all__ = [
    "advise",
    "find_pieces",
    "load_plan",
    "load_workspace",
    "make_plan",
    "save_plan",
    "stow_plan",
    "verify_plan",
]

AnyPath = str | os.PathLike[str]


def load_workspace(folder: AnyPath) -> "Workspace":
    """Read the folder of text files that describes a collection.

    Parameters
    ----------
    folder
        The folder, as ``packdown new`` makes one.

    Raises
    ------
    packdown.InputError
        With every problem of every file.

    Examples
    --------
    >>> workspace = load_workspace("yard")
    >>> [build.name for build in workspace.builds]
    ['Mould loft']
    """
    from packdown.files import read_workspace

    return read_workspace(Path(folder))


def advise(folder: AnyPath) -> "tuple[Advice, ...]":
    """Say what in the builds of a workspace can be read, but is hardly meant.

    Parameters
    ----------
    folder
        The folder of the workspace.

    Raises
    ------
    packdown.InputError
        If there is anything wrong in it.

    Examples
    --------
    >>> advise("yard")
    ()
    """
    from packdown.files import read_advice

    return read_advice(Path(folder), load_workspace(folder))


def make_plan(
    workspace: "Workspace",
    *,
    effort: int | None = None,
    seconds: float | None = None,
    seed: int = 0,
    prefer: "Prefer | None" = None,
    containers: Collection[str] | None = None,
) -> "Plan":
    """Choose which joints to split, and pack everything; the plan has passed every rule.

    Parameters
    ----------
    workspace
        The collection.
    effort
        How many partitions to try; the default of the command line if neither this nor `seconds`
        is given. The same workspace, effort and seed give the same plan.
    seconds
        When to stop searching; the plan follows shortly after.
    seed
        Seed of all random choices.
    prefer
        What to spare first, if not what the workspace says.
    containers
        Ids of the containers to use; all if None.

    Raises
    ------
    packdown.UsageError
        If a container is unknown.
    RuntimeError
        If the plan breaks a rule, which is a fault of Packdown.

    Examples
    --------
    >>> plan = make_plan(load_workspace("yard"), effort=1)
    >>> plan.objective.containers, plan.not_packed
    (1, ())
    >>> save_plan(plan, "yard/plan.json")
    """
    from packdown.planning import DEFAULT_EFFORT, plan_workspace

    end = None if seconds is None else time.monotonic() + seconds
    plan = plan_workspace(
        workspace,
        effort=None if end is not None and effort is None else effort or DEFAULT_EFFORT,
        seed=seed,
        prefer=prefer,
        containers=containers,
        stop=None if end is None else lambda: time.monotonic() >= end,
    )
    report = verify_plan(plan)
    if not report.ok:
        raise RuntimeError(f"the plan breaks rules of its own: {report.violations}")
    return plan


def verify_plan(plan: "Plan") -> "Report":
    """Check every rule of a plan from the plan alone.

    Returns
    -------
    packdown.verify.Report
        ``ok``, and every rule that is broken with what breaks it.

    Examples
    --------
    >>> verify_plan(load_plan("yard/plan.json")).ok
    True
    """
    from packdown.verify import verify

    return verify(plan)


def load_plan(path: AnyPath) -> "Plan":
    """Read a plan file.

    Raises
    ------
    packdown.InputError
        If it is no plan.

    Examples
    --------
    >>> len(load_plan("yard/plan.json").pieces)
    40
    """
    from packdown.files import read_plan

    return read_plan(Path(path))


def save_plan(plan: "Plan", path: AnyPath) -> None:
    """Write a plan file in one step: a reader finds the old one or the new one, whole.

    Raises
    ------
    packdown.UsageError
        If it cannot be written.

    Examples
    --------
    >>> save_plan(load_plan("yard/plan.json"), "yard/copy.json")
    >>> load_plan("yard/copy.json") == load_plan("yard/plan.json")
    True
    """
    from packdown.files import write_plan

    write_plan(plan, Path(path))


def stow_plan(plan: "Plan", store: AnyPath) -> int:
    """Record in the store that a plan was carried out.

    Parameters
    ----------
    plan
        The plan; it must keep every rule.
    store
        The folder of a workspace, a file, or the address of a database.

    Returns
    -------
    int
        Number of the change, by which it can be undone.

    Raises
    ------
    ValueError
        If the plan breaks a rule.
    packdown.StoreError
        If the store cannot be written; it holds what it held before.

    Examples
    --------
    >>> stow_plan(load_plan("yard/plan.json"), "yard")
    1
    """
    from packdown.files import plan_json
    from packdown.store.connection import Store
    from packdown.store.location import store_url
    from packdown.store.stowing import stow

    if not verify_plan(plan).ok:
        raise ValueError("the plan breaks rules: see what verify_plan says of it")
    return stow(Store(store_url(os.fspath(store), Path())), plan, plan_json(plan)).after_change + 1


def find_pieces(words: str, store: AnyPath) -> "Found":
    """Say where something is; typing errors are forgiven.

    Parameters
    ----------
    words
        A part, build, container, event or tag.
    store
        The folder of a workspace, a file, or the address of a database.

    Raises
    ------
    packdown.StoreError
        If the store cannot be read.

    Examples
    --------
    >>> hit = find_pieces("mold loft", "yard").hits[0]
    >>> hit.name, hit.number
    ('Mould loft', 40)
    """
    from packdown.store.connection import Store
    from packdown.store.finding import find
    from packdown.store.location import store_url

    with Store(store_url(os.fspath(store), Path())).reading() as rows:
        return find(rows, words)
