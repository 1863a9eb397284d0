"""What the results about links and joints as springs hold; see variables.py."""

from __future__ import annotations

from armwright.results.load_variables import NAN_OUT
from armwright.results.terms import BASE_POSITION, BATCH, JOINT, JOINT_UNIT, TRACK_SPAN, XYZ, Attribute, Study, Variable

_CAUSES = (
    Variable("cause", ("cause",), "1", "what gives way: joint and stage or bearing, or link and its structure", "str"),
    Variable("cause_kind", ("cause",), "1", 'kind of each cause: "stage", "bearing" or "link"', "str"),
)
_NOT_COUNTED = Attribute("not_counted", "1", "what was taken as rigid or left out, one a line", "str")
_LOAD = Attribute("load_mass", "kg", "mass of the load carried")
_NONE = "no posture found"
_AT_REST = "nothing sinks"
_Q = Variable("q", (BATCH, "joint"), "1", "joint positions, in joint_unit", nan=_NONE)

SAG = Study(
    "sag",
    "how far the tool sinks from where the rigid arm would have it, and what gives way",
    (JOINT, JOINT_UNIT, XYZ, *_CAUSES),
    (
        _Q,
        Variable("at", (BATCH,), "1", "names of the work points", "str", required=False),
        Variable("load_mass", (BATCH,), "kg", "mass of the load carried", least=0),
        Variable("sag", (BATCH, "xyz"), "m", "shift of the tool point", nan=_NONE),
        Variable("sag_turn", (BATCH, "xyz"), "rad", "turn of the tool, about the world's axes", nan=_NONE),
        Variable("sag_size", (BATCH,), "m", "length of that shift", least=0, nan=_NONE),
        Variable("sag_down", (BATCH,), "m", "how much lower the tool point is, along gravity", nan=_NONE),
        Variable("sag_own", (BATCH, "xyz"), "m", "shift by the weight of arm and tool and by counterbalances",
                 nan=_NONE),
        Variable("sag_load", (BATCH, "xyz"), "m", "shift by the load's weight", nan=_NONE),
        Variable("sag_push", (BATCH, "xyz"), "m", "shift by the force and moment at the tool point", nan=_NONE),
        Variable("cause_shift", (BATCH, "cause", "xyz"), "m", "shift of the tool point by each cause", nan=_NONE),
        Variable("cause_turn", (BATCH, "cause", "xyz"), "rad", "turn of the tool by each cause", nan=_NONE),
        Variable("cause_share", (BATCH, "cause"), "1", "share of each cause in the shift, along it; negative: against "
                 "it", nan=f"{_NONE}, or {_AT_REST}"),
        Variable("small", (BATCH,), "1", "the tool turns by 0.1 rad at most, so that the theory of small deflections "
                 "holds", "bool"),
    ),
    (Attribute("push", "1", "force, N, and moment, N m, at the tool point, world axes", length=6), _NOT_COUNTED,
     BASE_POSITION, TRACK_SPAN),
)  # fmt: skip

_PLANE = ("height", "distance")

SAG_OVER_REACH = Study(
    "sag_over_reach",
    "how far the tool sinks over the arm's reach, and what gives way most",
    (
        JOINT, JOINT_UNIT, *_CAUSES,
        Variable("distance", ("distance",), "m", "horizontal distance from axis 1", least=0),
        Variable("height", ("height",), "m", "height of the tool point in the world"),
    ),
    (
        Variable("sag_least", _PLANE, "m", "least shift of the tool point over the attitudes", least=0, nan=NAN_OUT),
        Variable("sag_greatest", _PLANE, "m", "greatest shift over the attitudes, in each by its best posture", least=0,
                 nan=NAN_OUT),
        Variable("sag_down", _PLANE, "m", "how much lower the tool point is there, along gravity", nan=NAN_OUT),
        Variable("main_cause", _PLANE, "1", "what has the greatest share there: place in cause, -1 for none", "int",
                 least=-1),
        Variable("main_share", _PLANE, "1", "its share", nan=NAN_OUT),
        Variable("q", (*_PLANE, "joint"), "1", "joint positions there, in joint_unit", nan=NAN_OUT),
    ),
    (
        Attribute("spacing", "m", "distance between positions asked for; they are coarser where the reach is long"),
        Attribute("attitude", "1", "tool attitude asked for", "str", choices=("any", "down", "level")),
        Attribute("directions", "1", "number of tool directions tried at each position", "int"),
        Attribute("spins", "1", "number of turns about the tool axis tried in each direction", "int"),
        _LOAD, _NOT_COUNTED, BASE_POSITION, TRACK_SPAN,
    ),
)  # fmt: skip

