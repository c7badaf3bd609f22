"""Where something was found, as a drawing: one SVG, or a page with drawings and words."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from html import escape

from packdown.model import PackedContainer, Plan
from packdown.report.pictures import marked_pictures
from packdown.report.standalone import svg_file
from packdown.report.tones import stylesheet
from packdown.report.whereabouts import hit_lines
from packdown.store.records import Hit, StowedItem, Whereabouts

__all__ = ["Spot", "found_drawing", "found_page", "spots_of"]

_STYLE = """
body{font-family:"Gill Sans","Trebuchet MS","Noto Sans",sans-serif;margin:1rem auto;max-width:70rem;
padding:0 1rem;color:#1c2b2a;background:#fffdf8}
pre{font:inherit;white-space:pre-wrap}.pair{display:flex;flex-wrap:wrap;gap:1rem}
figure{flex:1 1 20rem;margin:0}figure svg{display:block;width:100%;height:auto}
figcaption{text-align:center;color:#4a5a58}
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """A place to be drawn.

    Parameters
    ----------
    container
        The container as it was packed.
    item
        What is marked.
    gone
        Numbers of items that are no longer there.
    """

    container: PackedContainer
    item: StowedItem
    gone: frozenset[int]


def spots_of(
    places: Sequence[Whereabouts],
    plans: Mapping[str, Plan],
    present: Mapping[str, Mapping[int, str]],
) -> tuple[Spot, ...]:
    """Return the places that can be drawn.

    Parameters
    ----------
    places
        Where something is.
    plans
        The plan that was last stowed in each container, by its id.
    present
        Numbers of the items that are still there, by container.
    """
    spots = []
    for place in places:
        if place.box is None or place.item is None or place.box.id not in plans:
            continue
        container = next(c for c in plans[place.box.id].containers if c.id == place.box.id)
        numbers = range(1, len(container.fill) + 1)
        gone = frozenset(numbers) - present[place.box.id].keys()
        spots.append(Spot(container=container, item=place.item, gone=gone))
    return tuple(spots)


def found_drawing(spot: Spot) -> str:
    """Return one place as an SVG file: the container from above, down to the layer, with marks."""
    return svg_file(_pictures(spot)[:1])


def found_page(hit: Hit, spots: Sequence[Spot]) -> str:
    """Return a hit as a page that needs no other file: words, then each place drawn twice."""
    figures = []
    for spot in spots:
        above, perspective = _pictures(spot)
        name = escape(spot.container.name)
        figures.append(
            f"<h2>{name}, number {spot.item.number}</h2>"
            f'<div class="pair"><figure>{above}<figcaption>from above</figcaption></figure>'
            f"<figure>{perspective}<figcaption>what is lifted out first is left out"
            "</figcaption></figure></div>"
        )
    return (
        '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{escape(hit.name)}</title>\n<style>{_STYLE}{stylesheet()}</style>\n</head>\n"
        f"<body>\n<h1>{escape(hit.name)}</h1>\n<pre>{escape(chr(10).join(hit_lines(hit)))}</pre>\n"
        + "\n".join(figures)
        + "\n</body>\n</html>\n"
    )


def _pictures(spot: Spot) -> tuple[str, str]:
    lifted = {number for number, _ in spot.item.lift_first} | spot.gone
    pictures = marked_pictures(spot.container, spot.item.number, lifted)
    return pictures.above, pictures.perspective
