"""A layer of a container seen from above."""

from collections.abc import Collection, Iterable, Mapping, Sequence

from packdown.geometry import Cuboid, Direction
from packdown.model import PackedContainer, Placement
from packdown.report.creases import creases
from packdown.report.labels import Label, Region, place_labels
from packdown.report.svg import WIDE, Sheet, figure, path, rectangle, segments, text

__all__ = ["Above", "layer_from_above"]


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
    above = Above(container)
    roles = {n: role for n, role in above.roles(layer, strong).items() if n not in left_out}
    return above.flat(layer, roles)


class Above:
    """Pictures of the layers of one container, seen from above.

    Parameters
    ----------
    container
        The container with its fill.
    key
        Begins the ids of symbols.
    """

    def __init__(self, container: PackedContainer, key: str = "") -> None:
        self.container, self.key = container, key
        length, width, _ = container.inner_um
        self.sheet = Sheet.around([(0, -width), (length, 0)])
        self.wall = path("wall", rectangle(self.sheet.at((0, -width)), self.sheet.at((length, 0))))
        self._used: set[int] = set()

    def roles(self, layer: int, strong: Collection[int] | None = None) -> dict[int, str]:
        """Return what is seen up to a layer: strong, or pale and below."""
        fill = list(enumerate(self.container.fill, 1))
        if strong is None:
            strong = {n for n, placement in fill if placement.layer == layer}
        return {n: "n" if n in strong else "o" for n, own in fill if own.layer <= layer}

    def flat(self, layer: int, roles: Mapping[int, str]) -> str:
        """Draw some items as a drawing of its own."""
        fill = self.container.fill
        drawn = (_item(fill[n - 1], self.sheet, role) for n, role in roles.items())
        return self._finished(layer, "".join(part for parts in drawn for part in parts), roles)

    def layer(self, layer: int) -> str:
        """Draw a layer by references to symbols."""
        return self.shared(layer, self.roles(layer))

    def loaded(self, numbers: Collection[int]) -> str:
        """Draw a container as it is loaded up to some items, these strong, by references."""
        roles = {n: "n" if n in numbers else "o" for n in range(1, max(numbers) + 1)}
        return self.shared(self.container.fill[max(numbers) - 1].layer, roles)

    def shared(self, layer: int, roles: Mapping[int, str]) -> str:
        """Draw some items in the looks that some classes give, as references to symbols."""
        self._used.update(roles)
        uses = "".join(f'<use class="{role}" href="#{self.key}-{n}"/>' for n, role in roles.items())
        return self._finished(layer, uses, roles)

    def symbols(self) -> str:
        """Return the symbols that shared drawings refer to."""
        fill = self.container.fill
        return "".join(
            f'<g id="{self.key}-{n}">{"".join(_item(fill[n - 1], self.sheet, ""))}</g>'
            for n in sorted(self._used)
        )

    def _finished(self, layer: int, body: str, roles: Mapping[int, str]) -> str:
        regions = [
            region for n in roles for region in _regions(self.container.fill[n - 1], self.sheet, n)
        ]
        texts = {n: str(n) for n, role in roles.items() if role == "n"}
        labels = place_labels(regions, (WIDE, self.sheet.height), texts)
        words = "".join(text(label, texts[number]) for number, label in labels.items())
        words += text(Label(WIDE // 2, self.sheet.height - 36, 2), "front", "cap")
        title = f"{self.container.name}, layer {layer} seen from above, front below"
        return figure(title, self.sheet.height, self.wall + body + words)


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
