"""Which handling marks a container bears: after ISO 780, as far as the plan knows."""

from dataclasses import dataclass
from enum import StrEnum

from packdown.model import Item, PackedContainer
from packdown.report.lookup import Lookup

__all__ = ["Mark", "MarkKind", "handling_marks"]


class MarkKind(StrEnum):
    """What a mark tells those who handle a container."""

    THIS_WAY_UP = "this way up"
    FRAGILE = "fragile"
    KEEP_DRY = "keep dry"
    CENTRE = "centre of gravity"
    STACK_MASS = "stacking limit by mass"
    STACK_NUMBER = "stacking limit by number"
    DO_NOT_STACK = "do not stack"


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """One mark of one container.

    Parameters
    ----------
    kind
        What it tells.
    figure
        What stands in it, such as ``9 kg``; empty for most.
    """

    kind: MarkKind
    figure: str = ""

    @property
    def caption(self) -> str:
        """What to print below it; figures stand in the mark."""
        kind = self.kind
        if kind is MarkKind.STACK_MASS:
            return "at most on top"
        if kind is MarkKind.STACK_NUMBER:
            return "at most on top, alike"
        return str(kind)


def handling_marks(lookup: Lookup, container: PackedContainer) -> tuple[Mark, ...]:
    """Return the marks of a packed container, most important first.

    Every container is packed from the top and holds only as it stands, so each is marked with its
    way up; paint, card and glue want it dry (common practice, no source). It is fragile where
    something in it may bear nothing. Stacking is limited where its stack limit is known.
    """
    marks = [Mark(kind=MarkKind.THIS_WAY_UP)]
    if any(_is_fragile(lookup.items[placement.item]) for placement in container.fill):
        marks.append(Mark(kind=MarkKind.FRAGILE))
    if container.stack_limit_g is not None:
        marks.append(_stack_mass(container.stack_limit_g))
    marks.append(Mark(kind=MarkKind.KEEP_DRY))
    number = _stack_number(lookup, container)
    if number:
        marks.append(Mark(kind=MarkKind.STACK_NUMBER, figure=str(number)))
    return tuple(marks)


def _is_fragile(item: Item) -> bool:
    return bool(item.tender) or item.carry_limit_g == 0


def _stack_mass(limit_g: int) -> Mark:
    if not limit_g:
        return Mark(kind=MarkKind.DO_NOT_STACK)
    return Mark(kind=MarkKind.STACK_MASS, figure=_at_most(limit_g))


def _at_most(limit_g: int) -> str:
    """Show a limit in few signs, and never more than it is.

    >>> _at_most(850), _at_most(9_000), _at_most(9_999), _at_most(14_990)
    ('850 g', '9 kg', '9.9 kg', '14 kg')
    """
    kilograms, rest = divmod(limit_g, 1_000)
    if not kilograms:
        return f"{limit_g} g"
    tenths = rest // 100 if kilograms < 10 else 0
    return f"{kilograms}.{tenths} kg" if tenths else f"{kilograms} kg"


def _stack_number(lookup: Lookup, container: PackedContainer) -> int:
    """Return how many of the plan's containers of the same type may stand on one; 0 if unknown."""
    alike = [lookup.gross_g(other) for other in lookup.used if other.type == container.type]
    if container.stack_limit_g is None or len(alike) < 2:
        return 0
    return container.stack_limit_g // max(alike)
