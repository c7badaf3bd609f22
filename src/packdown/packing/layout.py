"""Columns of the flat integer arrays that the compiled loops share.

Lengths are whole micrometres and weights whole grams. Places are those of the lower corner of
an item's bounding box in the container's frame. Plain module constants, because compiled code
takes nothing else for a constant.
"""

NO_ROOM = -2
"""A work array is too small: the caller enlarges it and calls again."""
BROKEN = -3
"""The items that are said to be in place already break a rule."""
FLOOR = -1
"""What carries an item that stands on the floor."""
LAST = 2**62
"""Rank of what need not be at hand early."""

# A container, one number each.
BOX_LENGTH, BOX_WIDTH, BOX_HEIGHT, BOX_CLEARANCE, BOX_SHEET = range(5)
BOX_SUPPORT, BOX_PAYLOAD, BOX_STEEL = range(5, 8)
BOX_COLUMNS = 8

# Items that differ in nothing but their names; a carry limit of -1 is none.
KIND_WEIGHT, KIND_CARRY, KIND_MAGNETS, KIND_RANK, KIND_FIRST, KIND_END, KIND_CLUSTER = range(7)
KIND_COLUMNS = 7

# One way a kind may lie, its lower corner at the origin. The underside is its highest one.
POSE_LENGTH, POSE_WIDTH, POSE_HEIGHT, POSE_FIRST, POSE_END = range(5)
POSE_FIRST_ANCHOR, POSE_END_ANCHOR, POSE_CENTRE_X, POSE_CENTRE_Y = range(5, 9)
POSE_LOWEST_AREA, POSE_UNDERSIDE, POSE_UPRIGHT = range(9, 12)
POSE_COLUMNS = 12

# A cuboid of a pose or of a placed item. Nothing may rest on a tender one; a pillar is one that
# no higher cuboid of its item covers wholly.
X0, Y0, Z0, X1, Y1, Z1, TENDER, PILLAR = range(8)
CUBOID_COLUMNS = 8

# Where an item lies: what a fill takes and gives.
ROW_KIND, ROW_POSE, ROW_X, ROW_Y, ROW_Z = range(5)
ROW_COLUMNS = 5

# A placed item: as above, then its upper corner, its cuboids and its contacts.
PUT_X1, PUT_Y1, PUT_Z1, PUT_FIRST, PUT_END, PUT_FIRST_CONTACT, PUT_END_CONTACT = range(5, 12)
PUT_COLUMNS = 12

# A rectangle in which an item rests on another, or on the floor.
ON, ON_X0, ON_Y0, ON_X1, ON_Y1, ON_AREA = range(6)
CONTACT_COLUMNS = 6

# A free space, open to the top: its rectangle, grown by one clearance, its floor, and how many
# items there were when it came up or its floor last changed.
SPACE_Z, SPACE_BORN = 4, 5
SPACE_COLUMNS = 6

# Rows in use of the arrays of a state, and the weight placed.
ITEMS, PLACED, CONTACTS, SPACES, LOADED = range(5)
USED_COLUMNS = 5

# Weights of the score of a place (less is better), and whether to try every anchor at once.
BOTTOM, TOP, SLACK, REST, CORNER, FOOTPRINT, OF_POSE, DEEP, OF_CORNER = range(9)
WEIGHTS = 9

# What is laid against the corners of free spaces: bounding boxes, cuboids too, or cuboids alone.
SHALLOW, DEEP_TOO, DEEP_ONLY = range(3)
