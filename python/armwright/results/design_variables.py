"""What the results about many designs hold; see variables.py."""

from __future__ import annotations

from armwright.results.terms import BASE_POSITION, BATCH, TRACK_SPAN, Attribute, Study, Variable

_OF_ANSWER, _OF_NUMBER = ("answer",), ("number",)
_NO_ANSWER = "no answer; the reason is told beside"
_UNLIMITED = "nothing limits it"
_IN_UNIT = "in answer_unit"

_ANSWERS = (
    Variable("answer", _OF_ANSWER, "1", "names of the answers", "str", required=False),
    Variable("answer_unit", _OF_ANSWER, "1", 'their units, SI; "1" for none', "str", required=False),
    Variable("answer_better", _OF_ANSWER, "1", 'whether "more" or "less" of it is wanted', "str", required=False),
)
_NUMBERS = (
    Variable("number", _OF_NUMBER, "1", "names of the design numbers", "str"),
    Variable("number_unit", _OF_NUMBER, "1", 'their units, SI; "1" for none', "str"),
    Variable("number_value", _OF_NUMBER, "1", "their values as described, in number_unit"),
)
_AS_DESCRIBED = (
    Variable("answer_value", _OF_ANSWER, "1", f"the design as described, {_IN_UNIT}", nan=_NO_ANSWER,
             infinite=_UNLIMITED),
    Variable("answer_reason", _OF_ANSWER, "1", "why there is no answer", "str"),
    Variable("answer_where", _OF_ANSWER, "1", "the posture and the part that the answer comes from", "str"),
)
_PLACE = (BASE_POSITION, TRACK_SPAN)

SWEEP = Study(
    "sweep",
    "many designs: answers of each, or (swept_study) all variables and numbers of a study of each, over the designs",
    (
        *_ANSWERS,
        Variable("design", ("design",), "1", "place of the design in a hypercube; of other plans each design number is "
                 "a dim. Coordinates that go by the names of the design numbers tell their values", "int",
                 required=False, least=0),
    ),
    (
        Variable("value", (BATCH, "answer"), "1", f"what the design answers, {_IN_UNIT}", required=False,
                 nan=_NO_ANSWER, infinite=_UNLIMITED),
        Variable("reason", (BATCH, "answer"), "1", "why there is no answer", "str", required=False),
        Variable("where", (BATCH, "answer"), "1", "the posture and the part that the answer comes from", "str",
                 required=False),
    ),
    (
        Attribute("plan", "1", "how designs were chosen", "str", choices=("factorial", "latin hypercube")),
        Attribute("designs", "1", "how many designs", "int"),
        Attribute("seed", "1", "seed of the latin hypercube", "int", required=False),
        Attribute("swept_study", "1", "the study that was run for each design", "str", required=False),
        *_PLACE,
    ),
)  # fmt: skip

_OF_BOTH = ("number", "answer")
_ALTERNATIVES = ("alternative", "answer")

CHANGES = Study(
    "changes",
    "which change buys the most: derivatives at the critical posture, and steps to real alternatives",
    (
        *_NUMBERS, *_ANSWERS,
        Variable("alternative", ("alternative",), "1", "names of the alternatives", "str"),
        Variable("price", ("alternative",), "1", "price of the alternative, in the attribute currency", least=0,
                 nan="not told"),
    ),
    (
        *_AS_DESCRIBED,
        Variable("derivative", _OF_BOTH, "1", "answer_unit by number_unit, the critical posture held",
                 nan="none: see derivative_reason"),
        Variable("derivative_error", _OF_BOTH, "1", "estimated error of the derivative, from two steps and both sides",
                 least=0, nan="no derivative"),
        Variable("derivative_reason", _OF_BOTH, "1", "why there is no derivative", "str"),
        Variable("step", _OF_NUMBER, "1", "the change that gains are told for, in number_unit: a tenth of the value; "
                 "of positions 10 mm, of angles 1 deg", least=0),
        Variable("gain", _OF_BOTH, "1", "what that step is worth if it is made the better way, by the derivative, "
                 f"{_IN_UNIT}", least=0, nan="no derivative"),
        Variable("better_way", _OF_BOTH, "1", 'the better way: "more" or "less" of the number, "" if it makes no '
                 "difference", "str"),
        Variable("alternative_value", _ALTERNATIVES, "1",
                 f"the design with the alternative, all postures chosen anew, {_IN_UNIT}", nan=_NO_ANSWER,
                 infinite=_UNLIMITED),
        Variable("alternative_gain", _ALTERNATIVES, "1", f"by how much better that is, {_IN_UNIT}; negative: worse",
                 nan="no answer before or after", infinite=_UNLIMITED),
        Variable("alternative_reason", _ALTERNATIVES, "1", "why there is no answer", "str"),
        Variable("gain_per_price", _ALTERNATIVES, "1", f"gain by price, {_IN_UNIT} by currency",
                 nan="no price told, or no gain", infinite="it costs nothing"),
        Variable("rank", ("alternative",), "1", "place by gain per price of the answer ranked by, from 1; after those "
                 "come those without price, by gain, and last what gains nothing", "int", least=1),
    ),
    (
        Attribute("ranked_by", "1", "the answer that alternatives are ranked by", "str"),
        Attribute("currency", "1", "what prices are told in", "str"),
        *_PLACE,
    ),
)  # fmt: skip

