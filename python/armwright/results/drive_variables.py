"""The result variables of the studies over drives: drive check, power, payload against time, setpoints, switches,
separation."""

from __future__ import annotations

from dataclasses import replace

from armwright.results.terms import BASE_POSITION, JOINT_UNIT, TRACK_SPAN, Attribute, Study, Variable

CHECK_LIMITS = (
    "motor_peak_torque", "motor_continuous_torque", "motor_speed", "stage_peak_torque", "stage_mean_torque",
    "stage_speed", "stage_mean_speed", "stated_peak_torque", "stated_continuous_torque", "joint_speed",
    "joint_acceleration",
)  # fmt: skip
DUTY_TYPES = ("S1", "S2", "S3", "S4", "S5", "S6", "S7", "S8")

_UNKNOWN, _ALL_OF_IT, _NO_STAGE = "not told", "all of the cycle counts", "no such stage"
_MOTOR = "N where the motor itself slides"
_INSTANT, _OF_JOINT, _OF_STAGE, _COURSE = ("time_point",), ("joint",), ("joint", "stage"), ("time_point", "joint")

_JOINT = Variable("joint", ("joint",), "1", "names of the joints, the track first; axis k is what drive k turns", "str")
_TIME = Variable("time", _INSTANT, "s", "time; an instant stands twice where something jumps", least=0)
_MOVE = Variable("move", _INSTANT, "1", "place of the move in the cycle", "int")
_LOAD = Variable("load", _INSTANT, "1", "place of what is carried, -1 for nothing", "int", least=-1)
_STAGE_NAME = Variable("stage_name", _OF_STAGE, "1", "names of the stages, next to the motor first", "str")
_Q = Variable("q", _COURSE, "1", "joint positions, in joint_unit")
_QD = Variable("qd", _COURSE, "1", "joint speeds, joint_unit a second")
_QDD = Variable("qdd", _COURSE, "1", "joint accelerations, joint_unit a second squared")
_JOINT_TORQUE = Variable("joint_torque", _COURSE, "N*m", "torque that links, tool and load need; N where it slides")
_MOTOR_TORQUE = Variable("motor_torque", _COURSE, "N*m", f"motor torque; {_MOTOR}")
_MOTOR_SPEED = Variable("motor_speed", _COURSE, "rad/s", "motor speed; m/s where the motor itself slides")

_DURATION = Attribute("duration", "s", "duration of the cycle")
_STEP = Attribute("step", "s", "greatest time between two instants while anything moves")
_REPEATED = Attribute("repeated", "1", "1 if the cycle goes on and on, 0 if it runs once", "int")
_CAUTION = Attribute("caution", "1", "what to mind", "str")
_PLACE = (BASE_POSITION, TRACK_SPAN)


def _over(name: str, dims: tuple[str, ...], unit: str, meaning: str, nan: str = "", infinite: str = "") -> Variable:
    return Variable(name, dims, unit, meaning, nan=nan, infinite=infinite)


