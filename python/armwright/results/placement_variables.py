"""What the result of a placement holds; see variables.py."""

from __future__ import annotations

from armwright.results.load_variables import ALONE, BASE, LIMIT, MARGIN, TRACK, UNLIMITED
from armwright.results.terms import JOINT_UNIT, XYZ, Attribute, Study, Variable

_CHOICE, _CANDIDATE, _AIM, _PLAN = ("choice",), ("candidate",), ("aim",), ("y", "x")
_POINT, _EACH = ("choice", "target"), ("choice", "aim")
_NO_POINT = "no point is served there"
_NO_ANSWER = f"{_NO_POINT}, or no answer"
_IN_UNIT = "in aim_unit"
ATTITUDES = ("floor", "wall", "ceiling", "as_it_stands")
_WAY = "the stand's z axis: floor up, wall level, ceiling down"


def _place(prefix: str, dims: tuple[str, ...], of: str) -> tuple[Variable, ...]:
    """The six numbers and the attitude of each place."""
    return (
        *(Variable(f"{prefix}_{axis}", dims, "m", f"{of}: {axis} of the stand's origin in the world")
          for axis in ("x", "y", "z")),
        Variable(f"{prefix}_yaw", dims, "rad", f"{of}: turn about the vertical; on a wall the way that it faces"),
        Variable(f"{prefix}_turn", dims, "rad", f"{of}: turn about the stand's own z axis, on a wall"),
        Variable(f"{prefix}_track", dims, "m", f"{of}: track position that the arm is parked at", nan="not parked"),
        Variable(f"{prefix}_attitude", dims, "1", f"{of}: {_WAY}", "int", flags=ATTITUDES, least=0),
    )  # fmt: skip


PLACEMENT = Study(
    "placement",
    "where the stand (the base; the track; a parked arm) serves most work points, with the greatest worst margin",
    (
        Variable("target", ("target",), "1", "names of the work points", "str"),
        Variable("joint", ("joint",), "1", "names of the joints of the cell placed so, the track first", "str"),
        JOINT_UNIT,
        Variable("aim", _AIM, "1", "what places are chosen by, over the points served the worst", "str"),
        Variable("aim_unit", _AIM, "1", 'its unit, SI; "1" for none', "str"),
        Variable("aim_better", _AIM, "1", 'whether "more" or "less" of it is wanted', "str"),
        XYZ,
        Variable("choice", _CHOICE, "1", "places found; of one aim the best first, of several the first aim's best "
                 "first", "int", least=0),
        Variable("row", ("row",), "1", "row of a pose", "int", least=0),
        Variable("column", ("column",), "1", "column of a pose", "int", least=0),
        Variable("candidate", _CANDIDATE, "1", "places tried by the search, in order", "int", least=0),
        Variable("x", ("x",), "m", "x of the stand's origin in the plan of the first sampling", required=False),
        Variable("y", ("y",), "m", "y of the stand's origin in the plan of the first sampling", required=False),
        Variable("zone_corner", ("zone_corner",), "1", "corner of a zone that is forbidden", "int", required=False,
                 least=0),
    ),
    (
        Variable("position", ("target", "xyz"), "m", "the work point in the world"),
        *_place("place", _CHOICE, "place found"),
        Variable("stand_pose", ("choice", "row", "column"), "m", "pose of the stand in the world, 4×4; of a parked arm "
                 "that of its base"),
        Variable("served_count", _CHOICE, "1", "points served, checked at full accuracy", "int", least=0),
        Variable("worst", _EACH, "1", f"worst over the points served, checked at full accuracy, {_IN_UNIT}",
                 nan=_NO_ANSWER, infinite=UNLIMITED),
        Variable("worst_at", _EACH, "1", "the work point (or the part) that it comes from", "str"),
        Variable("chosen_by", _CHOICE, "1", "aim that postures are chosen by first: place in aim, -1: the limit margin",
                 "int", least=-1),
        Variable("promised_count", _CHOICE, "1", "points served, as the search had it", "int", least=-1),
        Variable("promised_worst", _EACH, "1", f"worst over the points served, as the search had it, {_IN_UNIT}",
                 nan="an answer, which the search does not foretell, or no point is served", infinite=UNLIMITED),
        Variable("served", _POINT, "1", "the work point is served there", "bool"),
        Variable("reason", _POINT, "1", "why it is not served, and by how much", "str"),
        Variable("q", ("choice", "target", "joint"), "1", "posture there, in joint_unit", nan="no posture found"),
        Variable("limit_margin", _POINT, "1", "distance to the joint limits in that posture: 0 at a limit, 1 at "
                 "mid-range", nan="no posture found"),
        Variable("clearance_spare", _POINT, "m", "distance to what is nearest, beyond what is to be kept",
                 nan="no posture found", infinite=ALONE),
        Variable("payload_spare", _POINT, "kg", "mass that can be held there beyond what is wanted",
                 nan="no posture found", infinite=UNLIMITED),
        Variable("now_served", ("target",), "1", "the work point is served where the stand is now", "bool"),
        Variable("now_worst", _AIM, "1", f"worst over the points served now, {_IN_UNIT}", nan=_NO_ANSWER,
                 infinite=UNLIMITED),
        *_place("candidate", _CANDIDATE, "place tried"),
        Variable("candidate_count", _CANDIDATE, "1", "points served, as the search had it; -1: no place to stand",
                 "int", least=-1),
        Variable("candidate_worst", ("candidate", "aim"), "1", "worst over the points served, each in its best "
                 f"posture by that aim, as the search had it, {_IN_UNIT}",
                 nan="an answer, or no point is served", infinite=UNLIMITED),
        Variable("plan_count", _PLAN, "1", "most points served there with the other numbers as tried; -1: no place to "
                 "stand", "int", required=False, least=-1),
        Variable("plan_worst", _PLAN, "1", f"greatest worst of the first aim with so many served, {_IN_UNIT}",
                 required=False, nan=_NO_POINT, infinite=UNLIMITED),
        Variable("zone_x", ("zone_corner",), "m", "x of the corners of the forbidden zones, one after the other",
                 required=False, nan="between two zones"),
        Variable("zone_y", ("zone_corner",), "m", "y of those corners", required=False, nan="between two zones"),
    ),
    (
        Attribute("stand", "1", "what is placed", "str", choices=("base", "track", "parked arm")),
        Attribute("best", "1", "the choice that is recommended: the best of one aim, the most balanced of several",
                  "int"),
        Attribute("seed", "1", "seed of the search", "int"),
        Attribute("places_tried", "1", "places that the search scored", "int"),
        Attribute("places_checked", "1", "places that were checked at full accuracy", "int"),
        Attribute("now_place", "m", "x, y, z of the stand's origin now", length=3),
        Attribute("going_along", "1", "fixtures that go along with the stand, one a line", "str"),
        LIMIT, MARGIN, BASE, TRACK,
    ),
)  # fmt: skip

PLACEMENT_STUDIES = (PLACEMENT,)
