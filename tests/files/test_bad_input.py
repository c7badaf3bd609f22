"""Every bad entry is reported with its file, where in it, and what to do."""

from pathlib import Path

import pytest

from packdown.errors import Problem
from support.workspaces import FILES, altered, problems_in, write

PACKDOWN, PARTS, ROWS = "packdown.toml", "parts.toml", "parts.csv"
COUNTS, BOXES = "counts.csv", "containers.toml"
FACE, REST = "builds/face.toml", "builds/rest.toml"

# file, passage, its replacement, entry of the only problem, words of its text
CASES = {
    # names
    "unknown part": (FACE, '"f", part = "fence"', '"f", part = "fnce"',
        "builds.face.place[1].part", 'unknown part "fnce" (did you mean "fence"?)'),
    "unknown part counted": (COUNTS, "lamp,3", "lamp,3\nlmap,3",
        "line 5, column part", 'unknown part "lmap" (did you mean "lamp"?)'),
    "part that is a mark": (COUNTS, "lamp,3", "?,3",
        "line 4, column part", 'unknown part "?" (known: fence, heap, lamp, slab)'),
    "piece without id": (FACE, 'id = "g", ', "",
        "builds.face.place[2].id", "is missing; expected a short name"),
    "unknown part contained": (REST, "contains = { slab = 1 }", "contains = { slap = 1 }",
        "builds.cart.contains.slap", 'unknown part "slap" (did you mean "slab"?)'),
    "unknown container type": (BOXES, 'type = "crate"\nstack_limit', 'type = "crat"\nstack_limit',
        "containers.low.type", 'unknown type "crat" (did you mean "crate"?)'),
    "unknown container below": (BOXES, '"low"', '"lo"',
        "containers.high.stacked_on", 'unknown container "lo" (did you mean "low"?)'),
    "unknown key": (PARTS, 'name = "Slab"', 'nmae = "Slab"',
        "parts.slab.nmae", 'unknown key (did you mean "name"?)'),
    "unknown table": (PACKDOWN, "[holds]", "[hold]",
        "hold", 'unknown key (did you mean "holds"?)'),
    "unknown kind of hold": (PACKDOWN, 'keyed = "1 kg"', 'keys = "1 kg"',
        "holds.keys", 'unknown key (did you mean "keyed"?)'),
    "unknown kind of moment": (PACKDOWN, "[key]", "[bends]\nstacked = 1\n[key]",
        "bends.stacked", "unknown key"),
    "unknown column": (COUNTS, "part,count", "part,cuont",
        "line 1, column cuont", 'unknown column (did you mean "count"?)'),
    "unknown way up": (PARTS, '"on-side"', '"on-sid"',
        "parts.fence.ways_up[1]", 'not \'on-sid\' (did you mean "on-side"?)'),
    "unknown shape": (PARTS, '"triangle"', '"triangel"',
        "parts.heap.shape", '(did you mean "triangle"?)'),
    "unknown lining": (BOXES, '"steel"', '"steal"',
        "containers.high.lining", '(did you mean "steel"?)'),
    "unknown kind of joint": (REST, '"press-fit"', '"presfit"',
        "builds.hut.joints[0].kind", '(did you mean "press-fit"?)'),
    "unknown journey": (PACKDOWN, '"shelf"', '"shelv"',
        "rules.shock", '(did you mean "shelf"?)'),
    "unknown side": (PARTS, 'side = "left"', 'side = "lef"',
        "parts.fence.slots[0].side", '(did you mean "left"?)'),
    "unknown piece of a joint": (REST, '["r", "e"]', '["rr", "e"]',
        "builds.hut.joints[0].between", 'unknown piece "rr" (did you mean "r"?)'),
    "unknown piece kept": (FACE, 'keep = [["s-1", "s-2"]]', 'keep = [["s-1", "s-3"]]',
        "builds.face.keep[0]", 'unknown piece "s-3" (did you mean "s-2"?)'),
    "group of an unknown build": (PACKDOWN, 'builds = ["hut"]', 'builds = ["hat"]',
        "keep_together[0].builds[0]", 'no "hat" among the builds (did you mean "hut"?)'),
    "group of an unknown piece": (PACKDOWN, '"lamp#1"', '"lamp#4"',
        "keep_apart[0].pieces[0]", 'no "lamp#4" among the pieces (did you mean "lamp#'),
    "group that names nothing": (PACKDOWN, 'builds = ["hut"]', "",
        "keep_together[0]", "names no piece (give any of builds, parts, pieces, tags)"),
    "group of a part nobody has": (PACKDOWN, 'builds = ["hut"]', 'parts = ["heap"]',
        "keep_together[0]", "names no piece"),
    "id with a slash": (FACE, 'id = "g"', 'id = "a/g"',
        "builds.face.place[2].id", "a short name of letters, digits, - and _, not 'a/g'"),
    # lengths and weights
    "missing size": (PARTS, 'size = ["64 mm", "64 mm", "8 mm"]', "",
        "parts.slab.size", "is missing; expected a list of 3 values"),
    "negative size": (PARTS, '"64 mm", "8 mm"', '"64 mm", "-8 mm"',
        "parts.slab.size[2]", "above 0 and up to 10 m, not '-8 mm'"),
    "size of nothing": (ROWS, "40 mm", "0 mm",
        "line 2, column height", "above 0"),
    "size without unit": (PARTS, '"64 mm", "8 mm"', '"64 mm", "8"',
        "parts.slab.size[2]", "'8' has no unit; expected a length with its unit"),
    "size as a number": (PARTS, '"64 mm", "8 mm"', '"64 mm", 8',
        "parts.slab.size[2]", 'expected a length such as "50.8 mm" with its unit, not 8'),
    "size with two sides": (PARTS, '["32 mm", "32 mm", "24 mm"]', '["32 mm", "32 mm"]',
        "parts.heap.size", "expected a list of 3 values"),
    "size that cannot be": (PARTS, '"64 mm", "8 mm"', '"64 mm", "11 m"',
        "parts.slab.size[2]", "up to 10 m"),
    "size in grams": (PARTS, '"64 mm", "8 mm"', '"64 mm", "8 g"',
        "parts.slab.size[2]", "unknown unit 'g'"),
    "missing weight": (PARTS, 'weight = "25 g"', "",
        "parts.fence.weight", 'is missing; expected a weight such as "120 g"'),
    "weight of nothing": (PARTS, 'weight = "25 g"', 'weight = "0 g"',
        "parts.fence.weight", "above 0"),
    "carry of some": (ROWS, "none", "some",
        "line 2, column carry", 'expected a weight such as "2 kg", "none" or "any", not \'some\''),
    "infinite factor": (PACKDOWN, "[holds]", "[effort]\nusual = inf\n[holds]",
        "effort.usual", "expected a number from 0.1 to 100, not inf"),
    "factor that is no number": (PACKDOWN, "[holds]", "[effort]\nlow = nan\n[holds]",
        "effort.low", "not nan"),
    "factors out of order": (PACKDOWN, "[holds]", "[effort]\nlow = 5\n[holds]",
        "effort", "expected low <= usual <= high, not 5, 3, 4"),
    "infinite place": (FACE, 'part = "fence", at = [0, 0]', 'part = "fence", at = [inf, 0]',
        "builds.face.place[1].at[0]", "expected a finite number of squares, not inf"),
    "place that is no number": (FACE, '"fence", at = [0, 0]', '"fence", at = [0, nan]',
        "builds.face.place[1].at[1]", "expected a finite number of squares, not nan"),
    "square without unit": (PACKDOWN, '"32 mm"', '"32"',
        "grid.square", "has no unit"),
    "support above all": (PACKDOWN, "[rules]", "[rules]\nsupport_percent = 101",
        "rules.support_percent", "expected a whole number from 1 to 100, not 101"),
    # kinds of value
    "name as a number": (PARTS, 'name = "Slab"', "name = 7",
        "parts.slab.name", "expected text in quotation marks, not 7"),
    "name as true": (PACKDOWN, 'name = "Quarry"', "name = true",
        "name", "expected text in quotation marks, not True"),
    "magnets as true": (PARTS, "magnets = 2", "magnets = true",
        "parts.fence.magnets", "expected a whole number from 0 to 10,000, not True"),
    "bagged as perhaps": (ROWS, ",yes,", ",perhaps,",
        "line 2, column bagged", "expected true or false, not 'perhaps'"),
    "tags as text": (PARTS, 'tags = ["stone"]', 'tags = "stone"',
        "parts.slab.tags", "expected a list"),
    "a part as text": (PARTS, "[parts.slab]", '[parts]\nrock = "big"\n[parts.slab]',
        "parts.rock", "expected a table of keys and values, not 'big'"),
    "count that is none": (COUNTS, "lamp,3", "lamp,nan",
        "line 4, column count", "expected a whole number from 0 to 10,000, not 'nan'"),
    "negative count": (COUNTS, "lamp,3", "lamp,-3",
        "line 4, column count", "not '-3'"),
    "half a count": (COUNTS, "lamp,3", "lamp,2.5",
        "line 4, column count", "not '2.5'"),
    "missing count": (COUNTS, "lamp,3", "lamp,",
        "line 4, column count", "is missing"),
    "row with too many cells": (COUNTS, "lamp,3", "lamp,3,4",
        "line 4", "expected 2 cells as in the first line, not 3"),
    "turn by a little": (FACE, "turn = 180", "turn = 45",
        "builds.face.place[2].turn", "expected one of 0, 90, 180, 270, not 45"),
    "keys of some": (FACE, "glued", 'keys = "some"\nglued',
        "builds.face.keys", 'expected "all", "none" or a list of pairs of pieces'),
    # twice
    "part defined in both files": (ROWS, "lamp,Lamp", "slab,Lamp",
        "line 2, column id", 'the part "slab" is defined twice'),
    "part defined in two rows": (ROWS, "spare\n", "spare\nlamp,Lamp,1 mm,1 mm,1 mm,1 g,,,,,\n",
        "line 3, column id", 'the part "lamp" is defined twice'),
    "part counted twice": (COUNTS, "lamp,3", "lamp,3\nlamp,1",
        "line 5, column part", 'the part "lamp" is counted twice'),
    "build defined in two files": (REST, "[builds.cart]", "[builds.face]",
        "builds.face", 'the build "face" is defined twice'),
    "piece placed twice": (FACE, 'id = "g"', 'id = "f"',
        "builds.face.place[2].id", 'the piece "f" is there twice'),
    "unit measured twice": (REST, '{ id = "r"', '{ id = "e"',
        "builds.hut.units[1].id", 'the unit "e" is there twice'),
    "key given twice": (PARTS, 'name = "Slab"', 'name = "Slab"\nname = "Slab"',
        "line 3, column 14", "is not TOML: Cannot overwrite a value"),
    "column given twice": (COUNTS, "part,count", "part,count,count",
        "line 1, column count", "this column is there twice"),
    # shapes
    "steps too fine": (PARTS, 'step = "4 mm"', 'step = "0.1 mm"',
        "parts.heap.step", "expected a step from 1/200 to 1/2 of 32 mm, not 0.1 mm"),
    "steps too coarse": (PARTS, 'step = "4 mm"', 'step = "17 mm"',
        "parts.heap.step", "not 17 mm"),
    "disc that is none": (PARTS, '["32 mm", "32 mm", "24 mm"]\nshape = "triangle"',
        '["32 mm", "30 mm", "24 mm"]\nshape = "disc"',
        "parts.heap.size", "as long as it is wide, not 32 mm by 30 mm"),
    "slots that do not fill a side": (PARTS, 'every = "32 mm"', 'every = "30 mm"',
        "parts.slab.slots[0].every", "no whole number of squares of 30 mm (give the slots"),
    "slot beside the part": (PARTS, '["5 mm", "25 mm"]', '["15 mm", "25 mm"]',
        "parts.fence.slots[0]", "the left side has no face at 15 mm and 25 mm"),
    "slot that is glued": (PARTS, '"magnetic"', '"glued"',
        "parts.fence.slots[0].kind", "a slot cannot be glued"),
    "cuboids turned inside out": (PARTS, 'size = ["64 mm", "10 mm", "50 mm"]',
        'cuboids = [{ from = ["0 mm", "0 mm", "9 mm"], to = ["64 mm", "10 mm", "9 mm"] }]',
        "parts.fence.cuboids[0]", "expected every length of `to` above that of `from`"),
    # containers
    "inside larger than outside": (BOXES, '["310 mm"', '["290 mm"',
        "containers.low.outer",
        "the outside, 290 x 210 x 110 mm, is smaller than the inside, 300 x 200 x 100 mm"),
    "container without payload": (BOXES, 'payload = "6 kg"', "",
        "containers.low.payload", "is missing (give it here or name a type that has it)"),
    "container below the lightest piece": (BOXES, 'stack_limit = "10 kg"', 'stack_limit = "504 g"',
        "containers.high", "it may hold 4 g, and the lightest piece weighs 5 g"),
    "containers in a circle": (BOXES, "stack_limit = ", 'stacked_on = "high"\nstack_limit = ',
        "containers.high.stacked_on", "stands on itself: high on low on high"),
    "container that stands on itself": (BOXES, '"low"', '"high"',
        "containers.high.stacked_on", "stands on itself: high on high"),
    "part larger than every container": (PARTS, '["64 mm", "10 mm", "50 mm"]',
        '["64 mm", "10 mm", "297 mm"]',
        "parts.fence", "larger than every container, 64 x 10 x 297 mm"),
    "part too high the way it must lie": (ROWS, "40 mm,5 g,upright;on-side", "101 mm,5 g,upright",
        "line 2", "larger than every container, 10 x 10 x 101 mm, in every way it may lie"),
    "part too heavy for every container": (ROWS, "5 g", "6001 g",
        "line 2, column weight", "weighs 6.0 kg, and no container may hold more than 6.0 kg"),
    # builds
    "overlap": (FACE, 'at = ["64 mm", "0 mm"]', 'at = ["61 mm", "0 mm", "8 mm"]',
        "builds.face.place[2]", "f and g overlap by 3 mm (move one of them by that much)"),
    "overlap of units": (REST, '"-5 mm"] }', '"-5 mm", "37.5 mm"] }',
        "builds.hut.units[1]", "e and r overlap by 2.5 mm"),
    "joint across a gap": (REST, '"-5 mm"] }', '"-5 mm", "43 mm"] }',
        "builds.hut.joints[0]", "r and e do not touch (they are 3 mm apart)"),
    "glue across a gap": (FACE, '[["f", "s-1"]]', '[["f", "s-2"]]',
        "builds.face.glued[0]", "f and s-2"),
    "no joint of one piece to keep": (FACE, 'keep = [["s-1", "s-2"]]',
        'rather_keep = [["f", "s-1", "g"]]',
        "builds.face.rather_keep[0]", "there is no joint between g and f or s-1 to keep"),
    "unknown piece alone": (REST, "joints =", 'alone = ["e", "rr"]\njoints =',
        "builds.hut.alone[1]", 'unknown piece "rr"'),
    "alone but kept": (FACE, "keep =", 'alone = ["s-2"]\nkeep =',
        "builds.face", "s-2 travels alone, but its joint with s-1 must stay"),
    "nothing to keep": (FACE, 'keep = [["s-1", "s-2"]]', 'keep = [["f", "g"]]',
        "builds.face.keep[0]", "there is no joint between f and g to keep"),
    "keys where no slots meet": (FACE, "glued", 'keys = [["s-1", "g"]]\nglued',
        "builds.face.keys[0]", "no slots for keys meet between s-1 and g"),
    "joint with itself": (REST, '["r", "e"]', '["r", "r"]',
        "builds.hut.joints[0].between", 'expected different pieces, not "r" twice'),
    "stacked side by side": (FACE, "glued",
        'joints = [{ between = ["s-1", "s-2"], kind = "stacked" }]\nglued',
        "builds.face.joints[0]", "stand side by side: neither lies on the other"),
    "floating piece": (FACE, 'at = ["64 mm", "0 mm"]', 'at = ["64 mm", "0 mm", "9.5 mm"]',
        "builds.face.place[2]", "g floats 9.5 mm above the table (leave out its height"),
    "more used than owned": (COUNTS, "fence,4", "fence,1",
        "line 3, column count", "builds use 2 pieces of fence, but only 1 are owned"),
    "no grade": (REST, 'size = ["500 mm", "40 mm", "45 mm"]', "",
        "builds.cart", "expected exactly one way to describe it"),
    "two grades": (REST, "[builds.cart]", "[builds.cart]\nunits = []",
        "builds.cart", "expected exactly one way to describe it"),
    "too many pieces": (FACE, "count = [2, 1]", "count = [100, 100]",
        "builds.face.place[0].repeat.count", "expected at most 1,000 pieces"),
    # files
    "no TOML": (PARTS, "[parts.slab]", "[parts.slab",
        "line 1, column 12", "is not TOML"),
    "no CSV": (COUNTS, "lamp,3", 'lamp,"3',
        "line 5", "is not CSV"),
}  # fmt: skip


