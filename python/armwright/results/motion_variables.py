"""Result variables of cycles of moves."""

from __future__ import annotations

from armwright.results.terms import JOINT, JOINT_UNIT, XYZ, Attribute, Study, Variable

_ALONE = "nothing to come near"
_BASE = Attribute("base_position", "m", "origin of the arm's base in the world, at track position 0", required=False,
                  length=3)  # fmt: skip
_TRACK = Attribute("track_span", "m", "where the base is at both ends of the track: x, y, z, then x, y, z",
                   required=False, length=6)  # fmt: skip
_CYCLE = Attribute("cycle_name", "1", "name of the cycle", "str")
_MOTION_LIMITS = ("none", "joint_speed", "joint_acceleration", "joint_jerk", "tool_speed", "tool_acceleration",
                  "tool_jerk", "tool_turn_speed", "tool_turn_acceleration", "motor_speed", "motor_torque",
                  "stage_torque", "stage_speed", "duration")  # fmt: skip

MOTION = Study(
    "motion",
    "a cycle of moves, timed within every limit",
    (
        JOINT,
        JOINT_UNIT,
        Variable("move", ("move",), "1", "names of the moves", "str"),
        Variable("load_name", ("load_name",), "1", "names of the loads carried", "str"),
        XYZ,
    ),
    (
        Variable("time", ("time_point",), "s", "time; two stand at one time where the acceleration jumps", least=0),
        Variable("q", ("time_point", "joint"), "1", "joint positions, in joint_unit"),
        Variable("speed", ("time_point", "joint"), "1", "joint speeds, in joint_unit by s"),
        Variable("acceleration", ("time_point", "joint"), "1", "joint accelerations, in joint_unit by s²"),
        Variable("tool_position", ("time_point", "xyz"), "m", "tool point in the world"),
        Variable("tool_axis", ("time_point", "xyz"), "1", "direction of the tool's z axis in the world"),
        Variable("tool_speed", ("time_point",), "m/s", "speed of the tool point", least=0),
        Variable("tool_turn_speed", ("time_point",), "rad/s", "speed of the tool's turning", least=0),
        Variable("move_index", ("time_point",), "1", "which move: place in move", "int", least=0),
        Variable("load_index", ("time_point",), "1", "load carried: place in load_name, -1 for none", "int", least=-1),
        Variable("limit", ("time_point",), "1", "what holds the motion back", "int", flags=_MOTION_LIMITS, least=0),
        Variable("limit_axis", ("time_point",), "1", "whose limit that is: place in joint, -1 for the tool's",
                 "int", least=-1),
        Variable("clearance", ("time_point",), "m", "least distance to anything", required=False, infinite=_ALONE),
        Variable("move_start", ("move",), "s", "when the move begins", least=0),
        Variable("move_end", ("move",), "s", "when the move ends", least=0),
        Variable("move_tilt", ("move",), "rad", "how far the tool's axis leans from the work point's at the move's end",
                 nan="goes to no work point", least=0),
        Variable("move_clearance", ("move",), "m", "least clearance found along the move", required=False,
                 infinite=_ALONE),
        Variable("move_clearance_proven", ("move",), "m", "clearance that the move keeps everywhere on its way, proven",
                 required=False, infinite=_ALONE),
        Variable("move_clearance_kept", ("move",), "1", "the move keeps the clearance that each fixture asks for",
                 "bool", required=False),
        Variable("move_clearance_time", ("move",), "s", "when that is", required=False, nan="a move without rows"),
        Variable("move_clearance_name_a", ("move",), "1", "what comes nearest then", "str", required=False),
        Variable("move_clearance_name_b", ("move",), "1", "what it comes nearest to", "str", required=False),
    ),
    (_CYCLE, _BASE, _TRACK, Attribute("duration", "s", "of the whole cycle, waiting included")),
)
