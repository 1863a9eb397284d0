"""Every result variable, coordinate and attribute: dims, unit, meaning. A data set may hold nothing else."""

from __future__ import annotations

from dataclasses import replace

from armwright.results.base_variables import BASE_LOADS
from armwright.results.bearing_variables import BEARING_STUDIES
from armwright.results.design_variables import DESIGN_STUDIES
from armwright.results.drive_variables import DRIVE_STUDIES
from armwright.results.guide_variables import TRACK_LOADS
from armwright.results.lifting_variables import LIFTING_STUDIES
from armwright.results.load_variables import (
    ALONE,
    BASE,
    DIRECTIONS,
    GRID_COORDS,
    LIMIT,
    LOAD_STUDIES,
    MARGIN,
    NAN_OUT,
    SPACING,
    SPINS,
    TRACK,
    TRACK_STEP,
    UNLIMITED,
)
from armwright.results.motion_variables import MOTION
from armwright.results.part_variables import PART_LOADS
from armwright.results.placement_variables import PLACEMENT_STUDIES
from armwright.results.stop_variables import STOP_STUDIES
from armwright.results.structure_variables import STRUCTURE_STUDIES
from armwright.results.terms import BATCH, COMMON_ATTRIBUTES, GRID, JOINT, JOINT_UNIT, XYZ, Attribute, Study, Variable
from armwright.results.track_variables import TRACK_STUDIES
from armwright.results.truth_variables import TOOL_ERROR
from armwright.results.wrench_variables import WRENCH_STUDIES

__all__ = ["BATCH", "COMMON_ATTRIBUTES", "GRID", "STUDIES", "Attribute", "Study", "Variable", "all_tables", "table"]

REACH_MAP = Study(
    "reach_map",
    "which positions the tool point reaches, and in how many attitudes",
    GRID_COORDS,
    (
        Variable("reach_index", GRID, "1", "reach index: share of attitudes reachable", least=0, greatest=1),
        Variable("reachable", GRID, "1", "reachable in at least one attitude", "bool"),
        Variable("limit_margin", GRID, "1", "best distance to the joint limits: 0 at a limit, 1 at mid-range",
                 required=False, least=0, greatest=1, nan=NAN_OUT),
        Variable("manipulability", GRID, "1",
                 "best manipulability: root of det(J Jᵀ), in SI units of the Jacobian's rows",
                 required=False, least=0, nan=NAN_OUT),
        Variable("clearance", GRID, "m", "greatest clearance over the reachable attitudes", required=False,
                 nan=NAN_OUT, infinite=ALONE),
        Variable("track_lower", GRID, "m", "least track position that reaches it", required=False, nan=NAN_OUT),
        Variable("track_upper", GRID, "m", "greatest track position that reaches it", required=False, nan=NAN_OUT),
    ),
    (
        SPACING, DIRECTIONS, SPINS, MARGIN, TRACK_STEP, BASE, TRACK,
        Attribute("reachable_volume", "m3", "volume of the positions reached"),
        Attribute("reachable_volume_error", "m3", "estimated error of the reachable volume, from two spacings"),
        Attribute("dexterous_volume", "m3",
                  "volume of the positions reached in at least the dexterous share of attitudes"),
        Attribute("dexterous_volume_error", "m3", "estimated error of the dexterous volume, from two spacings"),
        Attribute("dexterous_share", "1", "reach index from which a position counts as dexterous"),
    ),
)

_NO_POSTURE = "no posture found"

CHECK_TARGETS = Study(
    "check_targets",
    "which work points are served, how well, and why not",
    (
        Variable("target", ("target",), "1", "names of the work points", "str"),
        JOINT,
        JOINT_UNIT,
        XYZ,
    ),
    (
        Variable("served", ("target",), "1", "the work point is served", "bool"),
        Variable("reason", ("target",), "1", "why it is not served, and by how much", "str"),
        Variable("q", ("target", "joint"), "1", "best joint positions, in joint_unit",
                 nan=_NO_POSTURE),
        Variable("position", ("target", "xyz"), "m", "the work point in the world"),
        Variable("limit_margin", ("target",), "1", "distance to the joint limits: 0 at a limit, 1 at mid-range",
                 required=False, nan=_NO_POSTURE),
        Variable("clearance", ("target",), "m", "least distance to anything in the cell", required=False,
                 nan=_NO_POSTURE, infinite=ALONE),
        Variable("clearance_wanted", ("target",), "m", "clearance that was required", required=False, nan="none asked"),
        Variable("clearance_name_a", ("target",), "1", "what comes nearest", "str", required=False),
        Variable("clearance_name_b", ("target",), "1", "what it comes nearest to", "str", required=False),
        Variable("payload", ("target",), "kg", "mass that can be held there", required=False, nan=_NO_POSTURE,
                 infinite=UNLIMITED),
        Variable("payload_wanted", ("target",), "kg", "mass that is to be held there", required=False,
                 nan="none asked"),
        Variable("load_centre", ("target", "xyz"), "m", "the load's centre of gravity, from the tool frame",
                 required=False),
        Variable("payload_joint", ("target",), "1", "joint that gives out first", "str", required=False),
        Variable("payload_part", ("target",), "1",
                 'part of that joint that gives out first: the motor\'s or stage\'s name, or "stated"', "str",
                 required=False),
        Variable("manipulability", ("target",), "1", "root of det(J Jᵀ), in SI units of the Jacobian's rows",
                 required=False, nan=_NO_POSTURE),
        Variable("position_error", ("target",), "m", "distance of the tool point from the work point at q",
                 required=False, least=0, nan=_NO_POSTURE),
        Variable("solutions", ("target",), "1", "number of postures found within all limits", "int", required=False,
                 least=0),
    ),
    (replace(LIMIT, required=False),
     Attribute("order", "1", "what makes a posture the best, first things first", "str", required=False),
     TRACK_STEP, BASE, TRACK),
)

