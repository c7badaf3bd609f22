"""How one state of all pieces differs from another, counted: what came from where."""

from collections import Counter, defaultdict
from collections.abc import Collection, Mapping
from dataclasses import dataclass

from packdown.store.journal import Row

__all__ = ["Difference", "differences"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """Pieces of one kind that are somewhere else than before.

    Parameters
    ----------
    what
        Name of the build, of the individual or of the part they belong to.
    in_build
        Whether that is the name of a build.
    number
        How many pieces.
    before, after
        Name of a container, ``out``, ``missing`` or ``not stowed``; ``new`` before for pieces that
        the store did not know.
    """

    what: str
    in_build: bool
    number: int
    before: str
    after: str


_PLACES = {"out": "out", "missing": "missing", "unstowed": "not stowed"}


def differences(
    before: Mapping[str, Row],
    after: Mapping[str, Row],
    individuals: Mapping[str, str],
    names: Mapping[str, Mapping[str, str]],
) -> tuple[Difference, ...]:
    """Compare where all pieces are.

    Parameters
    ----------
    before, after
        Rows of pieces by id.
    individuals
        Names of pieces that are told apart from others of their part.
    names
        Names of ``parts``, ``builds`` and ``containers`` by id.
    """
    flows: Counter[tuple[str, bool, str, str]] = Counter()
    for what, in_build, group in _groups(after, individuals, names):
        was = Counter(_place(before.get(piece), names) for piece in group)
        will = Counter(_place(after[piece], names) for piece in group)
        came, went = will - was, was - will
        for place in came:
            for source in list(went):
                moved = min(came[place], went[source])
                flows[what, in_build, source, place] += moved
                came.subtract({place: moved})
                went.subtract({source: moved})
    return tuple(
        Difference(what=what, in_build=in_build, number=number, before=source, after=place)
        for (what, in_build, source, place), number in sorted(
            flows.items(), key=lambda flow: (flow[0][3], flow[0][2], flow[0][0])
        )
        if number
    )


def _groups(
    rows: Mapping[str, Row],
    individuals: Mapping[str, str],
    names: Mapping[str, Mapping[str, str]],
) -> Collection[tuple[str, bool, list[str]]]:
    """Group pieces that can stand for each other under the name to show."""
    groups: dict[tuple[str, str], tuple[str, bool, list[str]]] = {}
    alike: dict[tuple[str, str], list[str]] = defaultdict(list)
    for piece, row in rows.items():
        part, build = row["part_id"], row["build_id"]
        if piece in individuals:
            key, shown = ("individual", piece), (individuals[piece], False)
        elif build is None:
            key, shown = ("part", part), (names["parts"].get(part, part), False)
        else:
            key, shown = ("piece", piece), (names["builds"].get(build, build), True)
        alike[key].append(piece)
        groups[key] = (*shown, alike[key])
    return groups.values()


def _place(row: Row | None, names: Mapping[str, Mapping[str, str]]) -> str:
    if row is None:
        return "new"
    container = row["container_id"]
    if container is None:
        return _PLACES[row["state"]]
    return names["containers"].get(container, container)
