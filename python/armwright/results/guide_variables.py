"""The result variables of the study of what a track bears; see variables.py."""

from __future__ import annotations

from armwright.results.terms import BASE_POSITION, JOINT, JOINT_UNIT, TRACK_SPAN, Attribute, Study, Variable

_BLOCK, _RAIL, _FEED, _HELD = ("block",), ("rail", "support"), ("feed_check",), ("held",)
_UNKNOWN = "not known: see the attribute missing"
_NEVER = "nothing loads it"
_AT_REST = "at rest, or not known"
_NOT_TOLD = "not told"
_COURSE = ("time_point",)


def _figure(name: str, dims: tuple[str, ...], unit: str, meaning: str, **more: object) -> tuple[Variable, ...]:
    """A greatest or least, with the case and the time in which it stands."""
    what = meaning.split(",", maxsplit=1)[0]
    return (
        Variable(name, dims, unit, meaning, nan=_UNKNOWN, **more),  # type: ignore[arg-type]
        Variable(f"{name}_case", dims, "1", f"{what}: place of its case in case, -1 for none", "int", least=-1),
        Variable(f"{name}_time", dims, "s", f"{what}: when, within its case", nan=_AT_REST),
    )


TRACK_LOADS = Study(
    "track_loads",
    "what the blocks, rails and feed of a track have to bear, and what the arm's swing does to it",
    (
        Variable("block", _BLOCK, "1", "names of the blocks: rails in the order told, blocks along each", "str"),
        Variable("case", ("case",), "1", "what was looked at", "str"),
        Variable("case_kind", ("case",), "1", "rest, cycle, or stop", "str"),
        JOINT, JOINT_UNIT,
        Variable("turn", ("turn",), "1", "about the track's direction, across it, and up", "str"),
        Variable("rail", ("rail",), "1", "place of a rail, in the order told", "int", least=0),
        Variable("support", ("support",), "1", "how the spans are taken to hang together: simple (each on its own), "
                 "continuous (a long row of equal ones), fixed (each built in)", "str"),
        Variable("feed_check", _FEED, "1", "names of the figures of the feed", "str"),
        Variable("held", _HELD, "1", "kinds of cases in which the track stands", "str"),
    ),
    (
        Variable("block_along", _BLOCK, "m", "middle of the block along the track, from the carriage frame's origin"),
        Variable("block_across", _BLOCK, "m", "and across, to the left of that direction"),
        *_figure("radial_greatest", _BLOCK, "N", "greatest load that presses the block onto its rail"),
        *_figure("radial_least", _BLOCK, "N", "least load onto its rail, negative where it is lifted off"),
        *_figure("lateral_greatest", _BLOCK, "N", "greatest load across the rail by magnitude, to the left positive"),
        *_figure("static_load", _BLOCK, "N", "greatest equivalent load, by direction, moments and preload", least=0),
        Variable("static_posture", ("block", "joint"), "1", "posture of that load, in joint_unit", nan=_UNKNOWN),
        Variable("static_safety", _BLOCK, "1", "static rating over that load, ISO 14728-2", least=0, nan=_UNKNOWN,
                 infinite=_NEVER),
        Variable("own_moment", ("block", "turn"), "N*m", "greatest moment that the block alone has to bear, its "
                 "magnitude", least=0, nan=_UNKNOWN),
        Variable("mean_load", _BLOCK, "N", "equivalent load over the travel of the duty, mean by the life exponent",
                 least=0, nan=_UNKNOWN),
        Variable("travel_load", _BLOCK, "N", "greatest equivalent load while it travels in the duty", least=0,
                 nan=_UNKNOWN),
        Variable("life", _BLOCK, "m", "life as travel, ISO 14728-1, at the attribute reliability", least=0,
                 nan=_UNKNOWN, infinite="nothing wears it"),
        Variable("life_time", _BLOCK, "s", "life as time of this duty", least=0, nan=_UNKNOWN,
                 infinite="nothing wears it"),
        Variable("life_holds", _BLOCK, "1", "the load while it travels is within what the life formula holds for: half "
                 "of the dynamic rating", "bool"),
        Variable("case_load", ("case", "block"), "N", "greatest equivalent load in each case", least=0, nan=_UNKNOWN),
        *_figure("rail_deflection", _RAIL, "m", "greatest bending of the rail under a block between supports, towards "
                 "the ground positive"),
        *_figure("rail_moment", _RAIL, "N*m", "greatest bending moment of the rail's beam, sagging positive"),
        Variable("rail_stress", _RAIL, "Pa", "bending stress there", least=0, nan=_NOT_TOLD),
        Variable("feed_value", _FEED, "1", "the figure, in feed_unit", least=0, nan=_UNKNOWN),
        Variable("feed_unit", _FEED, "1", "its unit", "str"),
        Variable("feed_allowed", _FEED, "1", "what is allowed, in feed_unit", least=0, nan=_NOT_TOLD),
        Variable("feed_safety", _FEED, "1", "what is allowed over the figure", least=0, nan=_NOT_TOLD,
                 infinite=_NEVER),
        Variable("feed_wanted", _FEED, "1", "the least that will do: 1; 2 against buckling and 1.25 against whirling "
                 "(common practice)", least=0),
        Variable("feed_case", _FEED, "1", "place of its case in case, -1 for none", "int", least=-1),
        Variable("feed_time", _FEED, "s", "when, within its case", nan=_AT_REST),
        Variable("held_force", _HELD, "N", "greatest force along the track while it stands, its magnitude", least=0,
                 nan="it stands in no such case"),
        Variable("held_bears", _HELD, "N", "what holds the track then: the motor at its peak in a cycle, else the "
                 "brake by its ratio", least=0, nan=_NOT_TOLD),
        Variable("held_factor", _HELD, "1", "what holds over that force", least=0, nan=_UNKNOWN, infinite=_NEVER),
        Variable("held_case", _HELD, "1", "place of its case in case, -1 for none", "int", least=-1),
        Variable("held_time", _HELD, "s", "when, within its case", nan=_AT_REST),
        Variable("time", _COURSE, "s", "time within the case of the cycle", required=False, nan="at rest"),
        Variable("course_case", _COURSE, "1", "place of that case in case", "int", required=False, least=0),
        Variable("feed_force", _COURSE, "N", "force of the feed along the track, friction counted", required=False),
        Variable("radial", ("time_point", "block"), "N", "load of each block onto its rail", required=False),
        Variable("lateral", ("time_point", "block"), "N", "load of each block across its rail", required=False),
    ),
    (
        Attribute("method", "1", "how the blocks share the load", "str"),
        Attribute("missing", "1", "checks that are left out, and why, one a line", "str"),
        Attribute("warnings", "1", "what is too much, or outside a formula's reach, one a line", "str"),
        Attribute("reliability", "1", "share of the blocks that reach the life told"),
        Attribute("wanted_static", "1", "static safety that was wanted"),
        Attribute("stroke", "m", "how far the duty goes to and fro"),
        Attribute("duration", "s", "duration of the lasting duty; 0: none was given"),
        Attribute("travel", "m", "travel in that time"),
        Attribute("track_pushed", "m", "how far a track that stands is pushed in a stop, at most"),
        Attribute("track_pushed_case", "1", "place of that stop in case, -1 for none", "int"),
        Attribute("dynamic_rating", "N", "of one block", required=False),
        Attribute("static_rating", "N", "of one block", required=False),
        Attribute("rating_distance", "m", "travel that the dynamic rating holds for", required=False),
        Attribute("rail_support", "1", "how the rails' spans hang together as told", "str", required=False),
        Attribute("rail_span", "m", "between supports", required=False),
        Attribute("deflection_limit", "m", "bending that is allowed", required=False),
        BASE_POSITION, TRACK_SPAN,
    ),
)  # fmt: skip
