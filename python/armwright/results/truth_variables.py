"""What the result about how true the tool stands holds; see variables.py."""

from __future__ import annotations

from armwright.results.terms import BASE_POSITION, BATCH, JOINT, JOINT_UNIT, TRACK_SPAN, XYZ, Attribute, Study, Variable

_UNKNOWN = "no cause is told"
_NONE = "no cause moves it"


def _of(name: str, what: str, unit: str) -> tuple[Variable, ...]:
    """The variables of the tool point's position, or of the tool's attitude."""
    return (
        Variable(f"{name}_worst", (BATCH,), unit, f"greatest error of the {what} over all signs of the causes", least=0,
                 nan=_UNKNOWN),
        Variable(f"{name}_rss", (BATCH,), unit, f"error of the {what}, root of the causes' sum of squares", least=0,
                 nan=_UNKNOWN),
        Variable(f"{name}_worst_exact", (BATCH,), "1", f"{name}_worst is exact; else no less than the greatest error, "
                 "by 0.2 % at most", "bool"),
        Variable(f"{name}_worst_vector", (BATCH, "xyz"), unit, f"that greatest error of the {what} in world axes; its "
                 "opposite is as great", nan=_UNKNOWN),
        Variable(f"{name}_worst_along", (BATCH, "xyz"), unit, "greatest error along each world axis", least=0,
                 nan=_UNKNOWN),
        Variable(f"{name}_rss_along", (BATCH, "xyz"), unit, "root of the causes' sum of squares along each world axis",
                 least=0, nan=_UNKNOWN),
        Variable(f"{name}_effect", (BATCH, "cause", "xyz"), unit, f"what each cause alone does to the {what}"),
        Variable(f"{name}_share_worst", (BATCH, "cause"), "1", f"share of each cause in {name}_worst", least=0,
                 greatest=1, nan=_NONE),
        Variable(f"{name}_share_rss", (BATCH, "cause"), "1", f"share of each cause in {name}_rss, by squares", least=0,
                 greatest=1, nan=_NONE),
    )  # fmt: skip


TOOL_ERROR = Study(
    "tool_error",
    "how far the tool may stand from where it should by play, encoders and tolerances, and the share of each cause",
    (
        JOINT,
        JOINT_UNIT,
        XYZ,
        Variable("cause", ("cause",), "1", "names of the causes", "str"),
        Variable("cause_kind", ("cause",), "1", "backlash, encoder or placement", "str"),
        Variable("cause_unit", ("cause",), "1", "unit of each cause", "str"),
    ),
    (
        Variable("q", (BATCH, "joint"), "1", "joint positions, in joint_unit"),
        Variable("target", (BATCH,), "1", "work points whose best postures these are", "str", required=False),
        Variable("cause_amount", ("cause",), "1", "how much each cause may be off either way, in cause_unit: of play "
                 "and encoders at the joint, of places at the place", least=0),
        *_of("position", "tool point", "m"),
        *_of("attitude", "tool's attitude", "rad"),
        Variable("weight_side", (BATCH, "joint"), "1", "side to which the weight at rest keeps each axis' play: -1 or "
                 "1; 0 where it is no more than the friction", "int", least=-1, greatest=1),
    ),
    (
        Attribute("missing", "1", "what is not known, and not counted, one a line", "str"),
        Attribute("assumed", "1", "what the figures take for granted", "str"),
        BASE_POSITION, TRACK_SPAN,
    ),
)  # fmt: skip
