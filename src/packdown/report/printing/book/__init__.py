"""The pack book on paper."""

from packdown.report.printing.book.document import print_book

__all__ = ["print_book"]
