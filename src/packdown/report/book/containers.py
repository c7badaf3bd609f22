"""One card for each container: how it fills up, layer by layer."""

from collections.abc import Iterator, Mapping
from typing import Any, NamedTuple

from markupsafe import Markup

from packdown.model import Item, ItemKind, PackedContainer, Placement
from packdown.report import words
from packdown.report.above import Above
from packdown.report.book.sheets import Sheets, drawn
from packdown.report.cautions import short_cautions
from packdown.report.inside import Inside
from packdown.report.lookup import Lookup
from packdown.report.pictures import container_tones, inside_of, layer_title, layers_of
from packdown.report.step_words import runs
from packdown.units import format_length, format_size, format_weight

__all__ = ["Views", "containers", "views_of"]

_FROM_KIND = {ItemKind.LOOSE: "loose piece", ItemKind.BAG: "bag"}


class Views(NamedTuple):
    """What draws one container: in perspective, and from above."""

    inside: Inside
    above: Above

    def symbols(self) -> str:
        """Return the symbols that drawings of the page refer to."""
        return self.inside.symbols() + self.above.symbols()


def views_of(lookup: Lookup) -> dict[str, Views]:
    """Return what draws each used container, by its id; keys are short and unique."""
    return {
        container.id: Views(
            inside_of(lookup, container, f"c{number}"), Above(container, f"a{number}")
        )
        for number, container in enumerate(lookup.used, 1)
    }


def containers(sheets: Sheets, views: Mapping[str, Views]) -> Iterator[Markup]:
    """Yield the card of each container; the symbols of its drawings are left to the page."""
    for container in sheets.lookup.used:
        yield sheets.fill("container", c=_card(sheets.lookup, container, views[container.id]))


def _card(lookup: Lookup, container: PackedContainer, views: Views) -> dict[str, Any]:
    layers = layers_of(container)
    return {
        "id": container.id,
        "name": container.name,
        "inner": format_size(container.inner_um),
        "lining": words.lining(container.lining),
        "sheet": format_length(container.sheet_um) if container.sheet_um else "",
        "gross": format_weight(lookup.gross_g(container)),
        "percent": round(100 * lookup.fill_share(container)),
        "warnings": short_cautions(lookup, container),
        "full": drawn(_full(views.inside)),
        "layers": [
            {
                "number": layer,
                "above": drawn(views.above.layer(layer)),
                "perspective": drawn(_layer(views.inside, layer)) if len(layers) > 1 else "",
                "contents": list(_contents(lookup, container, layer)),
            }
            for layer in layers
        ],
    }


def _full(inside: Inside) -> str:
    container = inside.container
    numbers = range(1, len(container.fill) + 1)
    roles = {number: f"q{inside.tones[number]} q" for number in numbers}
    return inside.shared(roles, numbers, f"{container.name} with all its contents")


def _layer(inside: Inside, layer: int) -> str:
    fill = inside.container.fill
    roles = {
        number: "n" if placement.layer == layer else "o"
        for number, placement in enumerate(fill, 1)
        if placement.layer <= layer
    }
    new = [number for number, role in roles.items() if role == "n"]
    return inside.shared(roles, new, layer_title(inside.container, layer))


def _contents(lookup: Lookup, container: PackedContainer, layer: int) -> Iterator[dict[str, Any]]:
    """Yield what lies in a layer; things that are alike and lie alike are one entry."""
    groups: dict[tuple[Any, ...], list[int]] = {}
    for number, placement in enumerate(container.fill, 1):
        if placement.layer == layer:
            item = lookup.items[placement.item]
            alike = (item.name, _lying(item, placement), _origin(lookup, item), item.build)
            groups.setdefault(alike, []).append(number)
    tones = container_tones(lookup)
    for (name, lying, origin, build), numbers in groups.items():
        yield {
            "key": f"{container.id}/{container.fill[numbers[0] - 1].item}",
            "count": len(numbers),
            "numbers": runs(numbers),
            "name": name,
            "lying": lying,
            "origin": origin,
            "tone": tones.get(build or "", 0),
        }


def _lying(item: Item, placement: Placement) -> str:
    return "" if item.kind is ItemKind.BAG else words.lying(placement.way_up, placement.turn)


def _origin(lookup: Lookup, item: Item) -> str:
    parts = lookup.parts_within(item.build, item.pieces)
    if not parts:
        keys = f", {words.counted(item.keys, 'key')}" if item.keys else ""
        return _FROM_KIND.get(item.kind, "") + keys
    build = lookup.builds[item.build or ""]
    return f"{build.name}, part {runs(parts)} of {len(build.sub_assemblies)}"
