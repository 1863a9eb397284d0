"""The result variables of the studies of the track."""

from __future__ import annotations

from dataclasses import replace

from armwright.results.load_variables import BASE, LIMIT, MARGIN, TRACK
from armwright.results.terms import JOINT, JOINT_UNIT, Attribute, Study, Variable

_FEWER = "the point has fewer intervals"
_TOO_MANY = "so many points cannot be served"

TRACK_INTERVALS = Study(
    "track_intervals",
    "from where on the track each work point is served, and which strokes and parking positions follow",
    (
        Variable("target", ("target",), "1", "names of the work points", "str"),
        JOINT,
        JOINT_UNIT,
        Variable("interval", ("interval",), "1", "which interval of the point, in order along the track", "int",
                 least=0),
        Variable("served_count", ("served_count",), "1", "number of points that are to be served", "int", least=1),
        Variable("parking", ("parking",), "1", "which parking position, in order along the track", "int", least=0),
    ),
    (
        Variable("lower", ("target", "interval"), "m", "track position where an interval begins", nan=_FEWER),
        Variable("upper", ("target", "interval"), "m", "track position where it ends", nan=_FEWER),
        Variable("q", ("target", "interval", "joint"), "1", "posture with most room to the joint limits in the middle "
                 "of the interval, in joint_unit", nan="the point has fewer intervals, or it is served there in an "
                 "attitude between those tried only"),
        Variable("served", ("target",), "1", "the point is served from some track position", "bool"),
        Variable("stroke_length", ("served_count",), "m", "shortest stroke from which so many points are served",
                 least=0, nan=_TOO_MANY),
        Variable("stroke_lower", ("served_count",), "m", "track position where that stroke begins", nan=_TOO_MANY),
        Variable("parking_position", ("parking",), "m", "fewest track positions to park at, so that each point that "
                 "can be served is served from one of them"),
        Variable("parking_of", ("target",), "1", "place in parking from which the point is served, -1 for none", "int",
                 least=-1),
    ),
    (
        replace(LIMIT, required=False), MARGIN, BASE, TRACK,
        Attribute("track_lower", "m", "lower end of the track that was looked at"),
        Attribute("track_upper", "m", "upper end of the track that was looked at"),
    ),
)  # fmt: skip

_NONE_SERVED = "no point is served"
_NO_CYCLE = "the cycle cannot be run: see cycle_reason"

TRACK_WORTH = Study(
    "track_worth",
    "what each stroke of a track brings, beside the arm on a fixed foot at its best place on the line",
    (
        Variable("stroke", ("stroke",), "m", "stroke; 0: no track", least=0),
        Variable("target", ("target",), "1", "names of the work points", "str"),
    ),
    (
        Variable("stroke_lower", ("stroke",), "m", "track position where the stroke begins, or where the foot stands",
                 nan="the foot stands where it was told to, off the track's line"),
        Variable("served", ("stroke", "target"), "1", "the point is served", "bool"),
        Variable("served_count", ("stroke",), "1", "number of points served", "int", least=0),
        Variable("limit_margin", ("stroke",), "1", "least over the points served of the distance to the joint limits: "
                 "0 at a limit, 1 at mid-range", nan=_NONE_SERVED),
        Variable("clearance", ("stroke",), "m", "least clearance over the points served", nan=_NONE_SERVED,
                 infinite="nothing to come near"),
        Variable("payload_spare", ("stroke",), "kg", "least over the points served of the mass held beyond what is "
                 "wanted", nan=_NONE_SERVED, infinite="nothing limits the mass"),
        Variable("cycle_time", ("stroke",), "s", "duration of the cycle", required=False, nan=_NO_CYCLE),
        Variable("cycle_reason", ("stroke",), "1", "why the cycle cannot be run", "str", required=False),
        Variable("force", ("stroke",), "N", "greatest force on rails or foot, at rest at the points served", least=0,
                 nan=_NONE_SERVED),
        Variable("moment", ("stroke",), "N*m", "greatest moment on rails or foot about the carriage's origin, at rest "
                 "at the points served", least=0, nan=_NONE_SERVED),
        Variable("cycle_force", ("stroke",), "N", "greatest force on rails or foot over the cycle", required=False,
                 least=0, nan=_NO_CYCLE),
        Variable("cycle_moment", ("stroke",), "N*m", "greatest moment on rails or foot about the carriage's origin "
                 "over the cycle", required=False, least=0, nan=_NO_CYCLE),
        Variable("reachable_volume", ("stroke",), "m3", "volume of the positions reached", required=False, least=0),
        Variable("dexterous_volume", ("stroke",), "m3", "volume of the positions reached in every attitude tried",
                 required=False, least=0),
        Variable("cost", ("stroke",), "1", "cost of the track, in the currency told", required=False, least=0),
    ),
    (
        replace(LIMIT, required=False), MARGIN, BASE, TRACK,
        Attribute("track_lower", "m", "lower end of the track that was looked at"),
        Attribute("track_upper", "m", "upper end of the track that was looked at"),
        Attribute("enough_stroke", "m", "shortest stroke of those tried that serves as many points as any"),
        Attribute("last_gain_stroke", "m", "stroke beyond which no point is gained, nor a hundredth of the cycle's "
                  "time"),
        Attribute("knee_stroke", "m", "stroke where the gain, of points and of the cycle's time alike, stands farthest "
                  "above a straight line to the longest stroke"),
        Attribute("cycle_name", "1", "the cycle", "str", required=False),
        Attribute("currency", "1", "what costs are told in", "str", required=False),
    ),
)  # fmt: skip

TRACK_STUDIES = (TRACK_INTERVALS, TRACK_WORTH)
