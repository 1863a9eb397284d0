"""The result variables of the studies of the track."""

from __future__ import annotations

from dataclasses import replace

from armwright.results.load_variables import BASE, LIMIT, MARGIN, TRACK
from armwright.results.terms import JOINT_UNIT, Attribute, Study, Variable

_FEWER = "the point has fewer intervals"
_TOO_MANY = "so many points cannot be served"

TRACK_INTERVALS = Study(
    "track_intervals",
    "from where on the track each work point is served, and which strokes and parking positions follow",
    (
        Variable("target", ("target",), "1", "names of the work points", "str"),
        Variable("joint", ("joint",), "1", "names of the joints, the track first", "str"),
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

TRACK_STUDIES = (TRACK_INTERVALS,)
