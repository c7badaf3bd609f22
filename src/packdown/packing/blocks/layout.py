"""Columns of the flat arrays that the compiled loops of the block engine share.

Lengths are those of boxes that were grown by the clearance and the sheet, in whole micrometres.
Plain module constants, because compiled code takes nothing else for a constant.
"""

NO_ROOM = -2
"""A work array is too small: the caller enlarges it and calls again."""

# The task: inner size, least support in per cent (0: a block may float, 100: spaces are supported
# all over), whether a block may lie across neighbours of equal height, the unit of reaches, and the
# sides below which a space is not kept.
LENGTH, WIDTH, HEIGHT, SUPPORT, ACROSS, UNIT, LEAST_X, LEAST_Y, LEAST_Z = range(9)
TASK_COLUMNS = 9

# One way a kind of box may lie.
LIE_KIND, LIE_LENGTH, LIE_WIDTH, LIE_HEIGHT = range(4)
LIE_COLUMNS = 4

# A side of a kind of box along an axis, in units of reaches.
SIDE_AXIS, SIDE_KIND, SIDE_UNITS = range(3)
SIDE_COLUMNS = 3

# A block: its size, the rectangle of its top on which others may lie, volume and number of boxes.
SIZE_X, SIZE_Y, SIZE_Z, TOP_X0, TOP_Y0, TOP_X1, TOP_Y1, VOLUME, BOXES = range(9)
BLOCK_COLUMNS = 9

# What a block is made of: two blocks and where the second begins; or, with -1 - the way of lying
# for the first, copies along x, y and z.
FIRST, SECOND, SHIFT_X, SHIFT_Y, SHIFT_Z = range(5)
PART_COLUMNS = 5

# How many boxes of a kind a block needs.
NEED_KIND, NEED_COUNT = range(2)
NEED_COLUMNS = 2

# Cuboids: free spaces, and the place of a block, followed by the top on which others may lie.
X0, Y0, Z0, X1, Y1, Z1 = range(6)
SPACE_COLUMNS = 6
ON_X0, ON_Y0, ON_X1, ON_Y1, PUT_BLOCK = range(6, 11)
PUT_COLUMNS = 11

# In use of the arrays of a scene, and the volume placed.
SPACES, PLACED, FILLED = range(3)
USED_COLUMNS = 3

# Exponents of contact and of what remains reachable; nearness; the highest worth of a block.
CONTACT, REACH, NEAR, LARGEST = range(4)
WEIGHTS = 4
