"""The ordered table of rules, and the verification of a plan against all of them."""

from packdown.model import Plan
from packdown.verify import (
    carrying,
    equilibrium,
    limits,
    objective,
    placing,
    references,
    shape,
    stack,
    standing,
    steps,
    strength,
    travel,
)
from packdown.verify.lookup import Lookup
from packdown.verify.report import Report, Rule

__all__ = ["RULES", "verify"]

RULES: tuple[Rule, ...] = tuple(
    Rule(name=name, sentence=sentence, check=check)
    for name, sentence, check in (
        (
            "references",
            "Every id is unique and names something that the plan has.",
            references.references_exist,
        ),
        ("pieces", "Every piece is in exactly one item.", references.pieces_are_in_one_item),
        (
            "placed once",
            "Every item is placed once, or listed as not packed with a reason.",
            references.items_are_placed_once,
        ),
        (
            "sub-assemblies",
            "The sub-assemblies of a build share out its pieces and are its items.",
            references.sub_assemblies_are_items,
        ),
        (
            "solids",
            "Cuboids have volume; those of one item share none.",
            shape.cuboids_are_disjoint,
        ),
        (
            "covers",
            "Every item contains its pieces, with joints that stand open a little.",
            shape.covers_hold_pieces,
        ),
        ("bags", "Every bag has at least the volume of its pieces.", shape.bags_hold_their_pieces),
        ("weights", "Every item weighs what its pieces and keys weigh.", shape.weights_add_up),
        (
            "centres of gravity",
            "The centre of gravity of every item is where its pieces put it.",
            shape.centres_are_true,
        ),
        (
            "ways up",
            "No item may lie as one of its pieces or joints must not.",
            shape.ways_up_suit_pieces,
        ),
        (
            "carry limits",
            "No item may carry more than any of its pieces.",
            shape.carry_limits_spare_pieces,
        ),
        (
            "tender parts",
            "What may carry nothing is marked tender in its item.",
            shape.tender_pieces_are_tender,
        ),
        (
            "magnets told",
            "Items say truly whether magnets look out of their underside.",
            shape.magnets_are_told,
        ),
        ("poses", "Every item is placed as its pose says.", placing.poses_are_true),
        ("lying", "Every item lies in a way it may.", placing.ways_up_are_allowed),
        (
            "inside",
            "Every item is inside its container, with clearance to the walls.",
            placing.items_are_inside,
        ),
        ("overlap", "No two items share volume.", placing.nothing_overlaps),
        ("clearance", "Items side by side keep their clearance.", placing.clearance_is_kept),
        (
            "loading order",
            "Every item can be lowered past what was loaded before.",
            placing.loading_order_works,
        ),
        ("rest", "Every item has come to rest on the floor or on others.", placing.items_rest),
        (
            "sheets",
            "There is room for a sheet on what carries something.",
            placing.sheets_have_room,
        ),
        (
            "support",
            "Enough of the lowest faces of every item is supported.",
            stack.items_are_supported,
        ),
        ("stated support", "The stated support is true.", stack.support_is_stated),
        ("layers", "Layers are counted from the floor.", stack.layers_are_counted),
        (
            "balance",
            "No item tips under its own weight and what rests on it.",
            stack.items_balance,
        ),
        ("load", "No item carries more than it may, all paths added up.", stack.loads_are_carried),
        ("tender", "Nothing rests on what is tender.", stack.tender_is_spared),
        (
            "magnets on steel",
            "In steel-lined containers, items with magnets stand upright on the floor.",
            placing.magnets_stand_on_steel,
        ),
        ("payload", "No container holds more than its payload.", limits.payload_is_kept),
        (
            "gross weight",
            "No packed container weighs more than the limit.",
            limits.gross_weight_is_kept,
        ),
        (
            "stacked containers",
            "No container bears more stacked on it than it may.",
            limits.stack_limits_are_kept,
        ),
        (
            "keep together",
            "What is to be kept together lies in one container.",
            limits.groups_are_together,
        ),
        (
            "keep apart",
            "What is to be kept apart lies in different containers.",
            limits.groups_are_apart,
        ),
        (
            "first needed",
            "Nothing lies on what is needed before it.",
            placing.first_needed_lies_free,
        ),
        (
            "joint states",
            "Joints are kept within sub-assemblies and split between them.",
            strength.joint_states_are_true,
        ),
        (
            "alone",
            "What must travel alone is a sub-assembly of its own.",
            strength.lonely_pieces_are_alone,
        ),
        ("fixed joints", "No joint that must stay is split.", strength.fixed_joints_are_kept),
        (
            "connected",
            "Every sub-assembly is connected by its kept joints.",
            strength.sub_assemblies_hang_together,
        ),
        (
            "transit strength",
            "The kept joints hold what hangs on them, with the shock of transit.",
            strength.sub_assemblies_hold,
        ),
        (
            "leverage",
            "The kept joints bear the moment of what hangs beyond them, with the shock of transit.",
            strength.joints_are_not_bent,
        ),
        (
            "equilibrium",
            "Forces in balance carry every packed sub-assembly, with the shock of transit.",
            equilibrium.sub_assemblies_are_carried,
        ),
        (
            "travel",
            "What must not travel as one is named, with joints to open that make it fit to.",
            travel.weak_parts_are_told,
        ),
        (
            "footing",
            "Every packed sub-assembly stands on its own lowest faces.",
            strength.sub_assemblies_stand,
        ),
        (
            "step list",
            "Steps are numbered, and of the kinds that belong in their list.",
            steps.steps_are_in_order,
        ),
        (
            "waiting",
            "Every step waits for those that it needs, so that others can go on side by side.",
            steps.steps_wait_for_others,
        ),
        (
            "take-down",
            "Taking down, step by step, gives the sub-assemblies.",
            steps.take_down_gives_sub_assemblies,
        ),
        (
            "rebuild",
            "Rebuilding, step by step, gives the builds.",
            steps.rebuild_gives_the_builds,
        ),
        (
            "joint work",
            "Every split joint is opened once and closed once, and no other.",
            steps.joints_are_worked_once,
        ),
        (
            "paths",
            "Nothing is in the way of pieces that are parted or joined.",
            steps.paths_are_free,
        ),
        (
            "stages",
            "What is on the table between two steps stands, or is said to be held.",
            standing.stages_stand,
        ),
        (
            "keys",
            "The keys that come out are bagged and go in again.",
            steps.keys_are_counted,
        ),
        (
            "pack steps",
            "Every packed item is packed once, in loading order.",
            carrying.items_are_packed_in_order,
        ),
        (
            "unpack steps",
            "Every packed item is unpacked once, when nothing lies on it.",
            carrying.items_are_unpacked_when_free,
        ),
        (
            "packed too early",
            "Nothing is packed before it is apart and its keys are free.",
            carrying.packed_pieces_rest,
        ),
        (
            "joined too early",
            "Nothing is joined before it and its keys are unpacked.",
            carrying.unpacked_before_joined,
        ),
        (
            "build effort",
            "The effort of every build is that of its split joints and sub-assemblies.",
            objective.build_efforts_add_up,
        ),
        ("objective", "The figures of the objective add up.", objective.objective_adds_up),
        (
            "bounds",
            "No bound is above the plan, and each says whether it is met.",
            objective.bounds_hold,
        ),
        (
            "proofs",
            "Only an effort that equals its bound is called proved.",
            objective.proofs_are_true,
        ),
    )
)


def verify(plan: Plan) -> Report:
    """Check a plan against every rule, from nothing but the plan.

    Parameters
    ----------
    plan
        Any plan; it may be wrong in any way.

    Returns
    -------
    Report
        Every rule with all that breaks it. A rule skips ids that the plan has not; the rule on
        references reports those.
    """
    return Report.of(RULES, Lookup(plan))
