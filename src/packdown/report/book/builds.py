"""One card for each build: what it is split into, and each step down and up again."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from markupsafe import Markup

from packdown.model import PlanBuild, Step, StepKind
from packdown.report import bound_words, words
from packdown.report.book.containers import Views
from packdown.report.book.places import places_of, spots_of
from packdown.report.book.sheets import Sheets, drawn
from packdown.report.book.summary import weak_lines
from packdown.report.joint_marks import JOINT_WORDS, sign
from packdown.report.lookup import Lookup
from packdown.report.pictures import build_pictures, build_tones
from packdown.report.stages import Stage, stages
from packdown.report.step_groups import StepGroup, step_groups
from packdown.report.step_pictures import step_pictures
from packdown.report.step_words import runs
from packdown.report.tones import NUM_TONES
from packdown.report.wish_words import wish_sentences

__all__ = ["LISTS", "builds", "lists_of"]

LISTS = (("Take down", "down"), ("Rebuild", "up"))
"""Titles of the two lists of steps, and what their ids hold."""


def lists_of(lookup: Lookup) -> tuple[tuple[str, str, Sequence[Step]], ...]:
    """Return title, key and steps of both lists."""
    both = (lookup.plan.steps.take_down, lookup.plan.steps.rebuild)
    return tuple((title, key, steps) for (title, key), steps in zip(LISTS, both, strict=True))


def builds(sheets: Sheets, views: Mapping[str, Views]) -> Iterator[Markup]:
    """Yield the card of each build."""
    for number, build in enumerate(sheets.lookup.plan.builds, 1):
        album = _Album(sheets.lookup, build, views, f"b{number}")
        yield sheets.fill("build", b=_card(sheets.lookup, build, album))


def _card(lookup: Lookup, build: PlanBuild, album: "_Album") -> dict[str, Any]:
    lists = [
        {
            "title": title,
            "key": f"{build.id}/{key}",
            "steps": [_step(album, group) for group in album.groups(steps)],
        }
        for title, key, steps in lists_of(lookup)
    ]
    return {
        "id": build.id,
        "name": build.name,
        "minutes": words.build_minutes(lookup.plan, build),
        "split": words.split_words(build),
        "bound": bound_words.build_bound(build),
        "wishes": [told for owner, told in wish_sentences(lookup.plan) if owner == build.id],
        "weak": [told for owner, _, told in weak_lines(lookup) if owner == build.id],
        "pictures": [drawn(picture) for picture in build_pictures(lookup, build)],
        "parts": list(_parts(lookup, build)),
        "lists": lists,
        "legend": album.legend(),
        "symbols": drawn(album.symbols()),
    }


def _step(album: "_Album", group: StepGroup) -> dict[str, Any]:
    return {
        "first": group.steps[0].n,
        "number": group.number,
        "text": group.text,
        "notes": group.notes,
        "pictures": album.pictures(group),
    }


def _parts(lookup: Lookup, build: PlanBuild) -> Iterator[dict[str, Any]]:
    """Yield the sub-assemblies; those of one piece that are alike and lie together are one."""
    tones = build_tones(build)
    groups: dict[tuple[str, ...], list[int]] = {}
    for number, pieces in enumerate(build.sub_assemblies, 1):
        box = [spot.id for spot in spots_of(lookup, pieces)]
        alike = (words.piece_names(lookup, pieces), *box) if len(pieces) == 1 else (str(number),)
        groups.setdefault(alike, []).append(number)
    for numbers in groups.values():
        own = [p for n in numbers for p in build.sub_assemblies[n - 1]]
        yield {
            "numbers": runs(numbers),
            "tone": tones[numbers[0] - 1] % NUM_TONES if len(numbers) == 1 else None,
            "what": words.piece_names(lookup, own),
            "pieces": words.counted(len(own), "piece"),
            "spots": spots_of(lookup, own),
        }


class _Album:
    """Pictures of the steps of one build; what two of them share is drawn once."""

    def __init__(
        self, lookup: Lookup, build: PlanBuild, views: Mapping[str, Views], key: str
    ) -> None:
        self.lookup, self.build, self.views, self.key = lookup, build, views, key
        self._bodies: dict[str, str] = {}
        self._stages: dict[tuple[StepKind, int], Stage] = {}
        for _, _, steps in lists_of(lookup):
            self._stages.update({(s.step.kind, s.step.n): s for s in stages(lookup, build, steps)})

    def groups(self, steps: Sequence[Step]) -> tuple[StepGroup, ...]:
        """Return those steps of a list that are of this build."""
        return step_groups(self.lookup, [s for s in steps if s.build == self.build.id])

    def pictures(self, group: StepGroup) -> list[dict[str, Any]]:
        """Return the pictures of a step, each with its caption."""
        stage = self._stages.get((group.steps[0].kind, group.steps[0].n))
        if stage is None:
            return self._packing(group.steps)
        return [
            {"caption": picture.view, "drawing": drawn(picture.drawing(self._shared(picture.body)))}
            for picture in step_pictures(self.lookup, self.build, stage)
        ]

    def _shared(self, body: str) -> str:
        name = self._bodies.setdefault(body, f"{self.key}s{len(self._bodies)}")
        return f'<use href="#{name}"/>'

    def _packing(self, steps: Sequence[Step]) -> list[dict[str, Any]]:
        """Draw the container of a packing step: what is laid in or lifted out is strong.

        What came last is always seen from above; the perspective may hide it behind others.
        """
        places = [place for step in steps for place in places_of(self.lookup, step)]
        if not places:
            return []
        box, numbers = places[0].container, sorted(place.number for place in places)
        roles = {n: "n" if n in numbers else "o" for n in range(1, numbers[-1] + 1)}
        title = f"{box.name}, number {runs(numbers)} strong"
        inside, above = self.views[box.id]
        drawings = [(box.name, inside.shared(roles, numbers, title))]
        if not all(f">{number}</text>" in drawings[0][1] for number in numbers):
            drawings.append((f"{box.name} from above", above.loaded(numbers)))
        return [{"caption": told, "drawing": drawn(drawing)} for told, drawing in drawings]

    def symbols(self) -> str:
        """Return the bodies that drawings refer to."""
        return "".join(f'<g id="{name}">{body}</g>' for body, name in self._bodies.items())

    def legend(self) -> list[dict[str, Any]]:
        """Return the signs that the steps use, with what they mean."""
        joints = {joint.id: joint.kind for joint in self.build.joints}
        used = {joints[name] for s in self._stages.values() for name in s.step.joints}
        return [
            {"sign": drawn(sign(kind, (0, 0))), "words": told}
            for kind, told in JOINT_WORDS.items()
            if kind in used
        ]
