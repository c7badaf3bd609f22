"""A layer of a container seen from above."""

from collections.abc import Collection, Iterable, Sequence

from packdown.geometry import Cuboid, Direction
from packdown.model import PackedContainer, Placement
from packdown.report.creases import creases
from packdown.report.labels import Label, Region, place_labels
from packdown.report.svg import WIDE, Sheet, figure, path, rectangle, segments, text

__all__ = ["layer_from_above"]


def layer_from_above(
    container: PackedContainer,
    layer: int,
    strong: Collection[int] | None = None,
    left_out: Collection[int] = (),
) -> str:
    """Draw one layer: its items strong and numbered, what lies below pale, the walls dashed.

    Parameters
    ----------
    container
        The container with its fill.
    layer
        Layer to show; higher ones are left out.
    strong
        Numbers of the items to be strong, if not all of the layer.
    left_out
        Numbers of items that are not there.
    """
    if strong is None:
        strong = [n for n, p in enumerate(container.fill, 1) if p.layer == layer]
    length, width, _ = container.inner_um
    sheet = Sheet.around([(0, -width), (length, 0)])
    body = [path("wall", rectangle(sheet.at((0, -width)), sheet.at((length, 0))))]
    regions: list[Region] = []
    texts = {}
    for number, placement in enumerate(container.fill, 1):
        if placement.layer <= layer and number not in left_out:
            body += _item(placement, sheet, "n" if number in strong else "o")
            regions += _regions(placement, sheet, number)
            if number in strong:
                texts[number] = str(number)
    labels = place_labels(regions, (WIDE, sheet.height), texts)
    body += [text(label, texts[number]) for number, label in labels.items()]
    body.append(text(Label(WIDE // 2, sheet.height - 36, 2), "front", "cap"))
    title = f"{container.name}, layer {layer} seen from above, front below"
    return figure(title, sheet.height, "".join(body))


def _item(placement: Placement, sheet: Sheet, look: str) -> Iterable[str]:
    """Draw an item: what lies deeper than its top is darker."""
    top = max(cuboid.z1 for cuboid in placement.cuboids_um)
    pairs = list(zip(placement.cuboids_um, creases(placement.cuboids_um), strict=True))
    for is_top, fill in ((False, f"{look}f"), (True, f"{look}t")):
        level = [(c, edges) for c, edges in pairs if (c.z1 == top) is is_top]
        yield path(fill, "".join(_footprint(c, sheet) for c, _ in level))
        yield path(
            f"{look}l",
            segments(
                (_flat(edge.start, sheet), _flat(edge.end, sheet))
                for _, edges in level
                for edge in edges
                if Direction.UP in edge.sides
            ),
        )


def _flat(point: Sequence[int], sheet: Sheet) -> tuple[int, int]:
    return sheet.at((point[0], -point[1]))


def _footprint(cuboid: Cuboid, sheet: Sheet) -> str:
    return rectangle(_flat(cuboid[:2], sheet), _flat(cuboid[3:5], sheet))


def _regions(placement: Placement, sheet: Sheet, number: int) -> Iterable[Region]:
    top = max(cuboid.z1 for cuboid in placement.cuboids_um)
    for cuboid in sorted(placement.cuboids_um, key=lambda c: c.z1):
        (x0, y0), (x1, y1) = _flat(cuboid[:2], sheet), _flat(cuboid[3:5], sheet)
        yield Region(number, int(cuboid.z1 == top), ((x0, y0), (x1, y0), (x1, y1), (x0, y1)))