_SHARES = ("answer", "number")
_BAND = "of the band"

UNCERTAINTY = Study(
    "uncertainty",
    "how sure the answers are, when numbers have tolerances: bands, and the numbers that cause them",
    (
        *_NUMBERS,
        Variable("number_tolerance", _OF_NUMBER, "1", "their tolerances, in number_unit", least=0), *_ANSWERS,
    ),
    (
        *_AS_DESCRIBED,
        Variable("linear_low", _OF_ANSWER, "1", f"lower end {_BAND} by derivatives, {_IN_UNIT}", nan="no derivative"),
        Variable("linear_high", _OF_ANSWER, "1", f"upper end {_BAND} by derivatives, {_IN_UNIT}", nan="no derivative"),
        Variable("linear_deviation", _OF_ANSWER, "1", f"standard deviation by derivatives, {_IN_UNIT}", least=0,
                 nan="no derivative"),
        Variable("linear_share", _SHARES, "1", "share of the variance that a number causes, by derivatives", least=0,
                 greatest=1, nan="no derivative, or no spread"),
        Variable("linear_reason", _OF_ANSWER, "1", "why there is no band by derivatives", "str"),
        Variable("sampled_low", _OF_ANSWER, "1", f"lower end {_BAND} of the samples, {_IN_UNIT}", required=False,
                 nan="no sample has an answer", infinite=_UNLIMITED),
        Variable("sampled_middle", _OF_ANSWER, "1", f"median of the samples, {_IN_UNIT}", required=False,
                 nan="no sample has an answer", infinite=_UNLIMITED),
        Variable("sampled_high", _OF_ANSWER, "1", f"upper end {_BAND} of the samples, {_IN_UNIT}", required=False,
                 nan="no sample has an answer", infinite=_UNLIMITED),
        Variable("sampled_known", _OF_ANSWER, "1", "share of the samples that have an answer; bands are of those",
                 required=False, least=0, greatest=1),
        Variable("sampled_share", _SHARES, "1", "share of the samples' variance that a number causes: squared "
                 "standardised coefficient of a linear fit", required=False, least=0, nan="no spread, or no fit"),
        Variable("sampled_explained", _OF_ANSWER, "1", "share of the samples' variance that the linear fit explains; "
                 "where it is small, so is the meaning of sampled_share", required=False, least=0, greatest=1,
                 nan="no spread, or no fit"),
    ),
    (
        Attribute("distribution", "1", "what a tolerance means", "str"),
        Attribute("band", "1", "shares of all cases between which the band lies", length=2),
        Attribute("samples", "1", "how many samples; 0: none", "int"),
        Attribute("seed", "1", "seed of the samples", "int"),
        Attribute("postures", "1", 'of the samples: "held" as chosen for the design as described, or "anew"', "str"),
        *_PLACE,
    ),
)  # fmt: skip

DESIGN_STUDIES = (SWEEP, CHANGES, UNCERTAINTY)
