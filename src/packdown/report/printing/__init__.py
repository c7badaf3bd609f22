"""Pages to print: labels on sheets of labels, and packing lists."""

from packdown.report.printing.sheets import Printed, print_labels

__all__ = ["Printed", "print_labels"]
