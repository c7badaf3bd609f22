"""Finding: which box, which layer, under what, and what must come out first."""

from packdown.errors import UsageError, nearest
from packdown.model import as_short_id
from packdown.store.connection import Rows
from packdown.store.matching import Match, Subject, best_matches
from packdown.store.places import Surroundings, Where, all_boxes, whereabouts
from packdown.store.records import Box, Found, Hit, HitKind

__all__ = ["box_of", "find"]

CLOSE = 0.88
"""Worth, as a share of the best, below which a match is not shown."""
_PARTS = "SELECT id, name, tags FROM parts"
_BUILDS = "SELECT id, name, tags FROM builds"
_OTHERS = (
    (HitKind.PIECE, "SELECT piece_id, COALESCE(name, piece_id), tags FROM individuals"),
    (HitKind.CONTAINER, "SELECT id, name, '' FROM containers"),
    (
        HitKind.EVENT,
        "SELECT event, event, '' FROM pieces WHERE event IS NOT NULL GROUP BY event",
    ),
)
_PHOTOS = "SELECT path FROM photos WHERE piece_id = :id ORDER BY number"
_CONDITIONS = {
    HitKind.PART: "p.part_id = :a",
    HitKind.BUILD: "p.build_id = :a",
    HitKind.PART_OF_BUILD: "p.part_id = :a AND p.build_id = :b",
    HitKind.PIECE: "p.id = :a",
    HitKind.CONTAINER: "p.container_id = :a",
    HitKind.EVENT: "p.event = :a",
}


def find(
    rows: Rows, words: str, *, num_hits: int | None = None, num_places: int | None = None
) -> Found:
    """Find pieces by the name or id of their part, build, container or event, or by a tag.

    Parameters
    ----------
    rows
        The store.
    words
        What is looked for; a few typing errors are forgiven.
    num_hits
        How many hits to describe, or None for all that fit about as well as the best.
    num_places
        How many places to describe for each, or None for all.
    """
    around = Surroundings(rows)
    exact = _exact(around, words.strip())
    if exact:
        return Found(hits=(_hit(around, exact, num_places),))
    others = [_subject(kind, *row) for kind, sql in _OTHERS for row in rows.rows(sql)]
    parts = [_subject(HitKind.PART, *row) for row in rows.rows(_PARTS)]
    builds = [_subject(HitKind.BUILD, *row) for row in rows.rows(_BUILDS)]
    matches = best_matches(words, others, parts, builds)
    hits: list[Hit] = []
    for number, match in enumerate(matches):
        if hits and match.score < CLOSE * hits[0].score:
            break
        if num_hits is not None and len(hits) == num_hits:
            rest = [m for m in matches[number:] if m.score >= CLOSE * hits[0].score]
            return Found(hits=tuple(hits), num_more=sum(len(m.subjects) == 1 for m in rest))
        hit = _hit(around, match, num_places)
        told = any((other.name, other.places) == (hit.name, hit.places) for other in hits)
        if (hit.number or hit.kind is HitKind.CONTAINER) and not told:
            hits.append(hit)
    return Found(hits=tuple(hits))


def box_of(rows: Rows, name: str) -> Box:
    """Return the container of an id, a short id or a name.

    Raises
    ------
    UsageError
        If the store has no such container.
    """
    boxes = all_boxes(rows).values()
    wanted = [[box for box in boxes if box.id == name]]
    wanted.append([box for box in boxes if box.short_id == as_short_id(name)])
    wanted.append([box for box in boxes if box.name.casefold() == name.casefold()])
    for found in wanted:
        if len(found) == 1:
            return found[0]
    known = [name for box in boxes for name in (box.id, box.name)]
    raise UsageError(f"the store has no container {name}", hint=nearest(name, known))


def _exact(around: Surroundings, words: str) -> Match | None:
    """Return the piece or the container that an id or a short id stands for."""
    if around.rows.rows("SELECT id FROM pieces WHERE id = :id", id=words):
        return Match((_subject(HitKind.PIECE, words, words, ""),), 1.0)
    short = as_short_id(words)
    for box in around.boxes.values():
        if box.short_id == short:
            return Match((_subject(HitKind.CONTAINER, box.id, box.name, ""),), 1.0)
    return None


def _subject(kind: HitKind, name: str, words: str, tags: str) -> Subject:
    return Subject(kind, name, words, tags)


def _hit(around: Surroundings, match: Match, num_places: int | None) -> Hit:
    kind = HitKind(match.subjects[0].kind)
    ids = [subject.id for subject in match.subjects]
    names = [subject.name for subject in match.subjects]
    if len(ids) == 2:
        kind = HitKind.PART_OF_BUILD
    where = Where(
        _CONDITIONS[kind],
        dict(zip("ab", ids, strict=False)),
        contents=kind is HitKind.PART,
    )
    one = kind is HitKind.PIECE
    totals, places = whereabouts(around, where, num_places)
    return Hit(
        kind=kind,
        id=" ".join(ids),
        name=" of ".join(names),
        score=round(match.score, 3),
        number=sum(total.number for total in totals),
        totals=totals,
        places=places,
        photos=tuple(row[0] for row in around.rows.rows(_PHOTOS, id=ids[0])) if one else (),
    )