DRIVE_CHECK = Study(
    "drive_check",
    "what a cycle asks of every motor and stage, against what they bear, and which gives out first",
    (
        _JOINT, JOINT_UNIT, _STAGE_NAME,
        Variable("stage", ("stage",), "1", "place of a stage, 0 next to the motor", "int", least=0),
        Variable("check", ("check",), "1", "names of the limits that are known", "str"),
    ),
    (
        Variable("share", ("check",), "1", "load as a share of what is allowed: more than 1 is too much", least=0,
                 infinite="nothing is allowed"),
        Variable("share_joint", ("check",), "1", "joint of that limit: place in joint", "int", least=0),
        Variable("share_part", ("check",), "1", 'its part: "motor", a stage, "stated" torque, "joint"', "str"),
        Variable("share_limit", ("check",), "1", "kind of that limit", "int", flags=CHECK_LIMITS, least=0),
        Variable("share_time", ("check",), "s", "when it is worst", nan=_ALL_OF_IT),
        Variable("has_drive", _OF_JOINT, "1", "a drive is described; else figures are those of the axis itself",
                 "bool"),
        _over("motor_peak_torque", _OF_JOINT, "N*m", f"greatest motor torque; {_MOTOR}"),
        _over("motor_rms_torque", _OF_JOINT, "N*m", f"root mean square of the motor torque over the cycle; {_MOTOR}"),
        _over("motor_mean_speed", _OF_JOINT, "rad/s", "mean magnitude of the motor speed over the cycle"),
        _over("motor_rms_speed", _OF_JOINT, "rad/s", "root mean square of the motor speed over the cycle"),
        _over("motor_greatest_speed", _OF_JOINT, "rad/s", "greatest motor speed"),
        _over("motor_continuous_torque", _OF_JOINT, "N*m", "continuous curve at the root mean square of the speed",
              infinite="no drive is described"),
        _over("motor_worst_time", _OF_JOINT, "s", "when the torque is nearest to the peak curve", _UNKNOWN),
        Variable("duty_type", _OF_JOINT, "1", "duty type by IEC 60034-1, as far as a cycle can tell", "int",
                 flags=DUTY_TYPES, least=0),
        _over("duration_factor", _OF_JOINT, "1", "cyclic duration factor: share of the time not at rest"),
        _over("inertia_ratio_least", _OF_JOINT, "1", "least load inertia over motor inertia, at the motor", _UNKNOWN),
        _over("inertia_ratio_greatest", _OF_JOINT, "1", "greatest load inertia over motor inertia, at the motor",
              _UNKNOWN),
        _over("stage_peak_torque", _OF_STAGE, "N*m", "greatest output torque; N where it slides", _NO_STAGE),
        _over("stage_rms_torque", _OF_STAGE, "N*m", "root mean square of the output torque; N where it slides",
              _NO_STAGE),
        _over("stage_mean_torque", _OF_STAGE, "N*m", "output torque, mean powered by the life exponent; N where it "
              "slides", _NO_STAGE),
        _over("stage_mean_input_speed", _OF_STAGE, "rad/s", "mean input speed over the cycle", _NO_STAGE),
        _over("stage_greatest_input_speed", _OF_STAGE, "rad/s", "greatest input speed", _NO_STAGE),
        _over("stage_life", _OF_STAGE, "s", "life at this cycle, by the stage's own rating",
              "no such stage, or no rated life", "nothing wears it"),
        _over("stage_past_peaks", _OF_STAGE, "1", "how many times a cycle goes beyond the repeated peak", _NO_STAGE),
        _over("stage_past_peak_time", _OF_STAGE, "s", "time beyond the repeated peak", _NO_STAGE),
        _over("stage_allowed_peaks", _OF_STAGE, "1", "momentary peaks of the longest kind that a strain wave reducer "
              "stands in its life", "none, or no such stage", "no end"),
        _TIME, _MOVE, _LOAD, _Q, _QD, _JOINT_TORQUE, _MOTOR_TORQUE, _MOTOR_SPEED,
        _over("motor_torque_limit", _COURSE, "N*m", f"peak curve at the motor's speed; {_MOTOR}", infinite="no drive"),
        _over("stage_torque", ("time_point", "joint", "stage"), "N*m", "output torque; N where it slides", _NO_STAGE),
        _over("curve_speed", ("joint", "curve_point"), "rad/s", "speeds of the motor curves; m/s where the motor "
              "itself slides", "end of the curve"),
        _over("curve_continuous", ("joint", "curve_point"), "N*m", f"continuous torque; {_MOTOR}", "end of the curve"),
        _over("curve_peak", ("joint", "curve_point"), "N*m", "peak torque", "end of the curve"),
    ),
    (
        _DURATION, _STEP, _REPEATED, *_PLACE,
        Attribute("weakest", "1", "what is loaded most", "str"),
        Attribute("weakest_share", "1", "its share", required=False),
        Attribute("speed_factor", "1", "how many times faster it could run, standing times kept; a limit on "
                  "jerk does not count", required=False),
        Attribute("speed_limit", "1", "what then gives out first", "str"),
        Attribute("load_factor", "1", "by what factor all loads could grow", required=False),
        Attribute("load_limit", "1", "what then gives out first", "str"),
        Attribute("load_mass", "kg", "heaviest load carried", required=False),
        Attribute("greatest_load_mass", "kg", "that load grown by the factor", required=False),
    ),
)  # fmt: skip

