"""Which of many names some words mean, forgiving of typing errors.

Every word of the query is compared with every word of every name, by the edits (a letter more,
less, other, or two exchanged) that lead from one to the other. A name is worth as much as the
words of the query that it holds; among equals the one that says little else comes first.
"""

import re
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple
from unicodedata import combining, normalize

from rapidfuzz import fuzz, process
from rapidfuzz.distance import OSA

__all__ = ["Match", "Subject", "best_matches", "split_words"]

_WORD = re.compile(r"[^\W\d_]+|\d+")
TAG = 0.95
"""How much a tag counts against a word of the name."""
BEGINNING = 0.93
"""How much a word counts of which only the beginning was typed."""
WHOLE = 0.15
"""Share of the likeness of whole names in the worth of a match."""

RUN_TOGETHER = 0.8
"""How alike whole names must be where no single word is."""
ADDS = 0.05
"""What two must be worth together beyond each alone, to be taken together."""
WRITTEN = 0.97
"""How much likeness of whole names alone counts."""


class Subject(NamedTuple):
    """Something that can be found.

    Parameters
    ----------
    kind, id
        What it is; who types its whole id means it.
    name
        What it is called.
    tags
        Further words for it.
    """

    kind: str
    id: str
    name: str
    tags: str = ""


class Match(NamedTuple):
    """How well a subject, or two taken together, fit the words: from 0 to 1."""

    subjects: tuple[Subject, ...]
    score: float


def split_words(text: str) -> list[str]:
    """Split text into plain words: lower case, no accents, digits apart from letters.

    >>> split_words("Café wall, 2x2")
    ['cafe', 'wall', '2', 'x', '2']
    """
    plain = text.casefold()
    if not plain.isascii():
        plain = "".join(c for c in normalize("NFKD", plain) if not combining(c))
    return _WORD.findall(plain)


def best_matches(
    query: str,
    subjects: Sequence[Subject],
    parts: Sequence[Subject] = (),
    wholes: Sequence[Subject] = (),
    least: float = 0.6,
) -> list[Match]:
    """Return what fits some words, best first.

    Parameters
    ----------
    query
        The words.
    subjects
        What can be found alone.
    parts, wholes
        What can be found alone, or one with the other: as in "wall of the beacon".
    least
        Worth below which something does not fit.
    """
    words = split_words(query)
    if not words:
        return []
    worth = _Worth(query, words)
    first, second = worth.of(parts), worth.of(wholes)
    found = [
        Match((one.subject,), one.score)
        for one in (*first, *second, *worth.of(subjects))
        if one.score >= least
    ]
    for part in first:
        for whole in second:
            both = worth.together(part, whole, max(least, part.score + ADDS, whole.score + ADDS))
            if both:
                found.append(Match((part.subject, whole.subject), both))
    return sorted(found, key=lambda match: -match.score)


class _Worthy(NamedTuple):
    """A subject, how alike it is to each word of a query, and what it is worth, from 0 to 1."""

    subject: Subject
    likeness: list[float]
    score: float


class _Worth:
    """The words of one query, and what subjects are worth for them."""

    def __init__(self, query: str, words: Sequence[str]) -> None:
        self.typed = query.strip().casefold()
        self.words = words
        self.weights = [len(word) for word in words]
        self.total = sum(self.weights)
        self.joined = " ".join(words)
        self.run_together = "".join(words)

    def of(self, subjects: Sequence[Subject]) -> list[_Worthy]:
        """Return the subjects that fit at least one word of the query."""
        names = [split_words(subject.name) for subject in subjects]
        likeness = self._likeness(_owners(subjects, names))
        ratios = self._ratios([" ".join(name) for name in names])
        for index, ratio in ratios.items():
            if ratio > RUN_TOGETHER:
                likeness.setdefault(index, [0.0] * len(self.words))
        for index, subject in enumerate(subjects):
            if subject.id.casefold() == self.typed:
                likeness[index], ratios[index] = [1.0] * len(self.words), 1.0
        return [
            _Worthy(subjects[index], row, self._score(row, ratios.get(index, 0.0)))
            for index, row in likeness.items()
        ]

    def together(self, one: _Worthy, two: _Worthy, least: float) -> float:
        """Return what two subjects are worth together where each adds something, or 0."""
        pairs = list(zip(one.likeness, two.likeness, strict=True))
        if not any(a > b for a, b in pairs) or not any(b > a for a, b in pairs):
            return 0.0
        row = [max(pair) for pair in pairs]
        if self._score(row, 1.0) < least:
            return 0.0
        name = " ".join(split_words(f"{one.subject.name} {two.subject.name}"))
        score = self._score(row, fuzz.token_sort_ratio(self.joined, name) / 100)
        return score if score >= least else 0.0

    def _likeness(self, owners: Mapping[str, Mapping[int, float]]) -> dict[int, list[float]]:
        """Return how alike subjects are to each word of the query, by their index."""
        likeness: dict[int, list[float]] = {}
        for number, word in enumerate(self.words):
            for like, share in _alike(word, owners):
                for index, weight in owners[like].items():
                    row = likeness.setdefault(index, [0.0] * len(self.words))
                    row[number] = max(row[number], share * weight)
        return likeness

    def _score(self, row: Sequence[float], ratio: float) -> float:
        held = sum(w * like for w, like in zip(self.weights, row, strict=True)) / self.total
        return max((1 - WHOLE) * held + WHOLE * ratio, WRITTEN * ratio)

    def _ratios(self, names: Sequence[str]) -> dict[int, float]:
        """Return how alike the whole query is to whole names, from 0 to 1."""
        found: dict[int, float] = {}
        for query, choices in (
            (self.joined, names),
            (self.run_together, [name.replace(" ", "") for name in names]),
        ):
            for _, ratio, index in process.extract(
                query, choices, scorer=fuzz.ratio, limit=None, score_cutoff=40
            ):
                found[index] = max(found.get(index, 0.0), ratio / 100)
        return found


def _owners(
    subjects: Sequence[Subject], names: Sequence[Sequence[str]]
) -> dict[str, dict[int, float]]:
    """Return each word with the subjects that have it, and how much it counts there."""
    owners: dict[str, dict[int, float]] = defaultdict(dict)
    for index, (subject, name) in enumerate(zip(subjects, names, strict=True)):
        for word in split_words(subject.tags):
            owners[word][index] = TAG
        for word in name:
            owners[word][index] = 1.0
    return owners


def _alike(word: str, vocabulary: Mapping[str, object]) -> Iterable[tuple[str, float]]:
    """Yield words that may be meant by one, and how much they count, from 0 to 1."""
    if word.isdigit() or len(word) < 3:
        if word in vocabulary:
            yield word, 1.0
        return
    most = 1 if len(word) < 5 else 2
    choices = list(vocabulary)
    for other, edits, _ in process.extract(
        word, choices, scorer=OSA.distance, limit=None, score_cutoff=most
    ):
        yield other, 1.0 - edits / max(len(word), len(other))
    for other in choices:
        if other.startswith(word) and other != word:
            yield other, BEGINNING
