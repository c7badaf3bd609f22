"""Builds, or what never comes apart of them, that are heavier than any container may hold."""

from collections.abc import Iterator

from packdown.files.advice.advice import Advice, AdviceKind
from packdown.files.place import Place
from packdown.model import Build, Grade
from packdown.units import format_weight

__all__ = ["too_heavy"]


def too_heavy(build: Build, most_g: int, place: Place) -> Iterator[Advice]:
    """Say if a build has to be split for its weight, or cannot be packed at all.

    Parameters
    ----------
    build
        The build.
    most_g
        Most that any container may hold, in grams.
    place
        Where it is described.
    """
    weight_g = sum(piece.weight_g for piece in build.pieces)
    if weight_g <= most_g:
        return
    whole = build.grade is Grade.MEASURED
    least = -(-weight_g // most_g) if most_g else 0
    yield Advice(
        kind=AdviceKind.HEAVY,
        file=place.file,
        entry=place.entry,
        message=f"weighs {format_weight(weight_g)}, and no container may hold more than "
        f"{format_weight(most_g)}",
        hint="as a whole it cannot be packed: describe it in units, or get a stronger container"
        if whole
        else f"it will be split for at least {least} containers; say in keep what must stay whole",
        figures={"weight_g": weight_g, "most_g": most_g},
    )
