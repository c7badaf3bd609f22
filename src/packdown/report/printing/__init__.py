"""Pages to print: labels on sheets of labels, and packing lists."""

from packdown.report.printing.packing_list import print_lists
from packdown.report.printing.sheets import Printed, print_labels

__all__ = ["Printed", "print_labels", "print_lists"]
