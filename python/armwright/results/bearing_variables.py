"""The result variables of the study over bearings."""

from __future__ import annotations

from armwright.results.terms import BASE_POSITION, JOINT_UNIT, TRACK_SPAN, Attribute, Study, Variable

BEARING_KINDS = ("crossed_roller", "four_point", "deep_groove", "angular_contact", "tapered")
PLACES = ("single", "near", "far")

_EACH, _OF_JOINT, _LINE = ("bearing",), ("joint",), ("joint", "limit_point")
_LEFT_OUT = "left out: see missing"
_NO_LIFE = "no life is told: see missing and flags"
_PAIR = "a pair takes it as radial loads"
_NO_PAIR = "no pair of bearings"
_NOTHING = "nothing presses on it"
_NO_LINE = "no bearing, or no rating is told"


def _float(name: str, unit: str, meaning: str, nan: str = "", infinite: str = "", least: float | None = 0) -> Variable:
    return Variable(name, _EACH, unit, meaning, nan=nan, infinite=infinite, least=least)


BEARINGS = Study(
    "bearings",
    "what every bearing bears, its static safety and its life",
    (
        Variable("bearing", _EACH, "1", "names of the bearings; of a pair, near stands lower along the joint's axis",
                 "str"),
        Variable("joint", _OF_JOINT, "1", "names of the joints, the track first", "str"),
        JOINT_UNIT,
    ),
    (
        Variable("bearing_joint", _EACH, "1", "place of its joint in joint", "int", least=0),
        Variable("bearing_place", _EACH, "1", "where it stands", "int", flags=PLACES, least=0),
        Variable("bearing_kind", _EACH, "1", "kind", "int", flags=BEARING_KINDS, least=0),
        _float("dynamic_rating", "N", "C as described", "not told"),
        _float("static_rating", "N", "C0 as described", "not told"),
        _float("greatest_radial", "N", "greatest radial load of all rows"),
        _float("greatest_axial", "N", "greatest axial load of all rows, what radial loads induce and preload among it",
               _LEFT_OUT),
        _float("greatest_moment", "N*m", "greatest tilting moment of all rows", _PAIR),
        _float("worst_radial", "N", "radial load of the row with the least static safety"),
        _float("worst_axial", "N", "axial load there", _LEFT_OUT),
        _float("worst_moment", "N*m", "tilting moment there", _PAIR),
        Variable("worst_case", _EACH, "1", "case of that row", "str"),
        _float("worst_time", "s", "its time in the case", "at rest"),
        Variable("worst_posture", ("bearing", "joint"), "1", "its posture, in joint_unit"),
        _float("static_load", "N", "greatest static equivalent load P0 of all rows (ISO 76)", _LEFT_OUT),
        _float("static_safety", "1", "C0/P0 (ISO 76)", _LEFT_OUT, _NOTHING),
        _float("moment_safety", "1", "static moment rating over tilting moment", "no moment rating is told", _NOTHING),
        _float("line_safety", "1", "how many times axial force and moment together reach the maker's line of limits",
               "no line is told", _NOTHING),
        _float("safety", "1", "least of these that are known", _LEFT_OUT, _NOTHING),
        _float("wanted_static", "1", "static safety wanted"),
        _float("needed_static_rating", "N", "C0 that gives the wanted safety", _LEFT_OUT),
        _float("mean_load", "N", "mean dynamic equivalent load P of the duty (ISO 281), by travel", _NO_LIFE),
        _float("greatest_duty_load", "N", "greatest P of the duty while it turns", _NO_LIFE),
        _float("greatest_life_load", "N", "P up to which ISO 281's life equation is meant to hold", _LEFT_OUT),
        _float("revolutions", "1", "turns in one run of the duty, back and forth all counted", "no duty"),
        _float("mean_speed", "rad/s", "mean magnitude of the speed over the duty, pauses included", "no duty"),
        _float("greatest_speed", "rad/s", "greatest speed in the duty", "no duty"),
        _float("swing", "rad", "from the least to the greatest angle in the duty", "no duty"),
        _float("critical_swing", "rad", "swing below which the paths of rolling elements do not overlap",
               "the count of rolling elements is not told"),
        _float("life_revolutions", "1", "basic rating life L10 (ISO 281), revolutions", _NO_LIFE, _NOTHING),
        _float("life", "s", "basic rating life L10h of the duty going on and on", _NO_LIFE, _NOTHING),
        _float("modified_life", "s", "life at the reliability asked, a1 times L10h", _NO_LIFE, _NOTHING),
        _float("needed_dynamic_rating", "N", "C that gives the life wanted at that reliability",
               "no life is wanted, or none can be told"),
        Variable("life_valid", _EACH, "1", "the duty is within what ISO 281 is meant for, as far as is looked at",
                 "bool"),
        Variable("offset", _OF_JOINT, "m", "middle of the bearing or pair along the joint's axis, from its frame: "
                 "moments here are about it", nan="no bearing is described"),
        Variable("span", _OF_JOINT, "m", "span of the pair as described", nan=_NO_PAIR, least=0),
        Variable("needed_span", _OF_JOINT, "m", "least span that gives the wanted static safety, its middle kept",
                 nan="no pair of bearings, or left out", infinite="no span is enough", least=0),
        Variable("limit_radial", _OF_JOINT, "N", "greatest radial force of the rows, beside which the limit line holds",
                 nan="no bearing is described", least=0),
        Variable("limit_axial", _LINE, "N", "axial forces of the limit line, on the part that moves", nan=_NO_LINE),
        Variable("limit_moment", _LINE, "N*m", "tilting moment that leaves the wanted static safety there",
                 nan=_NO_LINE, infinite="no end", least=0),
    ),
    (
        BASE_POSITION, TRACK_SPAN,
        Attribute("reliability", "1", "reliability asked of the modified life"),
        Attribute("reliability_factor", "1", "a1 of ISO 281 for it"),
        Attribute("wanted_life", "s", "life wanted", required=False),
        Attribute("row_count", "1", "rows of loading looked at", "int"),
        Attribute("duty_time", "s", "time of one run of the duty; 0: none"),
        Attribute("weakest", "1", "bearing with the least static safety, by what is wanted of it", "str"),
        Attribute("weakest_safety", "1", "its static safety", required=False),
        Attribute("missing", "1", "what is left out for want of data, one a line", "str"),
        Attribute("flags", "1", "what is outside the standards, or does not turn, one a line", "str"),
        Attribute("caution", "1", "what to mind", "str"),
    ),
)  # fmt: skip

BEARING_STUDIES = (BEARINGS,)
