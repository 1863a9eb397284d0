"""The result variables of what joints, mount and carriage bear."""

from __future__ import annotations

from armwright.results.terms import BASE_POSITION, JOINT, JOINT_UNIT, TRACK_SPAN, Attribute, Study, Variable

QUANTITIES = ("axial force", "radial force", "tilting moment", "axial torque")
ENDS = ("least", "greatest")
ROW_KINDS = ("rest", "cycle", "stop")
COMPONENTS = ("x", "y", "z")

_EXTREME = ("part", "quantity", "end")
_ROW, _COURSE = ("row_point",), ("row_point", "part")

JOINT_WRENCHES = Study(
    "joint_wrenches",
    "what every joint, the mount and the carriage bear at most and at least, and where",
    (
        Variable("part", ("part",), "1", "names of the arm's joints, then mount and carriage", "str"),
        Variable("quantity", ("quantity",), "1", "what is borne, told by the part's axis", "str"),
        Variable("quantity_unit", ("quantity",), "1", "its unit", "str"),
        Variable("end", ("end",), "1", "which extreme", "str"),
        Variable("component", ("component",), "1", "components in the part's own frame", "str"),
        JOINT,
        JOINT_UNIT,
        Variable("case", ("case",), "1", "names of the cases of loading", "str"),
        Variable("case_kind", ("case",), "1", "kind of the case", "int", flags=ROW_KINDS, least=0),
    ),
    (
        Variable("axis", ("part", "component"), "1",
                 "direction of the part's axis: of the joint, of the mounting face, up from the rails"),
        Variable("extreme", _EXTREME, "1", "the extreme, in quantity_unit: along the axis with its sign, square to it "
                 "the magnitude; moments about the origin of the part's frame"),
        Variable("extreme_case", _EXTREME, "1", "case in which that is: place in case", "int", least=0),
        Variable("extreme_time", _EXTREME, "s", "when in that case", nan="at rest"),
        Variable("extreme_row", _EXTREME, "1", "row in which that is: place among row_point", "int", least=0),
        Variable("posture", (*_EXTREME, "joint"), "1", "joint positions there, in joint_unit"),
        Variable("force", (*_EXTREME, "component"), "N", "whole force there, in the part's frame"),
        Variable("moment", (*_EXTREME, "component"), "N*m", "whole moment there, about the origin of the part's frame"),
        Variable("row_case", _ROW, "1", "case of each row: place in case", "int", least=0),
        Variable("row_time", _ROW, "s", "time of each row in its case", nan="at rest"),
        Variable("axial_force", _COURSE, "N", "force along the part's axis"),
        Variable("radial_force", _COURSE, "N", "force square to it", least=0),
        Variable("tilting_moment", _COURSE, "N*m", "moment square to it, about the origin of the part's frame",
                 least=0),
        Variable("axial_torque", _COURSE, "N*m", "moment about it: what drive, brake and friction of a joint carry"),
    ),
    (
        Attribute("senses", "1", "what puts the force on what", "str"),
        Attribute("missing", "1", "what was not looked at, and why, a line each", "str"),
        BASE_POSITION, TRACK_SPAN,
    ),
)  # fmt: skip

WRENCH_STUDIES = (JOINT_WRENCHES,)
