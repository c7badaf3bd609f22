"""A PDF whose pages are also drawn on with operators of their own language."""

from collections.abc import Iterator
from contextlib import contextmanager

from fpdf import FPDF

__all__ = ["Document"]


class Document(FPDF):
    """Pages that can be drawn on with operators."""

    def operate(self, x: float, y: float, scale: float, operators: str) -> None:
        """Draw in a frame with its origin at a place of the page and y downwards."""
        left, top, by = x * self.k, (self.h - y) * self.k, scale * self.k
        self._out(f"q {by:.6f} 0 0 {-by:.6f} {left:.4f} {top:.4f} cm {operators} Q")

    @contextmanager
    def unread(self) -> Iterator[None]:
        """Mark what is drawn as no part of the text (ISO 32000-1:2008, 14.8.2.2)."""
        self._out("/Artifact BMC")
        yield
        self._out("EMC")
