"""The page: sections in their order, one style, one script, and a policy that allows no other."""

from base64 import b64encode
from collections.abc import Sequence
from hashlib import sha256
from itertools import chain

from markupsafe import Markup

from packdown.model import Choice, Loading, Plan, Timeline
from packdown.report import words
from packdown.report.book.builds import builds
from packdown.report.book.containers import containers, views_of
from packdown.report.book.index import index
from packdown.report.book.loose import loose
from packdown.report.book.sheets import TEMPLATES, Sheets, drawn
from packdown.report.book.summary import before_you_start, summary
from packdown.report.book.timetable import timetable
from packdown.report.book.turning import library, packed, solids
from packdown.report.book.vehicle import vehicle
from packdown.report.lookup import look_up
from packdown.report.tones import stylesheet

__all__ = ["render"]

STYLES = ("page.css", "cards.css", "steps.css", "turning.css", "print.css")
SCRIPTS = ("ticks.js", "steps.js", "find.js")
TURNING = ("turning.js",)


def render(
    plan: Plan,
    report_ok: bool = True,  # noqa: FBT001, FBT002 -- fixed interface
    *,
    choices: Sequence[Choice] = (),
    turning: bool = True,
    loading: Loading | None = None,
    timelines: Sequence[tuple[str, Timeline]] = (),
) -> str:
    """Return the pack book of a plan as one HTML page.

    The page needs no other file and asks for none; a policy in its head forbids it to. Ticks are
    kept by the browser, apart for every plan; without scripts the page can be read and printed.

    Parameters
    ----------
    plan
        The plan.
    report_ok
        Whether the plan keeps all rules; if not, the page says so at its top.
    choices
        Figures of all plans that could have been chosen, this one among them; with two or more
        of them the summary shows what fewer containers cost.
    turning
        Whether containers and builds can be turned in 3D, where the library for it is at hand.
    loading
        How the containers are loaded into a vehicle, if that is to be in the book.
    timelines
        Who does which step when, as (``take_down`` or ``rebuild``, timeline).
    """
    drawing = library() if turning else ""
    sheets = Sheets(
        lookup=look_up(plan),
        is_sound=report_ok,
        choices=tuple(choices),
        can_turn=bool(drawing),
        timelines=tuple(timelines),
    )
    style = _texts(STYLES) + stylesheet()
    script = _script(SCRIPTS + (TURNING if drawing else ()))
    return sheets.fill(
        "page",
        plan=plan,
        plan_hash=words.plan_hash(plan),
        proposal=words.PROPOSAL,
        style=Markup(style),  # noqa: S704 -- our own files
        style_hash=_hash(style),
        script=Markup(script),  # noqa: S704 -- our own files
        script_hashes=[_hash(text) for text in (script, drawing) if text],
        sections=_sections(sheets, loading),
        turning=_turning(sheets, drawing),
    )


def _sections(sheets: Sheets, loading: Loading | None) -> list[Markup]:
    """Return the sections of the page in their order; symbols of drawings come last."""
    views = views_of(sheets.lookup)
    sections = list(
        chain(
            (summary(sheets), before_you_start(sheets)),
            containers(sheets, views),
            builds(sheets, views),
            (vehicle(sheets, loading),) if loading else (),
            (loose(sheets), timetable(sheets), index(sheets)),
        )
    )
    symbols = "".join(own.symbols() for own in views.values())
    return [*sections, sheets.fill("symbols", symbols=drawn(symbols))]


def _turning(sheets: Sheets, drawing: str) -> Markup:
    """Return what turning in 3D needs, packed; nothing without its library."""
    if not drawing:
        return Markup()
    data = solids(sheets.lookup)
    return sheets.fill("turning", library=packed(drawing), solids=packed(data))


def _script(names: Sequence[str]) -> str:
    """Return scripts as one, each in a block, so that none sees the names of another."""
    return '"use strict";\n' + "".join(f"{{\n{_texts([name])}}}\n" for name in names)


def _texts(names: Sequence[str]) -> str:
    return "".join((TEMPLATES / name).read_text(encoding="utf-8") for name in names)


def _hash(text: str) -> str:
    return "sha256-" + b64encode(sha256(text.encode()).digest()).decode()
