"""Better sets from good ones: units join, leave or change places as long as that pays."""

from collections.abc import Sequence

from packdown.teardown.frontier import SCALE
from packdown.teardown.graph import bits
from packdown.teardown.units import Units

__all__ = ["Climber"]


class Climber:
    """Improves sets of units at some prices.

    Parameters
    ----------
    units
        The units of a build.
    prices
        What each is worth.
    """

    def __init__(self, units: Units, prices: Sequence[int]) -> None:
        self.units, self.prices = units, prices
        self.near: list[dict[int, int]] = [{} for _ in range(units.count)]
        for (a, b), effort in units.efforts.items():
            self.near[a][b] = self.near[b][a] = SCALE * effort

    def climbed(self, mask: int, window: int, payload_g: int) -> int:
        """Return a set that no single change makes worth more, without leaving the window.

        Keys in its joints are left out of its weight, so it may be a little too heavy.
        """
        weights = self.units.weights
        load = sum(weights[unit] for unit in bits(mask))
        while True:
            near = self.units.beside(mask) & window
            joins = {unit: self._gain(unit, mask) for unit in bits(near)}
            leaves = {unit: -self._gain(unit, mask) for unit in bits(mask)}
            best, change = 0, 0
            for unit, gain in joins.items():
                if gain > best and load + weights[unit] <= payload_g:
                    best, change = gain, 1 << unit
            for unit, gain in leaves.items():
                if gain > best:
                    best, change = gain, 1 << unit
            if not change:
                change = self._exchange(joins, leaves, payload_g - load)
            if not change:
                return mask
            load += sum(weights[u] * (-1 if mask >> u & 1 else 1) for u in bits(change))
            mask ^= change

    def _gain(self, unit: int, mask: int) -> int:
        """Return what a set is worth more with a unit than without."""
        return self.prices[unit] + sum(
            effort if mask >> other & 1 else -effort for other, effort in self.near[unit].items()
        )

    def _exchange(self, joins: dict[int, int], leaves: dict[int, int], room_g: int) -> int:
        """Return the two units of the exchange that pays most; 0 if none does."""
        weights = self.units.weights
        best, change = 0, 0
        for a, gain in joins.items():
            for b, loss in leaves.items():
                if gain + loss > best and weights[a] - weights[b] <= room_g:
                    pays = gain + loss - 2 * self.near[a].get(b, 0)
                    if pays > best:
                        best, change = pays, 1 << a | 1 << b
        return change
