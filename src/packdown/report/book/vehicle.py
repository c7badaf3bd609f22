"""The vehicle: a picture of the load, the order of loading, what to strap, and what stays."""

from markupsafe import Markup

from packdown.model import Loading
from packdown.report.book.sheets import Sheets, drawn
from packdown.report.load_pictures import load_picture, load_step_pictures
from packdown.report.load_words import (
    left_lines,
    load_cautions,
    load_headline,
    load_steps,
    securing_lines,
)

__all__ = ["vehicle"]


def vehicle(sheets: Sheets, loading: Loading) -> Markup:
    """Return how the containers are loaded."""
    return sheets.fill(
        "vehicle",
        name=loading.space.name,
        headline=load_headline(loading),
        whole=drawn(load_picture(loading)),
        steps=[
            {"n": n, "text": text, "picture": drawn(picture)}
            for n, (text, picture) in enumerate(
                zip(load_steps(loading), load_step_pictures(loading), strict=True), 1
            )
        ],
        lists=(
            ("Strap or block", securing_lines(loading)),
            ("Stays behind", left_lines(loading)),
        ),
        cautions=load_cautions(loading),
    )
