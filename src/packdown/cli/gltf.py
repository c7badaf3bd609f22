"""The command that hands solids to other programs as glTF."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from packdown.cli.app import Output, PlanFile, app, talk
from packdown.errors import UsageError, nearest
from packdown.model import Plan, meant

if TYPE_CHECKING:
    from packdown.model import PackedContainer, PlanBuild, Step

__all__ = ["gltf"]

Which = Annotated[str | None, typer.Option("--container", metavar="ID", help="This container.")]
Build = Annotated[str | None, typer.Option("--build", metavar="ID", help="This build.")]
Layer = Annotated[
    int | None, typer.Option("--layer", min=1, help="Fill the container up to this layer only.")
]
AtStep = Annotated[
    int | None,
    typer.Option("--step", min=1, help="Show the build as this step of rebuilding leaves it."),
]


@app.command()
def gltf(
    plan_file: PlanFile,
    *,
    container: Which = None,
    build: Build = None,
    layer: Layer = None,
    step: AtStep = None,
    output: Output = None,
) -> None:
    """Write a container or a build as glTF 2.0 (.glb), which 3D viewers open."""
    from packdown.files import read_plan, write_bytes

    if (container is None) == (build is None):
        raise UsageError("say which to write", hint="either --container ID or --build ID")
    if (layer and build) or (step and container):
        raise UsageError("--layer goes with --container, --step with --build")
    plan = read_plan(plan_file)
    name = container or build or ""
    target = output or plan_file.with_name(f"{Path(name).name}.glb")
    if target.suffix.lower() != ".glb":
        raise UsageError(f"{target.name}: binary glTF is one .glb file", hint="name it .glb")
    data = _filled(plan, name, layer) if container else _standing(plan, name, step)
    write_bytes(data, target)
    talk().print(f"glTF: {target}, {max(1, round(len(data) / 1_000))} kB", markup=False)


def _filled(plan: Plan, name: str, layer: int | None) -> bytes:
    from packdown.report.gltf import container_glb
    from packdown.report.lookup import look_up

    chosen = _container(plan, name)
    last = max((placement.layer for placement in chosen.fill), default=0)
    if layer is not None and layer > last:
        raise UsageError(f"--layer {layer}: {chosen.name} has {last or 'none'}")
    return container_glb(look_up(plan), chosen, layer)


def _container(plan: Plan, name: str) -> "PackedContainer":
    known = {container.id: container for container in plan.containers}
    own = meant(name, known)
    if own is None:
        raise UsageError(f'the plan has no container "{name}"', hint=nearest(name, known))
    return known[own]


def _standing(plan: Plan, name: str, step: int | None) -> bytes:
    from packdown.report.gltf import build_glb
    from packdown.report.lookup import look_up

    known = {build.id: build for build in plan.builds}
    if name not in known:
        raise UsageError(f'the plan has no build "{name}"', hint=nearest(name, known))
    return build_glb(look_up(plan), known[name], _step(plan, known[name], step))


def _step(plan: Plan, build: "PlanBuild", number: int | None) -> "Step | None":
    """Return a step of rebuilding that joins parts of a build."""
    if number is None:
        return None
    joins = {s.n: s for s in plan.steps.rebuild if s.build == build.id and s.stays}
    if number not in joins:
        told = ", ".join(map(str, joins)) or "none: it stays whole"
        raise UsageError(f"--step {number} joins nothing of {build.name}", hint=f"joining: {told}")
    return joins[number]
