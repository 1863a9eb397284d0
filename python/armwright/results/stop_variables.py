"""What the results about stops and holding hold; see variables.py."""

from __future__ import annotations

from armwright.results.terms import BASE_POSITION, BATCH, JOINT, JOINT_UNIT, TRACK_SPAN, XYZ, Attribute, Study, Variable

_ENDS = "rest, still moving, end of range, or given up"
_NO_BRAKE = "no brake, or no rating told"
_PER_JOINT = (BATCH, "joint")
_STAGE = Variable("stage", ("stage",), "1", "place of a stage, 0 next to the motor", "int", least=0)
_STAGE_NAME = Variable("stage_name", ("joint", "stage"), "1", "names of the stages, next to the motor first", "str")
_NO_STAGE, _NO_PEAK = "no such stage", "no such stage, or no momentary peak told"
_OUTPUT = "N where it slides; without an impact's, that no rigid body tells"
_PEAK = Variable("stage_momentary_peak", ("joint", "stage"), "N*m", "what each stage bears at its output at a rare "
                 "emergency stop; N where it slides", least=0, nan=_NO_STAGE, infinite="not told")
_HOLD = (
    Attribute("hold_after", "s", "category 1: how long the motors hold the arm at rest while the brakes close; then "
              "the power goes"),
    Attribute("greatest_closing_delay", "s", "how long the slowest brake takes to close", required=False),
)
_LOAD = Attribute("load_mass", "kg", "mass of the load carried", required=False)

STOP = Study(
    "stop",
    "the motion after a stop is asked for",
    (
        JOINT, JOINT_UNIT, XYZ, _STAGE, _STAGE_NAME,
        Variable("time", ("time",), "s", "time from the stop signal", required=False, least=0),
    ),
    (
        Variable("end", (BATCH,), "1", f"how it ends: {_ENDS}", "str"),
        Variable("stop_time", (BATCH,), "s", "time from the signal to rest, or to where it was followed", least=0),
        Variable("power_off", (BATCH,), "s", "time from the signal to when the motors' power went", least=0,
                 nan="it never went"),
        Variable("saturated", (BATCH,), "1", "a motor could not give what slowing or holding asked for", "bool"),
        Variable("start", _PER_JOINT, "1", "joint positions at the signal, in joint_unit"),
        Variable("stopped_at", _PER_JOINT, "1", "joint positions at the end, in joint_unit"),
        Variable("start_speed", _PER_JOINT, "1", "joint speeds at the signal, in joint_unit a second"),
        Variable("travel", _PER_JOINT, "1", "way of each joint, there and back added up, in joint_unit", least=0),
        Variable("top_speed", _PER_JOINT, "1", "greatest speed of each joint, in joint_unit a second", least=0),
        Variable("impact_speed", _PER_JOINT, "1",
                 "speed with which a joint first met the end of its range, in joint_unit a second; 0 where it did not",
                 least=0),
        Variable("impact_time", _PER_JOINT, "s", "when a joint first met the end of its range", nan="it did not"),
        Variable("brake_energy", _PER_JOINT, "J", "energy into each axis' brake", least=0),
        Variable("brake_energy_share", _PER_JOINT, "1", "energy into each axis' brake over its rating for a stop",
                 least=0, nan=_NO_BRAKE),
        Variable("stage_torque", (*_PER_JOINT, "stage"), "N*m", "greatest torque at each stage's output, its "
                 f"magnitude; {_OUTPUT}", least=0, nan=_NO_STAGE),
        Variable("stage_torque_time", (*_PER_JOINT, "stage"), "s", "when that was", least=0,
                 nan="no such stage, or no torque at all"),
        Variable("stage_torque_share", (*_PER_JOINT, "stage"), "1", "that torque over the stage's momentary peak: more "
                 "than 1 is too much", least=0, nan=_NO_PEAK),
        _PEAK,
        Variable("tool_travel", (BATCH,), "m", "distance of the tool point at the end from where it was", least=0),
        Variable("tool_path", (BATCH,), "m", "length of the tool point's way", least=0),
        Variable("tool_drop", (BATCH,), "m", "how far the tool point was below its start at the lowest", least=0),
        Variable("tool_top_speed", (BATCH,), "m/s", "greatest speed of the tool point", least=0),
        Variable("position", ("time", "joint"), "1", "joint positions over time, in joint_unit", required=False),
        Variable("speed", ("time", "joint"), "1", "joint speeds over time, in joint_unit a second", required=False),
        Variable("tool_position", ("time", "xyz"), "m", "the tool point over time, in the world", required=False),
    ),
    (
        Attribute("category", "1", "stop category of IEC 60204-1: 0 power off at once, 1 controlled, then off", "int"),
        Attribute("reaction", "s", "time from the signal until anything happens"), *_HOLD,
        Attribute("time_limit", "s", "how long it was followed at most"),
        _LOAD, BASE_POSITION, TRACK_SPAN,
    ),
)

_TABLE = ("axis", "category", "speed_share", "load_share", "extension_share")
_SHARE = "share of the {}"