# Where one slip spoils several entries, each of them is reported.
SPREADS = {
    "unknown column": 2,  # and the right one is missing
    "part defined in both files": 2,  # and the row that should define another is lost
    "inside larger than outside": 2,  # both crates
    "container without payload": 2,
    "unit measured twice": 2,  # and the joint names the other one
    "slots that do not fill a side": 4,
    "joint across a gap": 2,  # and what it should hold floats
    "keys where no slots meet": 2,  # and the joint to keep has no keys
    "too many pieces": 2,  # and a name for the second
}


def first(problems: tuple[Problem, ...], file: str, entry: str) -> str:
    """Return the text of the first problem, which must be that of an entry."""
    assert problems, "nothing was found"
    assert (problems[0].file, problems[0].entry) == (file, entry)
    return str(problems[0])


@pytest.mark.parametrize("case", CASES)
def test_each_problem_names_file_entry_and_cure(case: str, tmp_path: Path) -> None:
    """A single slip gives a single problem that says where it is and what was expected."""
    file, old, new, entry, words = CASES[case]
    problems = problems_in(write(tmp_path, altered(file, old, new)))
    assert words in first(problems, file, entry)
    assert len(problems) == SPREADS.get(case, 1)


def test_numbers_need_a_grid(tmp_path: Path) -> None:
    """Without a square of the grid every number in a build is a problem."""
    files = altered(PACKDOWN, '[grid]\nsquare = "32 mm"\n', "")
    problems = problems_in(write(tmp_path, files))
    words = "(give square in [grid] of packdown.toml)"
    assert words in first(problems, FACE, "builds.face.place[0].at[0]")
    assert len(problems) == 6


