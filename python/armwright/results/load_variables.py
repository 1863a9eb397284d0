"""What the results about loads held and moved hold, and what all maps share; see variables.py."""

from __future__ import annotations

from dataclasses import replace

from armwright.results.terms import BASE_POSITION, GRID, TRACK_SPAN, Attribute, Study, Variable

GRID_COORDS = tuple(
    Variable(name, (name,), "m", f"position of the tool point along world {name}") for name in GRID
)
NAN_OUT = "not reachable"
ALONE = "nothing to come near"
UNLIMITED = "no limit is known"
BASE, TRACK = BASE_POSITION, TRACK_SPAN
SPACING = Attribute("spacing", "m", "distance between grid positions")
DIRECTIONS = Attribute("directions", "1", "number of tool directions tried at each position", "int")
SPINS = Attribute("spins", "1", "number of turns about the tool axis tried in each direction", "int")
TRACK_STEP = Attribute("track_step", "m", "distance between track positions tried, at most", required=False)
MARGIN = Attribute("margin", "m", "clearance that was required")

_LIMITS = ("continuous", "peak")
_LOAD_CENTRE = Attribute("load_centre", "m", "the load's centre of gravity, from the tool frame", length=3)
_ATTITUDE = Attribute("attitude", "1", "tool attitude asked for", "str", choices=("any", "down", "level"))
LIMIT = Attribute("limit", "1", "which torque limit counts", "str", choices=_LIMITS)

_PARTS = ('names of the parts that set limits: "stated" where a torque is told of the joint itself, else the name of '
          "the motor or the stage")
LOADED_COORDS = (
    Variable("joint_names", ("joint_names",), "1", "names of the joints, the track first", "str"),
    Variable("part_names", ("part_names",), "1", _PARTS, "str", required=False),
    Variable("distance", ("distance",), "m", "horizontal distance from axis 1", required=False, least=0),
    Variable("height", ("height",), "m", "height of the tool point in the world", required=False),
)

PAYLOAD_MAP = Study(
    "payload_map",
    "how much the arm holds at each position, and which joint gives out first",
    (
        *GRID_COORDS,
        *LOADED_COORDS,
    ),
    (
        Variable("mass_greatest", GRID, "kg", "greatest mass held over the reachable attitudes", nan=NAN_OUT,
                 infinite=UNLIMITED),
        Variable("mass_least", GRID, "kg", "least mass held over the reachable attitudes", required=False,
                 nan=NAN_OUT, infinite=UNLIMITED),
        Variable("limiting_joint", GRID, "1",
                 "joint that gives out first at the greatest mass: place in joint_names, -1 for none", "int", least=-1),
        Variable("limiting_joint_least", GRID, "1",
                 "joint that gives out first at the least mass: place in joint_names, -1 for none", "int",
                 required=False, least=-1),
        Variable("limiting_limit", GRID, "1", "limit that is met first at the greatest mass, -1 for none", "int",
                 required=False, flags=_LIMITS, least=-1),
        Variable("limiting_part", GRID, "1",
                 "part that gives out first at the greatest mass: place in part_names, -1 for none", "int",
                 required=False, least=-1),
        Variable("limiting_part_least", GRID, "1",
                 "part that gives out first at the least mass: place in part_names, -1 for none", "int",
                 required=False, least=-1),
        Variable("curve_mass", ("height", "distance"), "kg", "greatest mass held at that distance and height",
                 required=False, nan=NAN_OUT, infinite=UNLIMITED),
        Variable("curve_mass_any_height", ("distance",), "kg", "greatest mass held at that distance, at any height",
                 required=False, nan=NAN_OUT, infinite=UNLIMITED),
    ),
    (_LOAD_CENTRE, _ATTITUDE, LIMIT, TRACK_STEP, BASE, TRACK,
     *(replace(attribute, required=False) for attribute in (SPACING, DIRECTIONS, SPINS, MARGIN))),
)

_MOVING_LIMITS = ("stated_torque", "motor_torque", "stage_torque", "motor_speed", "stage_speed", "joint_acceleration",
                  "singular_posture")
_DEMANDS = ("rest", "tool_acceleration", "joint_acceleration", "joint_speed")


