"""Containers: the catalogue of types, own types, and the containers that are owned."""

from collections.abc import Mapping
from dataclasses import dataclass, fields, replace
from functools import cache
from pathlib import Path

from packdown.data import data_folder
from packdown.errors import InputError, Problem, nearest
from packdown.files.place import Place
from packdown.files.table import Table, read_toml
from packdown.files.values import choice, length, name, size, text, weight
from packdown.geometry import Vector
from packdown.model import Container, Lining
from packdown.units import Rounding, format_size

__all__ = ["read_catalogue", "read_containers"]

FILE = "containers.toml"
OWN_TYPE = "own"
_LININGS = {str(lining): lining for lining in Lining}


@dataclass(frozen=True, slots=True, kw_only=True)
class _Fields:
    """What a type and a container may say; None where it is left open."""

    name: str | None = None
    inner: Vector | None = None
    outer: Vector | None = None
    tare: int | None = None
    payload: int | None = None
    lining: Lining | None = None
    clearance: int | None = None
    sheet: int | None = None
    stack_limit: int | None = None
    nest: int | None = None

    def over(self, base: "_Fields") -> "_Fields":
        """Return these fields, with those of `base` where they are left open."""
        given = {f.name: getattr(self, f.name) for f in fields(self)}
        return replace(base, **{key: value for key, value in given.items() if value is not None})


Types = Mapping[str, _Fields | None]


def _fields(table: Table) -> _Fields:
    return _Fields(
        name=table.find("name", text),
        inner=table.find("inner", size(Rounding.DOWN)),
        outer=table.find("outer", size(Rounding.UP)),
        tare=table.find("tare", weight(low=0)),
        payload=table.find("payload", weight(Rounding.DOWN)),
        lining=table.find("lining", choice(_LININGS)),
        clearance=table.find("clearance", length(Rounding.UP, low=0)),
        sheet=table.find("sheet", length(Rounding.UP, low=0)),
        stack_limit=table.find("stack_limit", weight(Rounding.DOWN, low=0)),
        nest=table.find("nest", length(Rounding.DOWN, low=0)),
    )


def _types(table: Table) -> dict[str, _Fields | None]:
    """Read types by id; None stands for one that cannot be used."""
    types: dict[str, _Fields | None] = {}
    for kind, entry in table.entries():
        found = _fields(entry)
        entry.find("source", text)
        types[kind] = found if entry.done() else None
    return types


@cache
def read_catalogue() -> Types:
    """Read the types of container that come with the program.

    Raises
    ------
    InputError
        If the program's own file was changed so that it cannot be used.
    """
    found: list[Problem] = []
    path = data_folder("containers") / "catalogue.toml"
    root = read_toml(path, Place(path.name, found))
    types: Types = {}
    if root:
        types = _types(root.table("types"))
        root.done()
    if found:
        raise InputError(found)
    return types


def read_containers(
    folder: Path, found: list[Problem], clearance_um: int
) -> dict[str, Container | None]:
    """Read all containers by id; None stands for one that is named but cannot be used."""
    place = Place(FILE, found)
    if not (folder / FILE).exists():
        place.report("is missing", "say there what you pack into")
        return {}
    file = read_toml(folder / FILE, place)
    if file is None:
        return {}
    types = {**read_catalogue(), **_types(file.table("types"))}
    entries = file.table("containers")
    base = _Fields(lining=Lining.NONE, clearance=clearance_um, sheet=0)
    containers = {own: _container(own, entry, types, base) for own, entry in entries.entries()}
    file.done()
    _check_stacks(containers, entries.place)
    return containers


def _container(own: str, table: Table, types: Types, base: _Fields) -> Container | None:
    kind = table.find("type", name)
    known = True
    if kind is not None and kind not in types:
        table.place.at("type").report(f'unknown type "{kind}"', nearest(kind, types))
    elif kind is not None:
        of_type = types[kind]
        known = of_type is not None
        base = of_type.over(base) if of_type else base
    all_fields = _fields(table).over(base)
    stacked_on = table.find("stacked_on", text)
    if not table.done() or not known:
        return None
    return _complete(own, kind or OWN_TYPE, all_fields, stacked_on, table.place)


def _complete(
    own: str, kind: str, given: _Fields, stacked_on: str | None, place: Place
) -> Container | None:
    needed = {key: getattr(given, key) for key in ("inner", "outer", "tare", "payload")}
    for key, value in needed.items():
        if value is None:
            place.at(key).report("is missing", "give it here or name a type that has it")
    if given.inner is None or given.outer is None or given.tare is None or given.payload is None:
        return None
    if any(out < inside for out, inside in zip(given.outer, given.inner, strict=True)):
        place.at("outer").report(
            f"the outside, {format_size(given.outer)}, is smaller than the inside, "
            f"{format_size(given.inner)}"
        )
        return None
    return Container(
        id=own,
        name=given.name or own,
        type=kind,
        inner_um=given.inner,
        outer_um=given.outer,
        tare_g=given.tare,
        payload_g=given.payload,
        lining=given.lining or Lining.NONE,
        clearance_um=given.clearance or 0,
        sheet_um=given.sheet or 0,
        stacked_on=stacked_on,
        stack_limit_g=given.stack_limit,
        nest_um=min(given.nest or 0, given.outer[2] - 1),
    )


def _check_stacks(containers: Mapping[str, Container | None], place: Place) -> None:
    """Report containers that stand on nothing known, or on themselves in the end."""
    below = {own: c.stacked_on for own, c in containers.items() if c and c.stacked_on}
    for own, under in below.items():
        here = place.at(own).at("stacked_on")
        if under not in containers:
            here.report(f'unknown container "{under}"', nearest(under, containers))
            continue
        chain = [own]
        step: str | None = under
        while step is not None and step not in chain:
            chain.append(step)
            step = below.get(step)
        if step == own == min(chain):
            here.report(f"stands on itself: {' on '.join([*chain, own])}")
