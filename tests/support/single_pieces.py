"""Plans in which every piece of one build travels alone, so that rebuilding places each."""

from dataclasses import replace

from packdown.model import Build, Plan, PlanBuild, Steps
from packdown.teardown import number, order_of_work, write_steps
from support.book_plan import book_plan

__all__ = ["in_single_pieces"]


def in_single_pieces(build: Build) -> Plan:
    """Return a plan of one build, with its steps and nothing packed."""
    parts = tuple((piece.id,) for piece in build.pieces)
    down, up = write_steps(build, parts, order_of_work(build, parts), {})
    split = PlanBuild(
        id=build.id,
        name=build.name,
        joints=build.joints,
        sub_assemblies=parts,
        effort_s=0,
        effort_bound_s=0,
        proved=True,
    )
    return replace(
        book_plan(),
        pieces=build.pieces,
        builds=(split,),
        items=(),
        containers=(),
        not_packed=(),
        steps=Steps(take_down=number(down), rebuild=number(up)),
    )
