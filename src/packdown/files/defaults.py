"""The program's own defaults, from the files it ships with."""

from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

from packdown.data import data_folder
from packdown.errors import InputError, Problem
from packdown.files.load_spaces import SpaceDefaults, read_space_defaults
from packdown.files.place import Place
from packdown.files.settings import (
    OPENABLE,
    read_bends,
    read_clearance,
    read_factors,
    read_holds,
    read_lifting,
    read_magnet,
    read_rules,
)
from packdown.files.table import Table, read_toml
from packdown.files.values import choice, length, list_of, number, text, weight, whole
from packdown.model import BagSize, Effort, JointKind, Lifting, Magnet, Settings
from packdown.units import Rounding

__all__ = ["Defaults", "read_defaults"]

MS_BY_TMU = 36


@dataclass(frozen=True, slots=True, kw_only=True)
class Defaults:
    """What holds where a workspace says nothing.

    Parameters
    ----------
    settings
        Rules, strength of joints, effort and bags.
    clearance_um
        Distance that containers keep.
    shock_factors
        How many times its weight a joint must hold, by the name of the journey.
    lift_source
        The publication behind the figures for lifting.
    spaces
        What holds for a load space or a flight that says nothing else.
    """

    settings: Settings
    clearance_um: int
    shock_factors: dict[str, int]
    lift_source: str
    spaces: SpaceDefaults


@cache
def read_defaults() -> Defaults:
    """Read the defaults of every workspace.

    Raises
    ------
    InputError
        If the program's own files were changed so that they cannot be used.
    """
    found: list[Problem] = []
    folder = data_folder("shared")
    effort = _effort(_open(folder / "effort.toml", found))
    limits = _open(folder / "limits.toml", found)
    shock = {
        str(key): limits.table("shock").need(key, whole(1, 100)) for key in ("transport", "shelf")
    }
    balanced = limits.table("balanced")
    rules, lifting = limits.table("rules"), limits.table("lifting")
    lift_source = lifting.need("source", text)
    settings = replace(
        read_rules(rules, Settings(effort=effort), shock),
        holds_g=read_holds(limits.table("holds"), {}),
        bends_mnm=read_bends(limits.table("bends"), {}),
        box_worth_s=balanced.need("box_worth_s", whole(0)),
        travel_factor=shock["transport"],
        shelf_factor=shock["shelf"],
        litre_worth_s=balanced.need("litre_worth_s", whole(0)),
        bag=_bag(limits.table("bags")),
        lifting=read_lifting(lifting, Lifting()),
        magnet=read_magnet(limits.table("magnets"), Magnet()),
    )
    loading = limits.table("loading")
    defaults = Defaults(
        settings=settings,
        clearance_um=read_clearance(rules, 0),
        shock_factors=shock,
        lift_source=lift_source,
        spaces=read_space_defaults(loading, limits.table("baggage")),
    )
    for table in (balanced, rules, loading, limits):
        table.done()
    if found:
        raise InputError(found)
    return defaults


def _open(path: Path, found: list[Problem]) -> Table:
    place = Place(path.name, found)
    return read_toml(path, place) or Table({}, place)


def _bag(table: Table) -> BagSize:
    sides = table.need("base", list_of(length(Rounding.UP), 2, 2))
    bag = BagSize(
        fill_percent=table.need("fill_percent", whole(1, 100)),
        base_um=(sides[0], sides[1]) if sides else (1, 1),
        height_um=table.need("height", length(Rounding.UP)),
        carry_g=table.need("carry", weight(Rounding.DOWN, low=0)),
    )
    table.done()
    return bag


def _effort(root: Table) -> Effort:
    """Add up the motions of each piece of work."""
    motions = root.table("motions")
    tmu = {motion: motions.need(motion, number(0, 1_000)) for motion in motions}
    motions.done()
    sums = list_of(choice(tmu), least=1)

    def by_kind(table: Table) -> dict[JointKind, int]:
        times: dict[JointKind, int] = {
            kind: _ms(sum(table.need(str(kind), sums))) for kind in OPENABLE
        }
        table.done()
        return times

    finding, place, in_place = (root.table(key) for key in ("finding", "place", "in-place"))
    seconds = finding.need("seconds", number(0, 600))
    effort = read_factors(
        root.table("factors"),
        Effort(
            split_ms=by_kind(root.table("split")),
            remake_ms=by_kind(root.table("remake")),
            place_ms=_ms(sum(place.need("motions", sums))),
            in_place_ms=_ms(sum(in_place.need("motions", sums))),
        ),
    )
    for table in (finding, place, in_place, root):
        table.done()
    return replace(effort, place_ms=effort.place_ms + round(seconds * 1_000 / effort.usual))


def _ms(tmu: float) -> int:
    return round(tmu * MS_BY_TMU)
