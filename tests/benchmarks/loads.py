"""Random loads of 5 to 14 containers, and an exact model that is asked for one more.

``python -m benchmarks.loads [NUMBER] [EFFORT] [WORK]``, from `tests`. The model leaves out the way
in, so its "no" proves that the search loaded as many as can be, and its "yes" does not prove that
it loaded too few; such a load counts as unequal all the same.
"""

import sys
import time
from collections import Counter

from packdown.model import LoadRules
from packdown.planning.loading import load
from packdown.verify import verify_load
from support.exact_load import can_load
from support.loads import random_load

NUMBER, EFFORT, WORK = 60, 16, 5.0
ROW = "{:>4} {:>10} {:>6} {:>9} {:>8} {:>8}\n"


def main(number: int = NUMBER, effort: int = EFFORT, work: float = WORK) -> None:
    """Print a row for each load, and how many are equal where it is proved."""
    sys.stdout.write(ROW.format("seed", "containers", "loaded", "one more?", "search s", "exact s"))
    answers: Counter[str] = Counter()
    for seed in range(number):
        space, cargo = random_load(seed)
        begun = time.process_time()
        loading = load(space, cargo, seed=0, effort=effort)
        searched = time.process_time()
        answer = can_load(space, cargo, LoadRules(), len(loading.loaded) + 1, work)
        ended = time.process_time()
        assert verify_load(loading).ok
        answers[answer] += 1
        figures = (f"{searched - begun:.1f}", f"{ended - searched:.1f}")
        row = ROW.format(seed, len(cargo), len(loading.loaded), answer, *figures)
        sys.stdout.write(row)
        sys.stdout.flush()
    proved = answers["yes"] + answers["no"]
    sys.stdout.write(
        f"{proved} of {number} proved; as many loaded as can be in {answers['no']} of them, "
        f"{answers['no'] / max(1, proved):.0%}\n"
    )


if __name__ == "__main__":
    values = sys.argv[1:]
    main(
        int(values[0]) if values else NUMBER,
        int(values[1]) if len(values) > 1 else EFFORT,
        float(values[2]) if len(values) > 2 else WORK,
    )
