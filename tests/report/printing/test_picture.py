"""Drawings on paper: lines and areas of the stylesheet, where the drawing has them."""

import numpy as np
import pytest

from packdown.report.lookup import look_up
from packdown.report.pictures import build_pictures, container_picture, layer_pictures
from packdown.report.printing.canvas import Box, canvas
from packdown.report.printing.look import pen_for
from packdown.report.printing.picture import draw_picture, read_picture
from support.book_plan import book_plan
from support.pages import MM_BY_INCH, Image, boxes_of, opened, text_of

DPI = 127
"""Five pixels a millimetre."""


def _coloured(drawing: str) -> Image:
    """Draw a drawing 160 mm wide, and return the page as rows of red, green and blue."""
    picture = read_picture(drawing)
    with canvas((160, 160 * picture.height / picture.width), "test") as page:
        page.new_page()
        box = Box(0, 0, 160, 160 * picture.height / picture.width)
        draw_picture(page, box, picture)
        sheet = opened(page.finish())[0]
    return np.asarray(sheet.render(scale=DPI / 72).to_pil().convert("RGB"), dtype=np.uint8)


def _svg(body: str) -> str:
    return f'<svg viewBox="0 0 1600 800">{body}</svg>'


def _at(image: Image, x: float, y: float) -> str:
    """Return the colour at a place of the drawing, in its units."""
    red, green, blue = image[round(y / 10 * DPI / MM_BY_INCH), round(x / 10 * DPI / MM_BY_INCH)]
    return f"#{red:02x}{green:02x}{blue:02x}"


def test_areas_have_the_colour_of_their_class_and_later_ones_cover() -> None:
    """Two squares that overlap: a floor by relative steps, a wall by absolute ones."""
    image = _coloured(
        _svg('<path class="wt" d="M100 100l600 0 0 600-600 0z"/>').replace(
            "</svg>", '<path class="ns" d="M400 400H1000V700H400z"/></svg>'
        )
    )
    assert _at(image, 200, 200) == "#f6f1e4"
    assert _at(image, 500, 500) == _at(image, 900, 600) == "#d3c9b2"
    assert _at(image, 1200, 200) == "#ffffff"


def test_lines_are_as_wide_as_their_class_says() -> None:
    """The edge of what is new is 7 units wide, here 0.7 mm; beside it there is nothing."""
    image = _coloured(_svg('<path class="nl" d="M100 400l1400 0"/>'))
    column = image[:, round(80 * DPI / MM_BY_INCH)].sum(axis=1)
    assert (column < 300).sum() == pytest.approx(0.7 * DPI / MM_BY_INCH, abs=1)


def test_halos_lie_under_what_they_surround() -> None:
    """An arrow has a white rim outside and is dark up to its edge."""
    image = _coloured(
        _svg(
            '<path class="nf" d="M0 0H1600V800H0z"/><path class="arrow" d="M400 300H900V500H400z"/>'
        )
    )
    assert _at(image, 405, 400) == _at(image, 650, 400) == "#1c2b2a"
    assert _at(image, 396, 400) == "#ffffff"
    assert _at(image, 380, 400) == "#e9e2d0"


def test_dashes_have_gaps() -> None:
    """The walls of a layer from above are dashed 30 to 14."""
    image = _coloured(_svg('<path class="wall" d="M100 100H1500V700H100z"/>'))
    row = image[round(10 * DPI / MM_BY_INCH), :].sum(axis=1) < 300
    assert 0.4 < row[60:740].mean() < 0.85
    assert pen_for("path", "wall").dash == (30, 14)


@pytest.mark.parametrize(("classes", "size"), [("n0 b", 68), ("n2 b", 44), ("n2 cap", 44)])
def test_letters_have_the_size_of_their_class(classes: str, size: float) -> None:
    """As the stylesheet says, around their place."""
    assert pen_for("text", classes).size == size
    assert pen_for("text", classes).is_middle
    assert pen_for("text", "n2 cap").is_bold is False


def test_a_text_stands_around_its_place() -> None:
    """Its middle is where the drawing puts it, its foot on the line; its halo is not read."""
    picture = read_picture(_svg('<text class="n0" x="800" y="400">88</text>'))
    with canvas((160, 80), "test") as page:
        page.new_page()
        draw_picture(page, Box(0, 0, 160, 80), picture)
        sheet = opened(page.finish())[0]
        box = list(boxes_of(sheet, "text"))[-1]
        assert text_of(sheet).split() == ["88"]
    assert (box.left + box.right) / 2 == pytest.approx(80, abs=0.3)
    assert box.bottom == pytest.approx(40, abs=0.3)


def test_all_drawings_of_a_plan_can_be_printed() -> None:
    """Whatever is drawn for the page of a browser is made of what paper knows."""
    lookup = look_up(book_plan())
    drawings = [container_picture(lookup, container) for container in lookup.used]
    drawings += [
        side for c in lookup.used for d in layer_pictures(c) for side in (d.above, d.perspective)
    ]
    drawings += [drawn for build in lookup.plan.builds for drawn in build_pictures(lookup, build)]
    for drawing in drawings:
        picture = read_picture(drawing)
        assert picture.title
        for part in picture.parts:
            pen = pen_for(part.tag, part.attrib["class"])
            assert pen.fill or pen.stroke


def test_what_cannot_be_drawn_is_refused() -> None:
    """A reference to a symbol elsewhere, or a curve, would leave a gap in silence."""
    with pytest.raises(ValueError, match="paths and texts, not use"):
        read_picture(_svg('<use href="#a"/>'))
    with pytest.raises(ValueError, match="only straight lines"):
        _coloured(_svg('<path class="nf" d="M0 0C1 1 2 2 3 3z"/>'))
