"""Pages to print: labels on sheets of labels, packing lists, and the pack book."""

from packdown.report.printing.book import print_book
from packdown.report.printing.packing_list import print_lists
from packdown.report.printing.sheets import Printed, print_labels

__all__ = ["Printed", "print_book", "print_labels", "print_lists"]
