"""A plan as rows of the store: what is owned, what there is to pack into, what goes where."""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from packdown.geometry import bounds
from packdown.model import Item, PackedContainer, Plan, StepKind, Workspace, short_id
from packdown.store.above import find_above
from packdown.store.journal import Row

__all__ = ["KEY_NAME", "Catalogue", "PlanRows", "catalogue_of", "join_lines", "plan_rows"]

KEY_NAME = "Loose key"


@dataclass(frozen=True, slots=True, kw_only=True)
class Catalogue:
    """What the workspace says of parts and builds beyond a plan, each by id.

    Parameters
    ----------
    part_names
        Names of all parts.
    part_tags, build_tags
        Words to search by.
    """

    part_names: Mapping[str, str] = field(default_factory=dict)
    part_tags: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    build_tags: Mapping[str, tuple[str, ...]] = field(default_factory=dict)


def catalogue_of(workspace: Workspace) -> Catalogue:
    """Return what a workspace says of its parts and builds."""
    return Catalogue(
        part_names={part.id: part.name for part in workspace.parts},
        part_tags={part.id: part.tags for part in workspace.parts},
        build_tags={build.id: build.tags for build in workspace.builds},
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanRows:
    """A plan as rows; names and tags are None where at most the store knows them.

    Parameters
    ----------
    parts, builds, containers, items, pieces, contents
        Rows of these tables; pieces without a place yet.
    places
        Container and number of the item that each packed piece lies in, by piece.
    num_keys
        How many loose keys each build gives, by build.
    """

    parts: tuple[Row, ...]
    builds: tuple[Row, ...]
    containers: tuple[Row, ...]
    items: tuple[Row, ...]
    pieces: tuple[Row, ...]
    contents: tuple[Row, ...]
    places: Mapping[str, tuple[str, int]]
    num_keys: Mapping[str, int]


def plan_rows(plan: Plan, catalogue: Catalogue | None) -> PlanRows:
    """Return the rows that a plan stands for; loose keys in bags become pieces of their own."""
    items = {item.id: item for item in plan.items}
    steps = _unpack_steps(plan)
    kinds = _kinds(plan)
    pieces = [_piece(p.id, kinds[p.id], p.build, p.weight_g) for p in plan.pieces]
    pieces += [
        _piece(key, _key_part(item), item.build, plan.rules.key_weight_g)
        for item in plan.items
        for key in _keys_in(item)
    ]
    places = {
        piece: (container.id, number)
        for container in plan.containers
        for number, placement in enumerate(container.fill, 1)
        for piece in (*items[placement.item].pieces, *_keys_in(items[placement.item]))
    }
    contents = [
        {"piece_id": piece.id, "part_id": part, "count": count}
        for piece in plan.pieces
        for part, count in piece.contains
    ]
    return PlanRows(
        parts=tuple(_parts(plan, kinds, catalogue)),
        builds=tuple(
            {
                "id": build.id,
                "name": build.name,
                "tags": catalogue and join_lines(catalogue.build_tags.get(build.id, ())),
            }
            for build in plan.builds
        ),
        containers=tuple(_container(container) for container in plan.containers),
        items=tuple(
            row for container in plan.containers for row in _items(container, items, steps)
        ),
        pieces=tuple(pieces),
        contents=tuple(contents),
        places=places,
        num_keys={item.build or "": item.keys for item in plan.items if item.keys},
    )


def _parts(plan: Plan, kinds: Mapping[str, str], catalogue: Catalogue | None) -> Iterator[Row]:
    """Yield the parts of all pieces, of loose keys, and of what measured pieces contain."""
    names: dict[str, str | None] = {kinds[piece.id]: piece.name for piece in plan.pieces}
    names |= {_key_part(item): KEY_NAME for item in plan.items if item.keys}
    for part in sorted({part for piece in plan.pieces for part, _ in piece.contains}):
        names.setdefault(part, catalogue.part_names.get(part) if catalogue else None)
    for part, name in names.items():
        tags = catalogue and join_lines(catalogue.part_tags.get(part, ()))
        yield {"id": part, "name": name, "tags": tags}


def join_lines(words: Sequence[str]) -> str:
    """Return words as one text, a line each, as the store keeps them."""
    return "\n".join(words)


def _kinds(plan: Plan) -> dict[str, str]:
    """Return the part of each piece; units of several builds may share an id, but not a name."""
    names: dict[str, set[str]] = defaultdict(set)
    common: dict[str, str] = {}
    for piece in plan.pieces:
        names[piece.part].add(piece.name)
        if piece.build is None:
            common[piece.part] = piece.name
    return {
        piece.id: piece.part
        if len(names[piece.part]) == 1 or piece.name == common.get(piece.part)
        else f"{piece.build}/{piece.part}"
        for piece in plan.pieces
    }


def _keys_in(item: Item) -> Iterator[str]:
    """Yield ids for the loose keys in a bag."""
    return (f"{_key_part(item)}#{number}" for number in range(1, item.keys + 1))


def _key_part(item: Item) -> str:
    """Return the part of the loose keys of a build; no part of a workspace has a colon."""
    return f"key:{item.build}" if item.build else f"key:{item.id}"


def _piece(piece: str, part: str, build: str | None, weight_g: int) -> Row:
    return {
        "id": piece,
        "part_id": part,
        "build_id": build,
        "weight_g": weight_g,
        "condition": "whole",
        "state": "unstowed",
        "container_id": None,
        "item_number": None,
        "event": None,
        "seen_in": None,
        "seen_change": None,
    }


def _container(container: PackedContainer) -> Row:
    length, width, height = container.inner_um
    return {
        "id": container.id,
        "short_id": short_id(container.id),
        "name": container.name,
        "type": container.type,
        "length_um": length,
        "width_um": width,
        "height_um": height,
        "tare_g": container.tare_g,
        "payload_g": container.payload_g,
        "stacked_on": container.stacked_on,
        "plan_id": None,
    }


def _unpack_steps(plan: Plan) -> dict[str, int]:
    """Return the step of rebuilding that takes each item out of its container."""
    by_piece = {
        piece: step.n
        for step in plan.steps.rebuild
        if step.kind is StepKind.UNPACK
        for piece in step.pieces
    }
    by_build = {
        step.build: step.n
        for step in plan.steps.rebuild
        if step.kind is StepKind.UNPACK and step.keys and not step.pieces
    }
    found = {
        item.id: by_piece.get(item.pieces[0]) if item.pieces else by_build.get(item.build)
        for item in plan.items
    }
    return {item: step for item, step in found.items() if step is not None}


def _items(
    container: PackedContainer, items: Mapping[str, Item], steps: Mapping[str, int]
) -> Iterator[Row]:
    above = find_above(container.fill, container.sheet_um)
    for number, (placement, over) in enumerate(zip(container.fill, above, strict=True), 1):
        item = items[placement.item]
        corners = zip(
            ("x0", "y0", "z0", "x1", "y1", "z1"), bounds(placement.cuboids_um), strict=True
        )
        yield {
            "container_id": container.id,
            "number": number,
            "item": item.id,
            "name": item.name,
            "kind": str(item.kind),
            "num_pieces": len(item.pieces) + item.keys,
            "layer": placement.layer,
            "unpack_step": steps.get(item.id),
            **{f"{corner}_um": at for corner, at in corners},
            "on_top": _numbers(over.on_top),
            "lift_first": _numbers(over.lift_first),
        }


def _numbers(numbers: Sequence[int]) -> str:
    return " ".join(str(number) for number in numbers)
