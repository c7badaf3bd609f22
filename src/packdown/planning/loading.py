"""Packed containers into a vehicle, and why some of them stay behind."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from random import Random

from packdown import __version__
from packdown.model import Cargo, LeftBehind, Loaded, Loading, LoadRules, LoadSpace
from packdown.packing.loads.search import TRIES, search_load
from packdown.planning.securing import to_secure
from packdown.units import format_length, format_size, format_weight

__all__ = ["DEFAULT_LOAD_EFFORT", "load", "never_fits"]

DEFAULT_LOAD_EFFORT = 8


def load(
    space: LoadSpace,
    cargo: Sequence[Cargo],
    order_of_need: Sequence[str] | None = None,
    *,
    rules: LoadRules | None = None,
    plan: str = "",
    seed: int = 0,
    effort: int = DEFAULT_LOAD_EFFORT,
    stop: Callable[[], bool] = lambda: False,
) -> Loading:
    """Load packed containers, heavy ones low and near the seat back, first needed last.

    Parameters
    ----------
    space
        What they are loaded into.
    cargo
        The containers; their ids are unique. `cargo_of` gives those of a plan.
    order_of_need
        Ids in the order in which they are needed, instead of what the cargo says; what is not
        named is needed last.
    rules
        What the load keeps; the usual rules if None.
    plan
        Name of what is loaded.
    seed, effort
        With the same cargo, space, seed and effort the same load comes out.
    stop
        Asked again and again; when it says yes, the best load so far is returned.

    Returns
    -------
    Loading
        What is loaded, what is left and why, and what to secure.

    Raises
    ------
    ValueError
        If two containers have the same id.
    """
    rules = rules or LoadRules()
    if len({one.id for one in cargo}) < len(cargo):
        raise ValueError("ids of containers must be unique")
    if order_of_need is not None:
        rank = {name: number for number, name in enumerate(order_of_need, 1)}
        cargo = [replace(one, needed=rank.get(one.id)) for one in cargo]
    hopeless = {one.id: reason for one in cargo if (reason := never_fits(space, one))}
    loaded = search_load(
        space,
        [one for one in cargo if one.id not in hopeless],
        rules,
        tries=effort * TRIES,
        draw=Random(seed),
        stop=stop,
    )
    return Loading(
        created_with=__version__,
        plan=plan,
        seed=seed,
        effort=effort,
        space=space,
        rules=rules,
        cargo=tuple(cargo),
        loaded=loaded,
        left=tuple(_left(space, cargo, loaded, hopeless)),
        securing=to_secure(space, rules, cargo, loaded),
    )


def never_fits(space: LoadSpace, one: Cargo) -> str:
    """Return why a container can be nowhere in a load space, even alone; empty if it can."""
    length, width, height = one.size_um
    across, along, top = space.usable_um
    size, most_g = format_size(one.size_um), space.payload_g
    if one.gross_g > most_g:
        return f"weighs {format_weight(one.gross_g)}, the payload is {format_weight(most_g)}"
    if height > top:
        what = "seat back" if top < space.size_um[2] else "roof"
        return f"is {format_length(height)} high, above the {what} at {format_length(top)}"
    turned = [(x, y) for x, y in ((length, width), (width, length)) if x <= across and y <= along]
    if not turned:
        return f"is {size}, larger than the inside of {format_size((across, along, top))}"
    wide, high = space.opening.size_um
    axis = space.opening.side.axis
    through = [[s for k, s in enumerate((x, y, height)) if k != axis] for x, y in turned]
    if not any(w <= wide and h <= high for w, h in through):
        return (
            f"is {size}, and the opening is {format_length(wide)} by {format_length(high)}: "
            "it cannot go in upright"
        )
    return ""


def _left(
    space: LoadSpace, cargo: Sequence[Cargo], loaded: Sequence[Loaded], hopeless: dict[str, str]
) -> Iterator[LeftBehind]:
    inside = {place.container for place in loaded}
    spare_g = space.payload_g - sum(one.gross_g for one in cargo if one.id in inside)
    for one in cargo:
        if one.id in inside:
            continue
        reason = hopeless.get(one.id)
        if reason is None and one.gross_g > spare_g:
            reason = (
                f"weighs {format_weight(one.gross_g)}, and {format_weight(spare_g)} of the "
                "payload is left"
            )
        yield LeftBehind(
            container=one.id,
            reason=reason
            or f"no place was found for its {format_size(one.size_um)} beside the "
            "others, with what each may carry and the order in which they are needed",
        )