def _of_both(name: str, meaning: str, flags: tuple[str, ...] = ()) -> tuple[Variable, Variable]:
    """A code at the greatest mass moved and at the least."""
    return (
        Variable(name, GRID, "1", f"{meaning} at the greatest mass moved, -1 for none", "int", flags=flags, least=-1),
        Variable(f"{name}_least", GRID, "1", f"{meaning} at the least mass moved, -1 for none", "int", flags=flags,
                 least=-1),
    )


PAYLOAD_AT_SPEED = Study(
    "payload_at_speed",
    "how much the arm moves as asked at each position, and which part gives out first, beside what it holds at rest",
    (*GRID_COORDS, *LOADED_COORDS),
    (
        Variable("rest_mass_greatest", GRID, "kg", "greatest mass held at rest over the reachable attitudes",
                 nan=NAN_OUT, infinite=UNLIMITED),
        Variable("rest_mass_least", GRID, "kg", "least mass held at rest over the reachable attitudes", nan=NAN_OUT,
                 infinite=UNLIMITED),
        Variable("rest_joint", GRID, "1", "joint that gives out first at the greatest mass at rest: place in "
                 "joint_names, -1 for none", "int", least=-1),
        Variable("rest_joint_least", GRID, "1", "joint that gives out first at the least mass at rest: place in "
                 "joint_names, -1 for none", "int", least=-1),
        Variable("rest_part", GRID, "1", "part that gives out first at the greatest mass at rest: place in part_names, "
                 "-1 for none", "int", least=-1),
        Variable("mass_greatest", GRID, "kg", "greatest mass moved as asked over the reachable attitudes; 0 where the "
                 "arm cannot move itself so", nan=NAN_OUT, infinite=UNLIMITED),
        Variable("mass_least", GRID, "kg", "least mass moved as asked over the reachable attitudes; 0 where the arm "
                 "cannot move itself so", nan=NAN_OUT, infinite=UNLIMITED),
        *_of_both("limiting_joint", "place in joint_names of the joint that gives out first"),
        *_of_both("limiting_part", "place in part_names of the part that gives out first"),
        *_of_both("limiting_limit", "limit that is met first", _MOVING_LIMITS),
        *_of_both("limiting_demand", "what was asked where it is met", _DEMANDS),
        Variable("rest_curve_mass", ("height", "distance"), "kg",
                 "greatest mass held at rest at that distance and height", nan=NAN_OUT, infinite=UNLIMITED),
        Variable("curve_mass", ("height", "distance"), "kg",
                 "greatest mass moved as asked at that distance and height", nan=NAN_OUT, infinite=UNLIMITED),
        Variable("rest_curve_mass_any_height", ("distance",), "kg",
                 "greatest mass held at rest at that distance, at any height", nan=NAN_OUT, infinite=UNLIMITED),
        Variable("curve_mass_any_height", ("distance",), "kg",
                 "greatest mass moved as asked at that distance, at any height", nan=NAN_OUT, infinite=UNLIMITED),
    ),
    (
        _LOAD_CENTRE,
        Attribute("gyration", "m", "the load's radii of gyration about its centre, along the tool frame's axes",
                  length=3),
        _ATTITUDE,
        replace(LIMIT, meaning="which torque limit counts at rest; in motion the peak limits do"),
        Attribute("tool_acceleration", "m/s2", "acceleration of the tool point in any direction, from rest; 0: not "
                  "asked"),
        Attribute("turn_acceleration", "rad/s2", "turning acceleration of the tool about any axis, together with the "
                  "former; 0: not asked"),
        Attribute("joint_acceleration_share", "1", "share of the joints' greatest accelerations, all at once and each "
                  "either way, from rest; 0: not asked"),
        Attribute("speed_share", "1", "share of the joints' greatest speeds, all at once and each either way, with the "
                  "joint accelerations if they are asked too; 0: not asked"),
        TRACK_STEP, BASE, TRACK, SPACING, DIRECTIONS, SPINS, MARGIN,
    ),
)

LOAD_STUDIES = (PAYLOAD_MAP, PAYLOAD_AT_SPEED)