POWER = Study(
    "power",
    "what the drives draw from the supply through a cycle, and where what returns goes",
    (_JOINT, JOINT_UNIT),
    (
        _TIME, _MOVE,
        Variable("mechanical_power", _COURSE, "W", "power at the motor's shaft"),
        Variable("winding_power", _COURSE, "W", "copper loss", least=0),
        Variable("friction_power", _COURSE, "W", "lost between motor and axis; part of mechanical_power"),
        Variable("axis_power", _COURSE, "W", "mechanical and winding power: what the axis draws from the bus"),
        Variable("electrical_power", _INSTANT, "W", "sum over all axes; negative where it returns"),
        _over("motor_current_rms", _OF_JOINT, "A", "root mean square of the current in a motor lead", _UNKNOWN),
        _over("motor_current_peak", _OF_JOINT, "A", "greatest current in a motor lead, rms of the sine", _UNKNOWN),
    ),
    (
        _DURATION, _STEP, _REPEATED, _CAUTION, *_PLACE,
        *(
            Attribute(name, unit, meaning)
            for name, unit, meaning in (
                ("electrical_peak", "W", "greatest sum of all axes at once, at the bus"),
                ("electrical_rms", "W", "its root mean square"),
                ("electrical_mean", "W", "its mean, what returns taken off"),
                ("return_peak", "W", "greatest power that returns"),
                ("returned_energy", "J", "what returns in a cycle"),
                ("stored_energy", "J", "most that the bus capacitor takes"),
                ("bus_greatest_voltage", "V", "greatest voltage of the bus"),
                ("resistor_energy", "J", "what the brake resistor takes in a cycle"),
                ("resistor_peak", "W", "its greatest power"),
                ("resistor_mean", "W", "its mean power over the cycle"),
                ("resistor_time", "s", "how long it is on in a cycle"),
                ("mains_energy", "J", "what the bus takes from the rectifier in a cycle"),
                ("mains_peak", "W", "greatest power at the mains, standing power and efficiency counted"),
                ("mains_rms", "W", "its root mean square"),
                ("mains_mean", "W", "its mean"),
                ("current_peak", "A", "greatest mains current in a line, rms of the sine"),
                ("current_rms", "A", "its root mean square"),
                ("mains_voltage", "V", "voltage of the mains; between lines if there are three phases"),
                ("power_factor", "1", "power factor"),
            )
        ),
        Attribute("phases", "1", "phases of the mains", "int"),
        Attribute("resistor_needed", "ohm", "most resistance that takes the peak", required=False),
        Attribute("resistor_peak_share", "1", "peak over what the resistor takes at its voltage", required=False),
        Attribute("resistor_mean_share", "1", "mean power over the resistor's own rating", required=False),
        Attribute("branch_share", "1", "mains current (rms) over what the branch circuit allows", required=False),
        Attribute("branch_power", "W", "power at the bus for which the branch circuit allows, as a root mean square",
                  required=False),
        Attribute("branch_rule", "1", "what the branch circuit allows", "str", required=False),
    ),
)  # fmt: skip

