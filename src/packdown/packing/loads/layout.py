"""Columns of the arrays on which the compiled loops of load spaces work."""

# boxes: a row for each container
LENGTH, WIDTH, HEIGHT, WEIGHT, LIMIT, NEST = range(6)
NUM_BOX = 6

# placed: cuboid, its container, its turn, and the container into which it sinks, or -1
X0, Y0, Z0, X1, Y1, Z1, BOX, TURN, INTO = range(9)
NUM_PLACED = 9

# place: size inside, height that may be filled, payload, weight that may rest on something by its
# own (percent); then the opening: axis, 1 for its high side, low and high ends on the other axes;
# and how many of the cuboids that are taken away are there while the vehicle is open
SIZE_X, SIZE_Y, SIZE_Z, TOP, PAYLOAD, HEAVIER, AXIS, HIGH, U0, U1, V0, V1, FIXED = range(13)
NUM_PLACE = 13

# wish: how a container is to be placed
FREE_TURN = 2
FORWARD, BACKWARD, MIDDLE, LEAVE = range(4)
EITHER, LEFT, RIGHT, UP = range(4)

# path: up to 6 corners on the way in, the last one down into another container
MOST_CORNERS = 6

# what cannot weigh anything down
UNLIMITED = 2**62
