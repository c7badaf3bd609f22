"""Columns of the flat arrays that the compiled loops of bins share.

Lengths are those of boxes that were grown by the clearance and the sheet, in whole micrometres.
Plain module constants, because compiled code takes nothing else for a constant.
"""

NO_ROOM = -2
"""A work array is too small: the caller enlarges it and calls again."""
POOL = -1
"""The bin of what has no place."""
UNMOVED = -1
"""The way of lying of what still lies where it lay at the start."""

# Inner size and payload of a bin.
LENGTH, WIDTH, HEIGHT, PAYLOAD = range(4)
BIN_COLUMNS = 4

# First way of lying of a box, one past the last, and its weight.
FIRST_LIE, END_LIE, WEIGHT = range(3)
BOX_COLUMNS = 3

# How the space for a box is chosen: far from the far corner, near the near one by random
# weights, with the least gap beside it, or the smallest.
FAR, NEAR, SNUG, SMALL = range(4)
RULES = 4
