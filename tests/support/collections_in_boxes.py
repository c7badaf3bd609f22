"""Large invented collections in containers, and queries as hasty people type them."""

import random
from collections.abc import Iterator, Sequence
from dataclasses import replace

from packdown.geometry import Cuboid
from packdown.model import PackedContainer, Piece, Plan
from packdown.store.plan_rows import Catalogue
from support.making import container, loose, mm, place
from support.plans import plan_of_pieces

KINDS = (
    "wall", "floor", "stairs", "roof", "pillar", "arch", "bridge deck", "railing", "gate",
    "chimney", "doorway", "jetty", "crane", "barrel", "crate", "well", "cart", "statue",
    "lantern", "fence", "buttress", "balcony", "hearth", "ladder", "trough", "bollard",
    "culvert", "kiln", "parapet", "turret",
)  # fmt: skip
STUFFS = (
    "stone", "timber", "brick", "slate", "mossy", "ruined", "painted", "plain", "thatched", "iron",
    "sandstone", "whitewashed",
)  # fmt: skip
ENDS = ("", ", left", ", right", " with window", ", corner", ", half", ", 2 x 2", ", 4 x 2")
PLACES = (
    "Harbour", "Mill", "Chapel", "Foundry", "Market", "Granary", "Watchtower", "Ferry house",
    "Quarry", "Monastery", "Brewery", "Lighthouse", "Ropewalk", "Tannery", "Observatory",
)  # fmt: skip
ERAS = ("old", "upper", "lower", "burnt")
LETTERS = "abcdefghijklmnopqrstuvwxyz"


def part_names(number: int, rng: random.Random) -> list[str]:
    """Return so many different names of parts."""
    every = [f"{s} {k}{e}".capitalize() for s in STUFFS for k in KINDS for e in ENDS]
    return rng.sample(every, number)


def collection(
    num_pieces: int, num_boxes: int, num_parts: int, seed: int = 0
) -> tuple[Plan, Catalogue, list[str]]:
    """Return a plan of a collection, what its workspace would say, and the names of its parts.

    Every part has a piece; two in five pieces belong to one of some builds.
    """
    rng = random.Random(seed)
    names = part_names(num_parts, rng)
    builds = [f"{place} ({era})" for place in PLACES for era in ERAS]
    pieces = []
    for number in range(num_pieces):
        part = number if number < num_parts else rng.randrange(num_parts)
        build = rng.randrange(len(builds)) if rng.random() < 0.4 else None
        own = f"p{part}#{number}" if build is None else f"b{build}/n{number}"
        pieces.append(_cube(own, f"p{part}", names[part], None if build is None else f"b{build}"))
    per_box = -(-num_pieces // num_boxes)
    rng.shuffle(pieces)
    boxes = [
        _box(f"box-{number}", pieces[start : start + per_box])
        for number, start in enumerate(range(0, num_pieces, per_box), 1)
    ]
    plan = plan_of_pieces(tuple(pieces), tuple(boxes))
    once = {build.id: build for build in plan.builds}
    plan = replace(
        plan,
        builds=tuple(
            replace(build, name=builds[int(one[1:])]) for one, build in sorted(once.items())
        ),
    )
    tags = {
        f"p{n}": (name.split()[0].casefold(), f"shelf {n % 20}") for n, name in enumerate(names)
    }
    return plan, Catalogue(part_tags=tags), names


def _cube(own: str, part: str, name: str, build: str | None) -> Piece:
    solid = (Cuboid(*mm(0, 0, 0, 20, 20, 20)),)
    return Piece(
        id=own, part=part, name=name, build=build, weight_g=10, cuboids_um=solid, core_um=solid
    )


def _box(name: str, pieces: Sequence[Piece]) -> PackedContainer:
    made = container(
        name,
        (220, 120, 20 * (1 + len(pieces) // 32)),
        *(
            place(
                replace(loose(one), name=one.name),
                (2 + index % 8 * 25, 2 + index // 8 % 4 * 25, index // 32 * 20),
                layer=1 + index // 32,
            )
            for index, one in enumerate(pieces)
        ),
    )
    return replace(made, name=f"Box {name.partition('-')[2]}")


def misspelt(names: Sequence[str], number: int, seed: int = 1) -> Iterator[tuple[str, str]]:
    """Yield names with one or two typing errors, each with the name that was meant.

    An error is a letter too many, too few, another one, or two neighbours exchanged. Numbers are
    typed as they are: with another one, something else is meant.
    """
    rng = random.Random(seed)
    for _ in range(number):
        name = rng.choice(names)
        typed = name.casefold()
        for _ in range(rng.choice((1, 2))):
            typed = _edited(typed, rng)
        yield typed, name


def _edited(text: str, rng: random.Random) -> str:
    while True:
        at = rng.randrange(len(text))
        if text[at].isalpha():
            break
    kind = rng.randrange(4)
    if kind == 0:
        return text[:at] + text[at + 1 :]
    if kind == 1:
        return text[:at] + rng.choice(LETTERS) + text[at:]
    if kind == 2:
        return text[:at] + rng.choice(LETTERS.replace(text[at], "")) + text[at + 1 :]
    if at + 1 < len(text) and text[at + 1].isalpha() and text[at] != text[at + 1]:
        return text[:at] + text[at + 1] + text[at] + text[at + 2 :]
    return _edited(text, rng)
