"""What the results about lifting and service hold; see variables.py."""

from __future__ import annotations

from armwright.results.terms import BASE_POSITION, BATCH, JOINT, JOINT_UNIT, TRACK_SPAN, Attribute, Study, Variable

_XYZ = Variable("xyz", ("xyz",), "1", "components", "str", required=False)
_NO_BRAKE = "no brake"
_ANY = "it hangs anyhow: the centre of gravity is in the eye, to 1 mm"
_CAUTION = Attribute("caution", "1", "what to heed", "str")
_MISSING = Attribute("missing", "1", "what is not known, and not counted, one a line", "str")


def _hung(prefix: str, where: str) -> tuple[Variable, ...]:
    """How the arm hangs from each eye in a posture."""
    return (
        Variable(f"{prefix}tilt", ("eye",), "rad", f"by how much the arm leans off upright as it hangs {where}",
                 least=0, nan=_ANY),
        Variable(f"{prefix}sinks_towards", ("eye", "xyz"), "1", "direction across the upright, in the base's frame, of "
                 f"the side that goes down {where}", nan="none goes down"),
        Variable(f"{prefix}eye_point", ("eye", "xyz"), "m", f"the eye in the base's frame {where}"),
        Variable(f"{prefix}hung_torque", ("eye", "joint"), "N*m", "torque that each axis holds as it hangs "
                 f"{where} (of coupled joints by the coupling); N where it slides", nan=_ANY),
        Variable(f"{prefix}brake_factor", ("eye", "joint"), "1", "what each brake holds by its ratio over that "
                 f"{where}", least=0, nan=_NO_BRAKE, infinite="nothing to hold"),
        Variable(f"{prefix}holds", ("eye",), "1", f"brakes hold every joint that has something to hold as it hangs "
                 f"{where}", "bool"),
    )  # fmt: skip


LIFTING = Study(
    "lifting",
    "mass and centre of gravity of the arm, how it hangs from each lifting eye, and the posture that hangs level",
    (
        Variable("joint", ("joint",), "1", "names of the arm's joints", "str"), JOINT_UNIT, _XYZ,
        Variable("eye", ("eye",), "1", "names of the lifting eyes", "str"),
        Variable("part", ("part",), "1", "names of what is lifted: base link, links, tool", "str"),
    ),
    (
        Variable("q", ("joint",), "1", "posture asked about, in joint_unit"),
        Variable("part_mass", ("part",), "kg", "mass of each part", least=0),
        Variable("part_centre", ("part", "xyz"), "m", "its centre of gravity in the base's frame at q"),
        Variable("centre", ("xyz",), "m", "common centre of gravity in the base's frame at q"),
        *_hung("", "at q"),
        Variable("rated_mass", ("eye",), "kg", "what each eye may lift", least=0, nan="not told"),
        Variable("eye_safety", ("eye",), "1", "rated mass over the mass lifted: less than 1 is too little", least=0,
                 nan="no rated mass told"),
        Variable("brake_torque", ("joint",), "N*m", "what the brake holds at its joint by its ratio; N where it slides",
                 least=0, nan=_NO_BRAKE),
        Variable("level_found", ("eye",), "1", "a posture that hangs level was found", "bool"),
        Variable("level_q", ("eye", "joint"), "1", "that posture, or the least tilted one found, in joint_unit"),
        Variable("level_centre", ("eye", "xyz"), "m", "common centre of gravity in the base's frame there"),
        Variable("level_clearance", ("eye",), "m", "how far the arm is from itself there; negative where it overlaps",
                 infinite="nothing to come near"),
        *_hung("level_", "at level_q"),
    ),
    (
        Attribute("mass", "kg", "mass lifted"),
        Attribute("weight", "N", "what hangs on the eye, at rest"),
        Attribute("level_angle", "rad", "tilt up to which it counts as level"),
        Attribute("up", "1", "direction in the base's frame that is upright", length=3),
        Attribute("assumed", "1", "what the figures take for granted", "str"),
        _MISSING, _CAUTION, BASE_POSITION, TRACK_SPAN,
    ),
)  # fmt: skip

_NONE = "no posture that was tried is clear"


def _served(prefix: str, dims: tuple[str, ...], where: str, nan: str = "") -> tuple[Variable, ...]:
    """What is told of a service volume in a posture."""
    return (
        Variable(f"{prefix}distance", dims, "m", f"how near anything comes to the volume {where}; negative where "
                 "something stands in it", nan=nan, infinite="nothing to come near"),
        Variable(f"{prefix}nearest", dims, "1", f"what comes nearest {where}", "str"),
        Variable(f"{prefix}free", dims, "1", f"the volume is free {where}", "bool"),
        Variable(f"{prefix}arm_clearance", dims, "m", f"how far the arm itself is from everything {where}", nan=nan,
                 infinite="nothing to come near"),
        Variable(f"{prefix}unheld_torque", dims, "N*m", "torque that the motor's axis holds against weight and "
                 f"springs {where}: to be propped; N where it slides", nan=nan),
        Variable(f"{prefix}way_out", (*dims, "xyz"), "1", f"way out of the motor in the world {where}",
                 nan="not told" + (f", or {nan}" if nan else "")),
    )  # fmt: skip


SERVICE = Study(
    "service",
    "which motors can be reached and taken out, and in which posture",
    (JOINT, JOINT_UNIT, _XYZ, Variable("volume", ("volume",), "1", "names of the service volumes", "str")),
    (
        Variable("motor", ("volume",), "1", "joint that the motor moves", "str"),
        Variable("link", ("volume",), "1", "link that carries it", "str"),
        Variable("motor_mass", ("volume",), "kg", "mass of the motor", least=0, nan="not told"),
        Variable("held_without_motor", ("volume",), "1", "a brake at the joint itself stays when the motor goes",
                 "bool"),
        Variable("q", (BATCH, "joint"), "1", "postures asked about, in joint_unit"),
        *_served("", (BATCH, "volume"), "at q"),
        Variable("best_q", ("volume", "joint"), "1", "best posture found, in joint_unit", nan=_NONE),
        *_served("best_", ("volume",), "at best_q", _NONE),
        Variable("clear_share", ("volume",), "1", "share of the postures tried in which the arm is clear of everything",
                 least=0, greatest=1),
        Variable("free_share", ("volume",), "1", "share of those in which the volume is free", least=0, greatest=1,
                 nan=_NONE),
    ),
    (
        Attribute("margin", "m", "clearance that was required"),
        Attribute("samples", "1", "number of postures tried", "int"),
        _MISSING, _CAUTION, BASE_POSITION, TRACK_SPAN,
    ),
)  # fmt: skip

LIFTING_STUDIES = (LIFTING, SERVICE)
