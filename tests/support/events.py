"""Small invented events, by hand and at random."""

import random
from dataclasses import replace

from packdown.model import Build, Event, Limits, Session, Wish, Workspace
from support import small

HOUR = 3_600


def session(name: str, start: int, end: int, *wishes: Wish, day: int = 1) -> Session:
    """Return a session with one table, from one full hour to another."""
    return Session(
        id=name,
        name=name.capitalize(),
        day=day,
        start_s=start * HOUR,
        end_s=end * HOUR,
        tables=1,
        wishes=wishes,
    )


def event(*sessions: Session, **limits: object) -> Event:
    """Return an event."""
    return Event(
        id="fair",
        name="Fair",
        sessions=tuple(sorted(sessions, key=lambda one: one.begins)),
        limits=Limits(**limits),  # type: ignore[arg-type]
    )


def builds() -> tuple[Build, ...]:
    """Return a row, a room, a short row and a small room; they share tiles and walls."""
    return (
        small.row("row", 5),
        small.room("room"),
        small.row("path", 3),
        small.room("cell", 1, 2),
    )


def collection(tiles: int = 11, walls: int = 9) -> Workspace:
    """Return the row as it stands, the others as designs, and loose tiles and walls."""
    standing, *designs = builds()
    crates = [
        small.crate("long", 200, 150, 60),
        small.crate("low", 150, 70, 40),
        small.crate("flat", 150, 70, 40),
    ]
    return replace(
        small.workspace(
            [standing],
            small.loose(small.tile(), tiles - 5) + small.loose(small.wall(), walls),
            crates,
        ),
        designs=tuple(replace(build, stands=False) for build in designs),
        owned=(("tile", tiles), ("wall", walls)),
    )


def random_event(seed: int, *, most: int = 5) -> Event:
    """Return an event of two or three sessions and a few wishes, with limits of every kind."""
    rng = random.Random(seed)
    names = ["row", "path", "cell"]
    left = most
    sessions = []
    for number in range(rng.randint(2, 3)):
        start = rng.randint(9, 16)
        count = min(left, rng.randint(1, 3))
        if not count:
            break
        left -= count
        wishes = [
            Wish(build=name, must=rng.random() < 0.25, worth=rng.randint(1, 6))
            for name in rng.sample(names, count)
        ]
        if rng.random() < 0.3:
            wishes[-1] = Wish(part=rng.choice(("tile", "wall")), count=rng.randint(1, 6), worth=2)
        name, day = f"session{number}", rng.randint(1, 2)
        sessions.append(session(name, start, start + rng.randint(1, 3), *wishes, day=day))
    return event(*sessions, **random_limits(rng))


def random_limits(rng: random.Random) -> dict[str, object]:
    """Return some limits of an event, most of them tight now and then."""
    found: dict[str, object] = {"helpers": rng.randint(1, 3)}
    if rng.random() < 0.6:
        found["containers"] = tuple(sorted(rng.sample(("flat", "long", "low"), rng.randint(1, 2))))
    if rng.random() < 0.3:
        found["most_containers"] = rng.randint(1, 2)
    if rng.random() < 0.4:
        found["weight_g"] = rng.randint(600, 1_900)
    if rng.random() < 0.4:
        found["set_up_s"] = rng.randint(10, 120)
    if rng.random() < 0.3:
        found["strike_s"] = rng.randint(10, 120)
    if rng.random() < 0.3:
        found["table_um"] = (600_000, 250_000)
    return found
