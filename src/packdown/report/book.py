"""The pack book: one page that shows a whole plan, works offline and prints."""

from base64 import b64encode
from collections.abc import Iterable, Sequence
from hashlib import sha256
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

from packdown.model import Item, ItemKind, PackedContainer, Placement, Plan, PlanBuild, Step
from packdown.report import bound_words, pictures, words
from packdown.report.cautions import cautions, short_cautions
from packdown.report.lookup import Lookup, look_up
from packdown.report.step_words import drawn_words, runs, step_notes
from packdown.report.tones import NUM_TONES, stylesheet, swatch
from packdown.report.weak_words import weak_sentences
from packdown.report.wish_words import wish_sentences
from packdown.units import format_length, format_size, format_weight

__all__ = ["render"]

TEMPLATES = Path(__file__).with_name("templates")
_FROM_KIND = {ItemKind.LOOSE: "loose piece", ItemKind.BAG: "bag"}


def render(plan: Plan, report_ok: bool = True) -> str:  # noqa: FBT001, FBT002 -- fixed interface
    """Return the pack book of a plan as one HTML page.

    The page needs no other file and asks for none; a policy in its head forbids it to. Ticks are
    kept by the browser, apart for every plan; without scripts the page can be read and printed.

    Parameters
    ----------
    plan
        The plan.
    report_ok
        Whether the plan keeps all rules; if not, the page says so at its top.
    """
    lookup = look_up(plan)
    style = (TEMPLATES / "book.css").read_text(encoding="utf-8") + stylesheet()
    script = (TEMPLATES / "book.js").read_text(encoding="utf-8")
    environment = Environment(
        loader=FileSystemLoader(TEMPLATES),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    return environment.get_template("book.html.j2").render(
        plan=plan,
        report_ok=report_ok,
        plan_hash=words.plan_hash(plan),
        proposal=words.PROPOSAL,
        style=Markup(style),  # noqa: S704 -- our own file
        style_hash=_hash(style),
        script=Markup(script),  # noqa: S704 -- our own file
        script_hash=_hash(script),
        swatches=[_svg(swatch(tone)) for tone in range(NUM_TONES)],
        headline=words.headline(lookup),
        bounds_note=bound_words.BOUNDS_NEED_ALL if plan.not_packed else "",
        bounds=bound_words.bounds_sentences(plan),
        cautions=cautions(lookup),
        containers=[_container(lookup, container) for container in lookup.used],
        unused=[container.name for container in plan.containers if not container.fill],
        builds=[_build(lookup, build) for build in plan.builds],
        loose_steps=_steps(lookup, None),
        not_packed=words.left_out(lookup),
        index=_index(lookup),
    )


def _hash(text: str) -> str:
    return "sha256-" + b64encode(sha256(text.encode()).digest()).decode()


def _svg(drawing: str) -> Markup:
    return Markup(drawing)  # noqa: S704 -- drawn by us; names in it are escaped


def _container(lookup: Lookup, container: PackedContainer) -> dict[str, Any]:
    share = lookup.fill_share(container)
    return {
        "id": container.id,
        "name": container.name,
        "inner": format_size(container.inner_um),
        "lining": words.lining(container.lining),
        "sheet": format_length(container.sheet_um) if container.sheet_um else "",
        "gross": format_weight(lookup.gross_g(container)),
        "percent": round(100 * share),
        "warnings": short_cautions(lookup, container),
        "count": len(container.fill),
        "gist": words.holdings(lookup, container),
        "full": _svg(pictures.container_picture(lookup, container)),
        "layers": [
            {
                "number": drawn.layer,
                "above": _svg(drawn.above),
                "perspective": _svg(drawn.perspective),
                "contents": _contents(lookup, container, drawn.layer),
            }
            for drawn in pictures.layer_pictures(container)
        ],
    }


def _contents(lookup: Lookup, container: PackedContainer, layer: int) -> list[dict[str, Any]]:
    return [
        {
            "number": number,
            "id": placement.item,
            "name": lookup.items[placement.item].name,
            "lying": _lying(lookup, placement),
            "origin": _origin(lookup, lookup.items[placement.item]),
            "tone": _tone(lookup, placement.item),
        }
        for number, placement in enumerate(container.fill, 1)
        if placement.layer == layer
    ]


def _lying(lookup: Lookup, placement: Placement) -> str:
    is_bag = lookup.items[placement.item].kind is ItemKind.BAG
    return "" if is_bag else words.lying(placement.way_up, placement.turn)


def _origin(lookup: Lookup, item: Item) -> str:
    parts = lookup.parts_within(item.build, item.pieces)
    if not parts:
        keys = f", {words.counted(item.keys, 'key')}" if item.keys else ""
        return _FROM_KIND.get(item.kind, "") + keys
    build = lookup.builds[item.build or ""]
    return f"{build.name}, part {runs(parts)} of {len(build.sub_assemblies)}"


def _tone(lookup: Lookup, item_id: str) -> int:
    return pictures.container_tones(lookup).get(lookup.items[item_id].build or "", 0)


def _build(lookup: Lookup, build: PlanBuild) -> dict[str, Any]:
    tones = pictures.build_tones(build)
    return {
        "id": build.id,
        "name": build.name,
        "minutes": words.build_minutes(lookup.plan, build),
        "split": words.split_words(build),
        "freed": words.keys_freed(build),
        "bound": bound_words.build_bound(build),
        "wishes": [told for owner, told in wish_sentences(lookup.plan) if owner == build.id],
        "weak": [
            f"{what} {sentence}"
            for owner, what, sentence in weak_sentences(lookup.plan)
            if owner == build.id
        ],
        "pictures": [_svg(drawn) for drawn in pictures.build_pictures(lookup, build)],
        "parts": [
            _part(lookup, number, pieces, tone)
            for number, (pieces, tone) in enumerate(
                zip(build.sub_assemblies, tones, strict=True), 1
            )
        ],
        "steps": _steps(lookup, build.id),
    }


def _part(lookup: Lookup, number: int, pieces: Sequence[str], tone: int) -> dict[str, Any]:
    return {
        "number": number,
        "tone": tone % NUM_TONES,
        "pieces": words.counted(len(pieces), "piece"),
        "what": words.piece_names(lookup, pieces),
        "place": _place(lookup, pieces[0]),
    }


def _place(lookup: Lookup, piece: str) -> dict[str, Any] | None:
    item = lookup.item_of_piece.get(piece)
    place = lookup.places.get(item.id) if item else None
    if place is None:
        return None
    return {"id": place.container.id, "name": place.container.name, "number": place.number}


def _steps(lookup: Lookup, build: str | None) -> list[dict[str, Any]]:
    both = (("Take down", lookup.plan.steps.take_down), ("Rebuild", lookup.plan.steps.rebuild))
    return [
        {"title": title, "steps": [_step(lookup, step) for step in steps if step.build == build]}
        for title, steps in both
    ]


def _step(lookup: Lookup, step: Step) -> dict[str, Any]:
    drawn = drawn_words(lookup, step)
    notes = step_notes(lookup, step)
    return {"n": step.n, "text": step.text, "notes": (drawn, *notes) if drawn else notes}


def _index(lookup: Lookup) -> Iterable[dict[str, Any]]:
    """Return every piece, sorted by its name and id."""
    for piece in sorted(lookup.plan.pieces, key=lambda piece: (piece.name, piece.id)):
        yield {
            "id": piece.id,
            "name": piece.name,
            "holds": ", ".join(f"{number} x {part}" for part, number in piece.contains),
            "place": _place(lookup, piece.id),
        }