STOP_TABLE = Study(
    "stop_table",
    "stopping times and distances at shares of speed, load and extension, as ISO 10218-1 (2011), annex B, asks for",
    (
        Variable("axis", ("axis",), "1", "names of the axes that move, one at a time", "str"),
        Variable("axis_unit", ("axis",), "1", 'unit of each axis: "m" where it slides, else "rad"', "str"),
        Variable("category", ("category",), "1", "stop category of IEC 60204-1", "int", least=0, greatest=1),
        Variable("speed_share", ("speed_share",), "1", _SHARE.format("axis' greatest speed"), least=0, greatest=1),
        Variable("load_share", ("load_share",), "1", _SHARE.format("rated load"), least=0, greatest=1),
        Variable("extension_share", ("extension_share",), "1", _SHARE.format("greatest extension"), least=0,
                 greatest=1),
        JOINT, JOINT_UNIT, _STAGE, _STAGE_NAME,
    ),
    (
        Variable("stop_time", _TABLE, "s", "time from the signal to rest, or to where it was followed", least=0),
        Variable("travel", _TABLE, "1", "way of the axis that moves, in axis_unit", least=0),
        Variable("tool_travel", _TABLE, "m", "distance of the tool point at rest from where it was", least=0),
        Variable("tool_path", _TABLE, "m", "length of the tool point's way", least=0),
        Variable("tool_drop", _TABLE, "m", "how far the tool point was below its start at the lowest", least=0),
        Variable("tool_top_speed", _TABLE, "m/s", "greatest speed of the tool point", least=0),
        Variable("brake_energy", _TABLE, "J", "energy into the brake of the axis that moves", least=0),
        Variable("saturated", _TABLE, "1", "a motor could not give what slowing or holding asked for", "bool"),
        Variable("end", _TABLE, "1", f"how it ends: {_ENDS}", "str"),
        Variable("required", _TABLE, "1", "annex B asks for this row", "bool"),
        Variable("stage_share", _TABLE, "1", "greatest torque of any stage of any axis in the stop over its momentary "
                 "peak: more than 1 is too much", least=0, nan="no momentary peak told"),
        Variable("stage_torque", ("joint", "stage"), "N*m", "greatest torque at each stage's output in all stops of "
                 f"the table, its magnitude; {_OUTPUT}", least=0, nan=_NO_STAGE),
        Variable("stage_torque_share", ("joint", "stage"), "1", "that torque over the stage's momentary peak: more "
                 "than 1 is too much", least=0, nan=_NO_PEAK),
        Variable("stage_torque_case", ("joint", "stage"), "1", "in which stop that was", "str"),
        _PEAK,
        Variable("axis_speed", ("axis",), "1", "greatest speed of each axis, with the sense in which it moves, in "
                 "axis_unit a second"),
        Variable("posture", ("extension_share", "joint"), "1", "joint positions at the signal, in joint_unit"),
        Variable("extension", ("extension_share",), "m", "distance of the load's centre from the line of axis 1",
                 least=0),
    ),
    (
        Attribute("reaction", "s", "time from the signal until anything happens"), *_HOLD,
        Attribute("rule", "1", "how the postures were chosen", "str"),
        _LOAD, BASE_POSITION, TRACK_SPAN,
    ),
)

HOLDING = Study(
    "holding",
    "what every axis has to hold at worst, and whether its brake does",
    (
        JOINT, JOINT_UNIT,
        Variable("posture_joint", ("posture_joint",), "1", "names of the joints of a posture", "str"),
    ),
    (
        Variable("torque_bound", ("joint",), "1",
                 "torque that the axis never has to hold more than, at any posture: proven; N m, N where it slides",
                 least=0, infinite="no bound: a joint before it slides without end"),
        Variable("torque_found", ("joint",), "1", "the most that was found, N m, N where it slides", least=0),
        Variable("gap", ("joint",), "1", "share by which the bound is above what was found", least=0,
                 infinite="no bound"),
        Variable("worst_posture", ("joint", "posture_joint"), "1", "where the most was found, in joint_unit"),
        Variable("springs_counted", ("joint",), "1",
                 "the counterbalance springs at this axis are in the bound exactly; else they are bounded apart",
                 "bool"),
        Variable("brake_torque", ("joint",), "1",
                 "torque of the brake carried to the axis by the ratio alone, N m, N where it slides", least=0,
                 nan="no brake"),
        Variable("brake_torque_driven_back", ("joint",), "1",
                 "the same with the losses of the stages when driven back, which help: for information; N m, N where it"
                 " slides", least=0, nan="no brake"),
        Variable("factor", ("joint",), "1", "brake_torque over torque_bound", least=0, nan="no brake",
                 infinite="nothing to hold"),
        Variable("holds", ("joint",), "1", "the brake holds at every posture; without one: nothing to hold", "bool"),
        Variable("drop", ("joint",), "m", "how far the tool drops from the worst posture of this axis when the power "
                 "goes at rest", least=0),
        Variable("drop_time", ("joint",), "s", "until it stands, or to where it was followed", least=0),
        Variable("drop_end", ("joint",), "1", f"how that ends: {_ENDS}", "str"),
        Variable("fall_speed", ("joint",), "1", "greatest speed of the axis meanwhile, in joint_unit a second",
                 least=0),
        Variable("fall_impact_speed", ("joint",), "1",
                 "speed with which the axis meets the end of its range, in joint_unit a second; 0 where it does not",
                 least=0),
    ),
    (
        Attribute("asked_gap", "1", "relative gap between bound and what was found at which the search ends"),
        _LOAD, BASE_POSITION, TRACK_SPAN,
    ),
)

STOP_STUDIES = (STOP, STOP_TABLE, HOLDING)
