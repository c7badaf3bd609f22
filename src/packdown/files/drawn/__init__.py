"""Builds drawn as floor plans in text."""

from packdown.files.drawn.drawing import read_drawn, spots_of
from packdown.files.drawn.notation import Cell, Level, Mark, drawing_text, read_drawing
from packdown.files.drawn.symbols import Symbol, read_symbols

__all__ = [
    "Cell",
    "Level",
    "Mark",
    "Symbol",
    "drawing_text",
    "read_drawing",
    "read_drawn",
    "read_symbols",
    "spots_of",
]
