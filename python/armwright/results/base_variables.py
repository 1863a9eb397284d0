"""What the result about the base holds: reactions, bolts, floor and tipping; see variables.py."""

from __future__ import annotations

from armwright.results.terms import BASE_POSITION, JOINT, JOINT_UNIT, TRACK_SPAN, Attribute, Study, Variable

KINDS = {"rest": "holding", "cycle": "moving", "stop": "stopping"}
EXTREMES = ("pull", "push", "shear", "tilting moment", "torsion")
METHODS = ("elastic group", "pivot about the plate's edge", "pivot, far bolts alone")

_REST = "at rest"
_REACTION = ("kind", "extreme")
_BOLT, _EDGE, _FOOT, _CHECK = ("bolt",), ("edge",), ("foot",), ("check",)
_FACE = "axes of the mounting face about its origin, z out of the face into the arm"


def _maybe(name: str, dims: tuple[str, ...], unit: str, meaning: str, kind: str = "float", nan: str = "",
           infinite: str = "", least: float | None = None) -> Variable:  # fmt: skip
    return Variable(name, dims, unit, meaning, kind, required=False, nan=nan, infinite=infinite, least=least)  # type: ignore[arg-type]


BASE_LOADS = Study(
    "base_loads",
    "what the mounting face, its bolts, the floor and what stands free have to bear: holding, moving and stopping",
    (
        Variable("kind", ("kind",), "1", "holding, moving or stopping", "str"),
        Variable("extreme", ("extreme",), "1", "what is greatest there: pull off the face, push onto it, shear along "
                 "it, moment that tilts, torsion", "str"),
        JOINT, JOINT_UNIT,
        Variable("xyz", ("xyz",), "1", "components along the axes of the mounting face", "str"),
        _maybe("xy", ("xy",), "1", "components in the mounting face", "str"),
        Variable("check", _CHECK, "1", "names of what was checked", "str"),
        _maybe("bolt", _BOLT, "1", "names of the bolts", "str"),
        _maybe("method", ("method",), "1", "how the tension was found", "str"),
        _maybe("edge", _EDGE, "1", "places of the edges between outer feet, counter-clockwise", "int", least=0),
        _maybe("foot", _FOOT, "1", "places of the feet", "int", least=0),
    ),
    (
        Variable("reaction_force", (*_REACTION, "xyz"), "N",
                 f"force that the arm puts on the face where that is greatest; {_FACE}"),
        Variable("reaction_moment", (*_REACTION, "xyz"), "N*m", f"its moment there; {_FACE}"),
        Variable("reaction_case", _REACTION, "1", "in which case that is", "str"),
        Variable("reaction_time", _REACTION, "s", "when in that case", nan=_REST),
        Variable("reaction_posture", (*_REACTION, "joint"), "1", "joint positions there, in joint_unit"),
        Variable("safety", _CHECK, "1", "what is borne over what has to be borne: less than 1 is too much",
                 nan="a load that nothing is known to bear: not safe", infinite="nothing to bear"),
        Variable("wanted", _CHECK, "1", "safety that is wanted, by the basis told", least=0),
        Variable("check_part", _CHECK, "1", "what is nearest to its limit", "str"),
        Variable("check_case", _CHECK, "1", "in which case", "str"),
        Variable("check_time", _CHECK, "s", "when in that case", nan=_REST),
        Variable("check_basis", _CHECK, "1", "by which rule, and where it comes from", "str"),
        _maybe("bolt_position", ("bolt", "xy"), "m", "places of the bolts in the mounting face"),
        _maybe("bolt_tension", ("method", "bolt"), "N", "greatest tension of each bolt over all rows by each method, "
               "without prying and preload; negative: always pressed", nan="that method cannot tell"),
        _maybe("bolt_pull", _BOLT, "N", "greatest tension that counts: the greater of the first two methods, times the "
               "prying factor", least=0, nan="no method can tell"),
        _maybe("bolt_pull_method", _BOLT, "1", "the method that gave it", "str"),
        _maybe("bolt_pull_case", _BOLT, "1", "in which case that is", "str"),
        _maybe("bolt_pull_time", _BOLT, "s", "when in that case", nan=_REST),
        _maybe("bolt_shear", _BOLT, "N", "greatest shear of each bolt if friction bore nothing", least=0,
               nan="bolts in one place bear no torsion"),
        _maybe("bolt_shear_case", _BOLT, "1", "in which case that is", "str"),
        _maybe("proof_safety", _BOLT, "1", "least safety of each bolt against its proof stress, preload, tension and "
               "shear together", nan="no method can tell", infinite="nothing to bear", least=0),
        _maybe("worst_pull", _BOLT, "N", "tension that counts of each bolt at the one instant when the greatest of all "
               "occurs", least=0, nan="no method can tell"),
        _maybe("worst_shear", ("bolt", "xy"), "N", "shear of each bolt at that instant, if friction bore nothing",
               nan="bolts in one place bear no torsion"),
        _maybe("worst_force", ("xyz",), "N", f"force on the face at that instant; {_FACE}"),
        _maybe("worst_moment", ("xyz",), "N*m", f"its moment; {_FACE}"),
        _maybe("plate", ("plate_point", "xy"), "m", "outline of the plate in the mounting face"),
        _maybe("foot_position", ("foot", "xy"), "m", "places of the feet, seen along z of the mounting face"),
        _maybe("foot_force", _FOOT, "N", "greatest force on each foot, feet equally stiff", least=0,
               nan="tips in every row"),
        _maybe("foot_force_least", _FOOT, "N", "least force on each foot", least=0, nan="tips in every row"),
        _maybe("edge_from", ("edge", "xy"), "m", "where an edge begins"),
        _maybe("edge_to", ("edge", "xy"), "m", "where it ends"),
        _maybe("tip_safety", _EDGE, "1", "least ratio of the moment that keeps it down to the moment that tips it over "
               "that edge: of the stand's own weight on the one side, and all that the arm puts on it on the other",
               infinite="never tipped that way"),
        _maybe("tip_distance", _EDGE, "m", "least distance inside that edge of where the resultant meets the floor; "
               "negative: it tips", infinite="lifted off the floor"),
        _maybe("tip_case", _EDGE, "1", "in which case the ratio is least", "str"),
        _maybe("tip_time", _EDGE, "s", "when in that case", nan=_REST),
    ),
    (
        Attribute("missing", "1", "what was not looked at, and why, one a line", "str"),
        Attribute("to_mind", "1", "what was assumed, or is beyond a rule's range, one a line", "str"),
        Attribute("caution", "1", "what to mind", "str"),
        Attribute("rows", "1", "number of loadings looked at", "int"),
        Attribute("method", "1", "how tensions, shear, slip and pressure were found", "str"),
        Attribute("worst_case", "1", "in which case the greatest tension of all bolts occurs", "str", required=False),
        Attribute("prying_factor", "1", "what tensions are multiplied by", required=False),
        Attribute("preload", "N", "preload of each bolt", required=False),
        Attribute("load_share", "1", "share of the tension that a preloaded bolt feels while the joint is closed",
                  required=False),
        Attribute("stress_area", "m2", "stress area of a bolt", required=False),
        Attribute("proof_stress", "Pa", "stress of a bolt under proof load", required=False),
        Attribute("floor_pressure", "Pa", "greatest pressure under plate or feet", required=False),
        Attribute("floor_pressure_case", "1", "in which case that is", "str", required=False),
        Attribute("contact_share", "1", "least share of the plate that presses on its ground", required=False),
        Attribute("contact_share_case", "1", "in which case that is", "str", required=False),
        BASE_POSITION, TRACK_SPAN,
    ),
)  # fmt: skip
