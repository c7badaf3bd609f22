"""What all sections of the page are made with: the plan, and the templates."""

from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

from packdown.model import Choice, Timeline
from packdown.report.lookup import Lookup
from packdown.report.tones import NUM_TONES, swatch

__all__ = ["TEMPLATES", "Sheets", "drawn"]

TEMPLATES = Path(__file__).parent.with_name("templates") / "book"


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheets:
    """What a section is made from.

    Parameters
    ----------
    lookup
        The plan.
    is_sound
        Whether it keeps all rules.
    choices
        What could have been chosen instead.
    can_turn
        Whether the page has a viewer in which things can be turned.
    timelines
        Who does which step when, by the name of the list of steps.
    """

    lookup: Lookup
    is_sound: bool = True
    choices: tuple[Choice, ...] = ()
    can_turn: bool = False
    timelines: tuple[tuple[str, Timeline], ...] = ()

    def fill(self, template: str, **values: object) -> Markup:
        """Fill a template of the book."""
        page = _environment().get_template(f"{template}.html.j2")
        return Markup(page.render(sheets=self, **values))  # noqa: S704 - escapes what it is given


@lru_cache(maxsize=1)
def _environment() -> Environment:
    environment = Environment(
        loader=FileSystemLoader(TEMPLATES),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.globals["swatches"] = [drawn(swatch(tone)) for tone in range(NUM_TONES)]
    return environment


def drawn(drawing: str) -> Markup:
    """Return a drawing for a template."""
    return Markup(drawing)  # noqa: S704 - drawn by us; names in it are escaped