def test_the_unaltered_workspace_has_no_problem(tmp_path: Path) -> None:
    """The cases above start from good files."""
    assert problems_in(write(tmp_path)) == ()


def test_all_problems_of_all_files_come_at_once(tmp_path: Path) -> None:
    """Six slips in five files are all there, and cause no others."""
    files = {
        PACKDOWN: FILES[PACKDOWN].replace('"shelf"', '"shelv"'),
        PARTS: FILES[PARTS].replace('"25 g"', '"25"').replace('"4 mm" }]', '"4" }]'),
        COUNTS: FILES[COUNTS].replace("slab,6", "slab,six"),
        BOXES: FILES[BOXES].replace('"500 g"', '"500 mm"'),
        REST: FILES[REST].replace('"-5 mm"] }', "-5] }"),
    }
    problems = problems_in(write(tmp_path, FILES | files))
    assert {(problem.file, problem.entry) for problem in problems} == {
        (PACKDOWN, "rules.shock"),
        (PARTS, "parts.fence.weight"),
        (PARTS, "parts.slab.slots[0].height"),
        (COUNTS, "line 2, column count"),
        (BOXES, "types.crate.tare"),
        (REST, "builds.hut.units[1].at[1]"),
    }
    assert len(problems) == 6


@pytest.mark.parametrize("file", [PACKDOWN, BOXES])
def test_files_that_must_be_there(file: str, tmp_path: Path) -> None:
    """Without packdown.toml or containers.toml there is one problem: that it is missing."""
    problems = problems_in(write(tmp_path, {k: v for k, v in FILES.items() if k != file}))
    assert "is missing" in first(problems, file, "")
    assert len(problems) == 1