_SIX = ("motion", "push")
_RIGID = "rigid that way"

STIFFNESS = Study(
    "stiffness",
    "how stiff the arm is at its tool, and its lowest natural frequencies with the drives' rotors held",
    (
        JOINT, JOINT_UNIT, XYZ, *_CAUSES,
        Variable("motion", ("motion",), "1", "shifts of the tool point along, turns about world axes", "str"),
        Variable("push", ("push",), "1", "forces at the tool point along, moments about world axes", "str"),
        Variable("mode", ("mode",), "1", "number of the mode, the lowest first", "int", least=1),
    ),
    (
        Variable("q", (BATCH, "joint"), "1", "joint positions, in joint_unit"),
        Variable("compliance", (BATCH, *_SIX), "1", "shift (m) and turn (rad) by a unit force (N) and moment (N m)"),
        Variable("stiffness_matrix", (BATCH, *_SIX), "1", "force (N) and moment (N m) by shift (m) and turn (rad)",
                 nan="the tool is rigid in some way, so that there is none"),
        Variable("stiffness_along", (BATCH, "xyz"), "N/m", "force along an axis by the shift along it, all else free",
                 least=0, infinite=_RIGID),
        Variable("stiffness_about", (BATCH, "xyz"), "N*m", "moment about an axis by the turn about it, all else free",
                 least=0, infinite=_RIGID),
        Variable("frequency", (BATCH, "mode"), "Hz", "natural frequency, undamped", least=0, infinite="no more modes"),
        Variable("mode_cause", (BATCH, "mode"), "1", "what has the greatest share of the mode's strain energy", "str"),
        Variable("mode_energy", (BATCH, "mode", "cause"), "1", "share of each cause in the mode's strain energy",
                 least=0, greatest=1),
        Variable("mode_motion", (BATCH, "mode"), "1", "which way the tool point swings, world", "str"),
    ),
    (_LOAD, _NOT_COUNTED, BASE_POSITION, TRACK_SPAN),
)  # fmt: skip

_END = ("tube", "end")
_UNKNOWN = "yield, or what a weld leaves of it, not known"

LINK_STRESS = Study(
    "link_stress",
    "the greatest stress at both ends of every tube and between, against yield",
    (
        JOINT, JOINT_UNIT,
        Variable("tube", ("tube",), "1", "link and name of each tube", "str"),
        Variable("end", ("end",), "1", '"near" the base, "far", or "between"', "str"),
        Variable("kind", ("kind",), "1", "kinds of cases", "str"),
    ),
    (
        Variable("von_mises", _END, "Pa", "greatest von Mises stress, nominal, by beam theory", least=0),
        Variable("normal_stress", _END, "Pa", "greatest normal stress of the section then", least=0),
        Variable("shear_stress", _END, "Pa", "greatest shear stress of the section then", least=0),
        Variable("station", _END, "1", "where along the tube: 0 its near end, 1 its far one", least=0, greatest=1),
        Variable("allowed_stress", _END, "Pa", "yield strength, with what a weld leaves of it", nan=_UNKNOWN),
        Variable("safety", _END, "1", "allowed by greatest stress: more is better", least=0, nan=_UNKNOWN,
                 infinite="no stress"),
        Variable("wanted_safety", ("tube",), "1", "safety that was asked for, or 1.5 (common practice, no source)"),
        Variable("von_mises_of_kind", (*_END, "kind"), "Pa", "greatest von Mises stress in the cases of each kind",
                 nan="no such cases"),
        Variable("case", _END, "1", "the case in which it is greatest", "str"),
        Variable("case_kind", _END, "1", "its kind", "str"),
        Variable("time", _END, "s", "when in that case", nan="at rest"),
        Variable("q", (*_END, "joint"), "1", "joint positions then, in joint_unit"),
        Variable("load_mass", _END, "kg", "mass of the load carried then", least=0),
        Variable("wall_slenderness", ("tube",), "1", "slenderness of the wall by its limit against buckling before it "
                 "yields (EN 1993-1-1 table 5.2, class 3, memory); above 1 the check does not hold", least=0,
                 nan="yield not known"),
    ),
    (_NOT_COUNTED, BASE_POSITION, TRACK_SPAN),
)  # fmt: skip

STRUCTURE_STUDIES = (SAG, SAG_OVER_REACH, STIFFNESS, LINK_STRESS)
