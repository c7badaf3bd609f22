"""Who does which step when: a drawing of each direction, and the stints of every helper."""

from markupsafe import Markup

from packdown.report.book.sheets import Sheets, drawn
from packdown.report.step_words import runs
from packdown.report.timeline import clock, length_words, stints
from packdown.report.timeline_picture import timeline_picture

__all__ = ["timetable"]

TITLES = {"take_down": "Take down", "rebuild": "Rebuild"}


def timetable(sheets: Sheets) -> Markup:
    """Return the card of the timelines; nothing where there is none, or nothing to do."""
    plan = sheets.lookup.plan
    parts = []
    for name, timeline in sheets.timelines:
        run = getattr(plan.steps, name)
        if timeline.turns:
            parts.append(
                {
                    "title": TITLES[name],
                    "length": length_words(plan, timeline),
                    "picture": drawn(
                        timeline_picture(plan, run, timeline, f"{TITLES[name]}: who does what when")
                    ),
                    "stints": [
                        {
                            "helper": stint.helper,
                            "start": clock(stint.start_s),
                            "end": clock(stint.end_s),
                            "name": f"{stint.letter}: {stint.name}",
                            "steps": runs(stint.steps),
                        }
                        for stint in stints(plan, run, timeline)
                    ],
                }
            )
    return sheets.fill("timetable", parts=parts) if parts else Markup()
