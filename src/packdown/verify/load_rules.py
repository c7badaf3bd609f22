"""The ordered table of rules of a load, and its verification against all of them."""

from packdown.model import Loading
from packdown.verify import load_placing, load_securing, load_ways
from packdown.verify.load_lookup import look_up_load
from packdown.verify.report import Report, Rule

__all__ = ["LOAD_RULES", "verify_load"]

LOAD_RULES: tuple[Rule, ...] = tuple(
    Rule(name=name, sentence=sentence, check=check)
    for name, sentence, check in (
        (
            "loaded once",
            "Every container is loaded once, or left with a reason.",
            load_placing.containers_are_loaded_once,
        ),
        (
            "centres of gravity",
            "Every centre of gravity is inside its container.",
            load_ways.weights_have_a_centre,
        ),
        ("upright", "Every container stays upright.", load_placing.containers_stay_upright),
        ("inside", "Every container is inside.", load_placing.containers_are_inside),
        (
            "seat back",
            "Nothing is above the seat back, unless a net or a guard holds it.",
            load_placing.nothing_is_above_the_seat_back,
        ),
        (
            "taken away",
            "Wheel arches and slopes stay free.",
            load_placing.taken_away_stays_free,
        ),
        ("overlap", "No two containers share volume.", load_placing.nothing_overlaps),
        (
            "rest",
            "Every container stands on the floor, or with all four corners on others.",
            load_placing.containers_rest,
        ),
        ("rims", "What sinks into a rim is counted as sunk.", load_placing.rims_are_used),
        ("heavy low", "Nothing stands on what is much lighter.", load_placing.heavy_stands_low),
        (
            "stacking limits",
            "No container carries more than it may.",
            load_placing.stack_limits_are_kept,
        ),
        ("payload", "The load is within the payload.", load_placing.payload_is_kept),
        (
            "spread",
            "Unless the load is light, neither half of the length has too much of it.",
            load_placing.load_is_spread,
        ),
        (
            "way in",
            "Every container gets in through the opening, past what is loaded before.",
            load_ways.ways_in_are_free,
        ),
        (
            "first needed",
            "What is needed first is loaded last.",
            load_ways.first_needed_is_loaded_last,
        ),
        (
            "securing",
            "All that would slide or tip is told, with the force that holds it.",
            load_securing.what_moves_is_told,
        ),
    )
)


def verify_load(loading: Loading) -> Report:
    """Check a load against every rule, from nothing but the load.

    Parameters
    ----------
    loading
        Any load; it may be wrong in any way.
    """
    return Report.of(LOAD_RULES, look_up_load(loading))