_BREAK = "break between two curves"

OUTLINES = Study(
    "outlines",
    "boundary curves of the reachable region, in the vertical section through axis 1 and in plan",
    (
        JOINT,
        JOINT_UNIT,
        Variable("rz", ("rz",), "1", "distance from axis 1, then height", "str", required=False),
        Variable("xy", ("xy",), "1", "components in the world frame", "str", required=False),
    ),
    (
        Variable("section", ("section_point", "rz"), "m",
                 "section of the tool point's reach: distance from axis 1, height",
                 nan=_BREAK),
        Variable("plan", ("plan_point", "xy"), "m", "plan of the tool point's reach: x, y", nan=_BREAK),
        Variable("wrist_section", ("wrist_section_point", "rz"), "m",
                 "section of the wrist centre's reach: distance from axis 1, height", required=False, nan=_BREAK),
        Variable("wrist_plan", ("wrist_plan_point", "xy"), "m", "plan of the wrist centre's reach: x, y",
                 required=False,
                 nan=_BREAK),
        Variable("joint_lower", ("joint",), "1", "least joint position, in joint_unit", infinite=UNLIMITED),
        Variable("joint_upper", ("joint",), "1", "greatest joint position, in joint_unit", infinite=UNLIMITED),
    ),
    (BASE, TRACK, Attribute("spacing", "m", "distance between points computed", required=False)),
)

CLEARANCE = Study(
    "clearance",
    "least distance between the arm and everything else, and where it is",
    (XYZ,),
    (
        Variable("distance", (BATCH,), "m", "least distance; negative where things overlap", infinite=ALONE),
        Variable("point_a", (BATCH, "xyz"), "m", "nearest point on a"),
        Variable("point_b", (BATCH, "xyz"), "m", "nearest point on b"),
        Variable("name_a", (BATCH,), "1", "what comes nearest", "str"),
        Variable("name_b", (BATCH,), "1", "what it comes nearest to", "str"),
    ),
    (),
)

_ALL = (
    REACH_MAP, *LOAD_STUDIES, CHECK_TARGETS, OUTLINES, CLEARANCE, MOTION, *STOP_STUDIES, *DRIVE_STUDIES,
    *DESIGN_STUDIES, *TRACK_STUDIES, *PLACEMENT_STUDIES, *WRENCH_STUDIES,
    BASE_LOADS, TOOL_ERROR, *LIFTING_STUDIES, *STRUCTURE_STUDIES, TRACK_LOADS, *BEARING_STUDIES, PART_LOADS,
)  # fmt: skip
STUDIES = {study.name: study for study in _ALL}


def table(study: str) -> str:
    """The study's variables and attributes as Markdown tables, for the docs.

    >>> print(results.table("clearance").splitlines()[2])
    least distance between the arm and everything else, and where it is.
    """
    what = STUDIES[study]
    rows = [f"## {what.name}", "", what.meaning + "."]
    rows += ["", "| variable | dims | unit | meaning | NaN | infinite |", "|---|---|---|---|---|---|"]
    for variable in what.coords + what.variables:
        always = "" if variable.required else " (optional)"
        rows.append(f"| `{variable.name}`{always} | {', '.join(variable.dims)} | {variable.unit} "
                    f"| {variable.long_name} | {variable.nan} | {variable.infinite} |")
    rows += ["", "| attribute | unit | meaning |", "|---|---|---|"]
    for attribute in COMMON_ATTRIBUTES + what.attributes:
        always = "" if attribute.required else " (optional)"
        rows.append(f"| `{attribute.name}`{always} | {attribute.unit} | {attribute.meaning} |")
    return "\n".join(rows) + "\n"


def all_tables() -> str:
    """The text of docs/results.md."""
    source = "Made from `python/armwright/results/variables.py`; a test holds it to that file."
    return f"# What the results hold\n\n{source}\n" + "".join(f"\n{table(study)}" for study in STUDIES)


if __name__ == "__main__":
    print(all_tables(), end="")
