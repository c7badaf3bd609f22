"""The tables for estimates of lifting, from the file that ships with the program."""

from dataclasses import fields
from fractions import Fraction
from functools import cache

from packdown.data import data_folder
from packdown.errors import InputError, Problem
from packdown.files.place import Place
from packdown.files.table import Table, read_toml
from packdown.files.values import list_of, number, text
from packdown.limits.guideline import Filter, Who, Zone
from packdown.limits.lifting import Constants, Coupling, LiftTables, System

__all__ = ["read_filter", "read_lift_tables"]

_FIGURE = number(0.0, 1_000.0)
_TEAMS = {"two": 2, "three": 3}


def read_lift_tables() -> LiftTables:
    """Read constants and tables of the revised lifting equation.

    Raises
    ------
    InputError
        If the program's own file was changed so that it cannot be used.
    """
    return _read()[0]


def read_filter() -> Filter:
    """Read the figures of the filter.

    Raises
    ------
    InputError
        If the program's own file was changed so that it cannot be used.
    """
    return _read()[1]


@cache
def _read() -> tuple[LiftTables, Filter]:
    found: list[Problem] = []
    path = data_folder("shared") / "lifting.toml"
    place = Place(path.name, found)
    root = read_toml(path, place) or Table({}, place)
    tables, table = _equation(root), _filter(root.table("filter"), root.table("team"))
    root.done()
    if found:
        raise InputError(found)
    return tables, table


def _equation(root: Table) -> LiftTables:
    equation, grip = root.table("equation"), root.table("grip")
    frequency, coupling = root.table("frequency"), root.table("coupling")
    equation.need("source", text)
    tables = LiftTables(
        constants={system: _constants(equation.table(str(system))) for system in System},
        asymmetry=equation.need("asymmetry", _FIGURE),
        most_asymmetry=equation.need("most_asymmetry", _FIGURE),
        least_rate=equation.need("least_rate", _FIGURE),
        frequency=frequency.need("rows", list_of(list_of(_FIGURE, 7, 7), least=2)),
        coupling={kind: _pair(coupling, str(kind)) for kind in Coupling},
        most_length=grip.need("most_length", _FIGURE),
        most_height=grip.need("most_height", _FIGURE),
    )
    for table in (equation, grip, frequency, coupling):
        table.done()
    return tables


def _constants(table: Table) -> Constants:
    found = Constants(
        **{field.name: table.need(field.name, _FIGURE) for field in fields(Constants)}
    )
    table.done()
    return found


def _filter(table: Table, team: Table) -> Filter:
    table.need("source", text)
    rate, twist, zones = table.table("rate"), table.table("twist"), table.table("zones")
    weights = {}
    for who in Who:
        own = table.table(str(who))
        weights[who] = {zone: _pair(own, str(zone)) for zone in Zone}
        own.done()
    pairs = list_of(list_of(_FIGURE, 2, 2), least=1)
    found = Filter(
        weights=weights,
        starts={zone: zones.need(str(zone), _FIGURE) for zone in Zone},
        rates=tuple((most, share) for most, share in rate.need("shares", pairs)),
        beyond=rate.need("beyond", _FIGURE),
        twists=tuple((least, share) for least, share in twist.need("shares", pairs)),
        teams={number: Fraction(team.need(word, text)) for word, number in _TEAMS.items()},
    )
    for each in (rate, twist, zones, table, team):
        each.done()
    return found


def _pair(table: Table, key: str) -> tuple[float, float]:
    found = table.need(key, list_of(_FIGURE, 2, 2)) or (0.0, 0.0)
    return found[0], found[1]