PAYLOAD_AGAINST_TIME = Study(
    "payload_against_time",
    "what a cycle could carry if it were run slower or faster, by the factor of its time",
    (
        Variable("slowing", ("slowing",), "1", "how many times as slow: 1 as timed, below 1 faster", least=0,
                 infinite="so slow that only weight counts"),
        Variable("joint_names", ("joint_names",), "1", "names of the joints, the track first", "str"),
    ),
    (
        Variable("duration", ("slowing",), "s", "duration of the cycle, standing times kept", least=0,
                 infinite="no end"),
        *(
            Variable(name, ("slowing",), "kg", meaning, least=0, infinite="no limit is known")
            for name, meaning in (
                ("mass", "greatest mass of the heaviest load, all loads grown alike"),
                ("mass_peak", "the same by peak limits and speeds alone"),
                ("mass_continuous", "the same by limits of means over the cycle alone"),
            )
        ),
        Variable("limiting_joint", ("slowing",), "1", "joint that gives out first: place in joint_names, -1 for none",
                 "int", least=-1),
        Variable("limiting_part", ("slowing",), "1", '"motor", a stage, "stated", "joint"; "" for none', "str"),
        Variable("limiting_limit", ("slowing",), "1", "kind of that limit, -1 for none", "int", flags=CHECK_LIMITS,
                 least=-1),
        Variable("limiting_time", ("slowing",), "s", "when in the cycle as timed", nan=_ALL_OF_IT),
    ),
    (
        _STEP, *_PLACE,
        Attribute("load_mass", "kg", "mass of the heaviest load as described"),
        Attribute("load_centre", "m", "its centre of gravity, from the tool frame", length=3),
    ),
)  # fmt: skip

SETPOINTS = Study(
    "setpoints",
    "a timed cycle at a fixed rate, as a controller takes it",
    (_JOINT, JOINT_UNIT),
    (
        replace(_TIME, long_name="time from the start"), _MOVE, _LOAD, _Q, _QD, _QDD,
        Variable("motor_position", _COURSE, "rad", "motor angle from where all joints are at 0; m where the motor "
                 "itself slides"),
        _MOTOR_SPEED, _JOINT_TORQUE, _MOTOR_TORQUE,
        _over("motor_counts", _COURSE, "1", "encoder counts from where all joints are at 0, rounded", _UNKNOWN),
        _over("greatest_pulse_rate", _OF_JOINT, "1/s", "greatest rate of encoder counts", _UNKNOWN),
    ),
    (_DURATION, Attribute("rate", "1/s", "setpoints a second"), *_PLACE),
)  # fmt: skip

SWITCHES = Study(
    "switches",
    "where soft limits and limit switches go, so that every stop ends before the hard stop",
    (_JOINT, JOINT_UNIT, Variable("end", ("end",), "1", '"lower" or "upper"', "str")),
    tuple(
        Variable(name, ("joint", "end"), "1", f"{meaning}, in joint_unit", nan="no such end, or no stop before it")
        for name, meaning in (
            ("hard_stop", "hard stop"),
            ("limit_switch", "limit switch, which takes the power off"),
            ("soft_limit", "soft limit, from which a controlled stop begins"),
            ("brake_travel", "travel of a stop by brakes from the switch on"),
            ("controlled_travel", "travel of a controlled stop from the soft limit on"),
        )
    ),
    (
        Attribute("switch_error", "1", "how far a switch may be passed before it answers, in joint_unit"),
        Attribute("reserve", "1", "what is left before the hard stop, in joint_unit"),
        Attribute("rule", "1", "where the travels come from", "str"),
        _CAUTION, *_PLACE,
    ),
)  # fmt: skip

SEPARATION = Study(
    "separation",
    "least distance of safeguards from the danger zone by ISO 13855: S = K T + C",
    (Variable("safeguard", ("safeguard",), "1", "kinds of safeguards", "str"),),
    (
        Variable("distance", ("safeguard",), "m", "least distance from the danger zone", least=0),
        Variable("approach_speed", ("safeguard",), "m/s", "K that counts"),
        Variable("intrusion", ("safeguard",), "m", "C that counts", least=0),
    ),
    (
        Attribute("stop_time", "s", "from the safeguard's answer to standstill"),
        Attribute("resolution", "m", "of the light curtain"),
        Attribute("height", "m", "of the field along the way in"),
        Attribute("reach_through", "m", "through the opening of an interlocked guard"),
        Attribute("coarsest_resolution", "m", "that a field at that height may have"),
        _CAUTION, *_PLACE,
    ),
)  # fmt: skip

DRIVE_STUDIES = (DRIVE_CHECK, POWER, PAYLOAD_AGAINST_TIME, SETPOINTS, SWITCHES, SEPARATION)
