"""Pieces that are told apart from others of their part: by a name, tags and photos."""

from collections.abc import Sequence
from dataclasses import dataclass

from packdown.errors import UsageError
from packdown.store.choosing import choose_pieces
from packdown.store.connection import Rows, Store
from packdown.store.journal import changing
from packdown.store.schema import contents, individuals, photos, pieces

__all__ = ["Individual", "describe", "individual", "strike_off"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Individual:
    """One piece, and what tells it apart.

    Parameters
    ----------
    piece
        Its id.
    name
        Its own name, or None.
    tags
        Words to search by.
    photos
        Paths of files.
    """

    piece: str
    name: str | None = None
    tags: tuple[str, ...] = ()
    photos: tuple[str, ...] = ()


def individual(rows: Rows, name: str) -> Individual:
    """Return what is known of one piece.

    Parameters
    ----------
    rows
        The store.
    name
        Its id or its own name.

    Raises
    ------
    UsageError
        If there is no such piece, or the name stands for several.
    """
    found = choose_pieces(rows, name)
    if len(found) > 1:
        raise UsageError(
            f"{len(found)} pieces are called {name}", hint=f"name one of them, such as {found[0]}"
        )
    piece = found[0]
    own = rows.rows("SELECT name, tags FROM individuals WHERE piece_id = :piece", piece=piece)
    paths = rows.rows(
        "SELECT path FROM photos WHERE piece_id = :piece ORDER BY number", piece=piece
    )
    return Individual(
        piece=piece,
        name=own[0][0] if own else None,
        tags=tuple(own[0][1].split("\n")) if own and own[0][1] else (),
        photos=tuple(row[0] for row in paths),
    )


def describe(
    store: Store,
    piece: str,
    *,
    name: str | None = None,
    tags: Sequence[str] | None = None,
    paths: Sequence[str] | None = None,
) -> Individual:
    """Tell one piece apart from others of its part; what is None stays as it is.

    Parameters
    ----------
    store
        The store.
    piece
        Its id or its own name.
    name
        Its own name; empty for none.
    tags
        Words to search by.
    paths
        Photos.

    Returns
    -------
    Individual
        What is known of it now; without name, tags and photos it is one of many again.

    Raises
    ------
    UsageError
        If there is no such piece, or the name stands for several.
    """
    with changing(store, "describe") as change:
        old = individual(change, piece)
        new = Individual(
            piece=old.piece,
            name=old.name if name is None else name.strip() or None,
            tags=old.tags if tags is None else tuple(tags),
            photos=old.photos if paths is None else tuple(paths),
        )
        key = {"piece": old.piece}
        change.remove(photos, change.load(photos, "piece_id = :piece", **key))
        change.remove(individuals, change.load(individuals, "piece_id = :piece", **key))
        if new != Individual(piece=new.piece):
            row = {"piece_id": new.piece, "name": new.name, "tags": "\n".join(new.tags)}
            change.save(individuals, [row])
            change.save(
                photos,
                [
                    {"piece_id": new.piece, "number": number, "path": path}
                    for number, path in enumerate(new.photos, 1)
                ],
            )
        change.summary = f"described {new.piece}" + (f" as {new.name}" if new.name else "")
    return new


def strike_off(store: Store, names: Sequence[str], number: int | None = None) -> tuple[str, ...]:
    """Record that pieces are no longer owned; return their ids.

    Parameters
    ----------
    store
        The store.
    names
        What they are called, see `choose_pieces`.
    number
        How many of each; None for all.

    Raises
    ------
    UsageError
        If there are no such pieces.
    """
    with changing(store, "strike off") as change:
        chosen = dict.fromkeys(
            piece for name in names for piece in choose_pieces(change, name, number=number)
        )
        change.remove(pieces, change.load_keys(pieces, [(piece,) for piece in chosen]))
        for table in (contents, individuals, photos):
            rows = change.load(table)
            change.remove(table, [key for key in rows if key[0] in chosen])
        change.summary = f"struck off {', '.join(names)} ({len(chosen)} pieces)"
    return tuple(chosen)