def test_a_workspace_without_containers(tmp_path: Path) -> None:
    """A file that defines none is not enough."""
    problems = problems_in(write(tmp_path, FILES | {BOXES: ""}))
    assert "at least one container" in first(problems, BOXES, "containers")


def test_an_empty_collection(tmp_path: Path) -> None:
    """Parts alone are nothing to pack."""
    files = {PACKDOWN: 'name = "None"', PARTS: FILES[PARTS], BOXES: FILES[BOXES]}
    problems = problems_in(write(tmp_path, files))
    assert "the collection is empty" in first(problems, PACKDOWN, "")
    assert len(problems) == 1


@pytest.mark.parametrize("file", [PACKDOWN, PARTS, COUNTS, BOXES, FACE])
def test_files_in_another_encoding(file: str, tmp_path: Path) -> None:
    """Text that is not UTF-8 is reported with its line, and hides no part from other files."""
    folder = write(tmp_path)
    path = folder / file
    path.write_bytes(path.read_bytes().replace(b"\n", "\n# Größe\n".encode("latin-1"), 1))
    problems = problems_in(folder)
    assert "save the file as UTF-8" in first(problems, file, "line 2")
    assert {problem.file for problem in problems} == {file}


def test_an_unreadable_parts_file_makes_no_part_unknown(tmp_path: Path) -> None:
    """One bracket that is missing is one problem, not one for each piece."""
    files = altered(PARTS, "[parts.slab]", "[parts.slab")
    assert len(problems_in(write(tmp_path, files))) == 1


def test_a_folder_in_place_of_a_file(tmp_path: Path) -> None:
    """What cannot be opened is a problem of that file."""
    folder = write(tmp_path, {k: v for k, v in FILES.items() if k != COUNTS})
    (folder / COUNTS).mkdir()
    assert "cannot be read" in first(problems_in(folder), COUNTS, "")


def test_a_file_nested_without_end(tmp_path: Path) -> None:
    """Thousands of open brackets are reported like any other slip."""
    problems = problems_in(write(tmp_path, FILES | {PARTS: f"a = {'[' * 20_000}"}))
    assert first(problems, PARTS, problems[0].entry)


def test_a_misspelt_file_is_not_passed_over(tmp_path: Path) -> None:
    """A list of counts that nobody reads would leave loose pieces out of every plan."""
    files = {("count.csv" if name == COUNTS else name): text for name, text in FILES.items()}
    words = 'is no file of a workspace (did you mean "counts.csv"?)'
    assert words in first(problems_in(write(tmp_path, files)), "count.csv", "")
