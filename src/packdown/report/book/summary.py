"""The first page: what goes where, how full and heavy it is, what is split, what it costs."""

from typing import Any

from markupsafe import Markup

from packdown.model import PackedContainer, PlanBuild
from packdown.report import bound_words, words
from packdown.report.book.charts import fills, trade_off
from packdown.report.book.sheets import Sheets
from packdown.report.cautions import cautions, short_cautions
from packdown.report.lift_words import flight_caution
from packdown.report.lookup import Lookup
from packdown.report.weak_words import weak_sentences
from packdown.units import format_weight

__all__ = ["before_you_start", "summary"]


def summary(sheets: Sheets) -> Markup:
    """Return what everybody reads first."""
    lookup, plan = sheets.lookup, sheets.lookup.plan
    return sheets.fill(
        "summary",
        headline=words.headline(lookup),
        not_packed=words.left_out(lookup),
        containers=[_container(lookup, container) for container in lookup.used],
        unused=[container.name for container in plan.containers if not container.fill],
        builds=[_build(lookup, build) for build in plan.builds],
        fills=fills(lookup),
        trade_off=trade_off(plan, sheets.choices),
        bounds_note=bound_words.BOUNDS_NEED_ALL if plan.not_packed else "",
        bounds=bound_words.bounds_sentences(plan),
    )


def before_you_start(sheets: Sheets) -> Markup:
    """Return the cautions."""
    flight = flight_caution(sheets.lookup)
    found = (*cautions(sheets.lookup), *((flight,) if flight else ()))
    return sheets.fill("cautions", cautions=found)


def _container(lookup: Lookup, container: PackedContainer) -> dict[str, Any]:
    return {
        "id": container.id,
        "name": container.name,
        "gist": words.holdings(lookup, container),
        "count": words.counted(len(container.fill), "item"),
        "gross": format_weight(lookup.gross_g(container)),
        "warnings": short_cautions(lookup, container),
    }


def _build(lookup: Lookup, build: PlanBuild) -> dict[str, Any]:
    parts = len(build.sub_assemblies)
    return {
        "id": build.id,
        "name": build.name,
        "what": "Stays whole" if parts == 1 else f"Split {words.split_words(build)}",
        "parts": parts,
        "minutes": words.build_minutes(lookup.plan, build),
        "freed": words.keys_freed(build),
        "bound": bound_words.build_bound(build),
        "weak": [told for owner, what, told in weak_lines(lookup) if owner == build.id],
    }


def weak_lines(lookup: Lookup) -> tuple[tuple[str, str, str], ...]:
    """Return what must not travel as it is: the build, what of it, and the whole sentence."""
    return tuple(
        (owner, what, f"{what} {sentence}") for owner, what, sentence in weak_sentences(lookup.plan)
    )
