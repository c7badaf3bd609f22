"""Plans to be stowed: cubes of 20 mm in rows of four, two rows a layer."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from packdown.model import NotPacked, Piece, Plan
from packdown.store.plan_rows import Catalogue
from support.making import container, loose, mm, piece, place
from support.plans import plan_of_pieces

CATALOGUE = Catalogue(
    part_names={"crate": "Crate", "tile": "Floor tile"},
    part_tags={"crate": ("goods",), "tile": ("floor", "Grey")},
    build_tags={"mill": ("water",)},
)


def cube(name: str) -> Piece:
    """A cube; ``crate#2`` is loose and of the part crate, ``mill/wall`` belongs to the mill."""
    build, slash, own = name.partition("/")
    part = own if slash else name.partition("#")[0]
    made = piece(name, 10, mm(0, 0, 0, 20, 20, 20), build=build if slash else None)
    return replace(made, part=part, name=part.capitalize())


def stowing_plan(contents: Mapping[str, Sequence[str]], left: Sequence[str] = ()) -> Plan:
    """Return a plan that keeps every rule.

    Parameters
    ----------
    contents
        Names of the cubes in each container, in loading order.
    left
        Cubes that are not packed.
    """
    boxes = [
        container(
            name,
            (120, 60, 20 * (1 + len(cubes) // 8)),
            *(
                place(
                    loose(cube(one)),
                    (2 + index % 4 * 25, 2 + index // 4 % 2 * 25, index // 8 * 20),
                    layer=1 + index // 8,
                )
                for index, one in enumerate(cubes)
            ),
        )
        for name, cubes in contents.items()
    ]
    names = [*(one for cubes in contents.values() for one in cubes), *left]
    plan = plan_of_pieces(tuple(cube(name) for name in names), tuple(boxes))
    return replace(
        plan,
        workspace="cubes",
        builds=tuple({build.id: build for build in plan.builds}.values()),
        not_packed=tuple(NotPacked(item=name, reason="left at home") for name in left),
    )
