"""What the result about all parts holds: each figure at rest, in the cycle and in the worst stop; see variables.py."""

from __future__ import annotations

from armwright.results.terms import BASE_POSITION, TRACK_SPAN, Attribute, Study, Variable

GROUPS = {
    "bearing": "bearings of the joints", "link": "tubes of the links", "mounting face": "mounting face of the base",
    "bolt": "bolts of the base", "bolted joint": "the bolted joint as a whole", "footing": "floor and footing",
    "block": "blocks of the track", "rail": "rails of the track", "feed": "feed of the track",
    "drive": "motors and stages",
}  # fmt: skip
"""Groups of parts in their order, each with what it is called."""
SITUATIONS = {"rest": "at rest", "cycle": "in the cycle", "stop": "in the worst stop"}

_EACH, _FIGURE = ("figure",), ("figure", "situation")

PART_LOADS = Study(
    "part_loads",
    "what every bearing, link, bolt, block, rail, feed and drive bears at rest, in the cycle and in its worst stop",
    (
        Variable("situation", ("situation",), "1", "rest, cycle or stop", "str"),
        Variable("figure", _EACH, "1", "place of a figure", "int", least=0),
        Variable("group", _EACH, "1", "kind of part", "int", flags=tuple(name.replace(" ", "_") for name in GROUPS),
                 least=0),
        Variable("part", _EACH, "1", "name of the part", "str"),
        Variable("quantity", _EACH, "1", "what the figure is", "str"),
        Variable("unit", _EACH, "1", "unit of value and bears", "str"),
    ),
    (
        Variable("value", _FIGURE, "1", "greatest that it has to bear there, in unit; of a life, what it reaches",
                 nan="not known, or does not occur there", infinite="a life that nothing ends"),
        Variable("bears", _FIGURE, "1", "what it bears, in unit; of a life, what is wanted", nan="not told",
                 infinite="no limit"),
        Variable("safety", _FIGURE, "1", "what it bears over what it has to bear: more is better", least=0,
                 nan="nothing is wanted, or such rows are not looked at; else NOT KNOWN, and not to be taken as safe",
                 infinite="nothing to bear"),
        Variable("looked_at", _FIGURE, "1", "the part's study tells that figure of such rows, known or not", "bool"),
        Variable("wanted", _EACH, "1", "safety that is wanted", least=0, nan="not judged: a load alone"),
        Variable("case", _FIGURE, "1", "in which case that is", "str"),
        Variable("time", _FIGURE, "s", "when in that case", nan="at rest, or not told"),
    ),
    (
        Attribute("weakest", "1", "part and quantity with the least safety by what is wanted of it", "str"),
        Attribute("weakest_share", "1", "its safety over what is wanted: less than 1 is too little", required=False),
        Attribute("reliability", "1", "at which the lives are told"),
        Attribute("missing", "1", "what was not looked at, and why, one a line", "str"),
        Attribute("warnings", "1", "what is too much, assumed, or beyond a rule's reach, one a line", "str"),
        Attribute("caution", "1", "what to mind", "str"),
        BASE_POSITION, TRACK_SPAN,
    ),
)  # fmt: skip
