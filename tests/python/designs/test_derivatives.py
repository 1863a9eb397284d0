"""Derivatives by differences: their values, their errors, kinks and edges."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest

import armwright as aw
from armwright.designs.derivatives import Derivative, derivatives_of, of_values, size_of
from cases.designs import FORE, UPPER, G, level_cell


def around(f: Callable[[float], float], at: float, step: float) -> Derivative:
    def told(x: float) -> aw.Asked:
        value = f(x)
        return aw.Asked(value, "off the edge" if math.isnan(value) else "")

    return of_values(f(at), [told(at + share * step) for share in (1, 0.5, -0.5, -1)], step)


@pytest.mark.parametrize(
    ("f", "at", "slope"),
    [(math.sin, 0.3, math.cos(0.3)), (math.exp, 1.0, math.e), (lambda x: x**3, 2.0, 12.0), (lambda x: 5.0, 1.0, 0.0)],
)
@pytest.mark.parametrize("step", [1e-1, 1e-2, 1e-4])
def test_the_error_told_is_no_less_than_the_error(
    f: Callable[[float], float], at: float, slope: float, step: float
) -> None:
    found = around(f, at, step)
    assert abs(found.value - slope) <= found.error < max(step**2, 1e-7) * 10 and found.reason == ""
    assert found.upward == found.downward == found.value


def test_two_steps_take_the_second_order_out() -> None:
    """Of the sine at 1e-2: central differences are off by h²/6 cos, 1.6e-5; what is left is of the fourth order."""
    assert abs(around(math.sin, 0.3, 1e-2).value - math.cos(0.3)) < 1e-10


def test_a_kink_is_told_with_both_slopes() -> None:
    found = around(lambda x: min(2 * x, 5 * x), 0.0, 1e-3)
    assert (found.upward, found.downward) == pytest.approx((2, 5))
    assert found.value == pytest.approx(3.5) and found.error >= 1.5 and found.reason.startswith("a kink: 2 for more")
    # Curved, but smooth: no kink, however large the curvature.
    assert around(lambda x: 1e3 * x * x, 0.0, 1e-2).reason == ""


def test_at_an_edge_one_side_will_do() -> None:
    found = around(lambda x: math.sqrt(x + 1) if x >= 0 else math.nan, 0.0, 1e-3)
    assert abs(found.value - 0.5) < 1e-6 and abs(found.value - 0.5) <= found.error and math.isnan(found.downward)
    assert found.reason == "from one side: off the edge"
    nothing = around(lambda x: math.nan if x else 1.0, 0.0, 1e-3)
    assert math.isnan(nothing.value) and nothing.reason == "off the edge"
    assert "nothing limits" in around(lambda x: math.inf if x > 0 else 1.0, 0.0, 1e-3).reason


def test_steps_are_shares_of_a_number_s_size() -> None:
    told = [("m", 0.0, 0.1), ("m", -2.0, 2.0), ("rad", 0.01, 0.1), ("kg", 0.02, 0.02), ("kg", 0.0, 1.0)]
    for unit, value, size in told:
        assert size_of(aw.DesignNumber("x", value, unit)) == size


# The level cell at "far": by the law of cosines, with each body's centre where it is on its link.
C_UPPER, C_FORE = UPPER / 2, FORE / 2


def payload(upper: float = UPPER, fore: float = FORE, m_upper: float = 8.0, m_fore: float = 3.0, c_fore: float = C_FORE,
            torque: float = 55.0, reach: float = 1.0) -> float:
    """What axis 3 holds, kg: the third axis gives out first there."""
    knee = (reach**2 + upper**2 - fore**2) / (2 * reach)
    lever = reach - knee
    return (torque / G - m_fore * lever * c_fore / fore) / lever


def by_hand(name: str, at: float) -> float:
    return (payload(**{name: at + 1e-6}) - payload(**{name: at - 1e-6})) / 2e-6


@pytest.mark.parametrize(
    ("path", "name", "at"),
    [
        ("arm.links[upper arm].length", "upper", UPPER),
        ("arm.links[forearm].mass", "m_fore", 3.0),
        ("arm.links[forearm].centre.x", "c_fore", C_FORE),
        ("arm.joints[axis 3].torque_continuous", "torque", 55.0),
        ("arm.links[upper arm].mass", "m_upper", 8.0),
        ("targets[far].pose.x", "reach", 1.0),
    ],
)
def test_payload_by_hand(path: str, name: str, at: float) -> None:
    cell = level_cell()
    answer = aw.ask.payload("far").bound_to(cell)
    [found] = derivatives_of(cell.description, cell.design_number(path), [answer], [answer.ask(cell)])
    assert found.value == pytest.approx(by_hand(name, at), rel=1e-6, abs=1e-7)
    assert found.error < 1e-5 * max(1.0, abs(found.value)) and found.reason == ""


def test_the_forearm_carries_the_wrist_along() -> None:
    """The forearm's length is the way to axis 4, which is in the wrist."""
    cell = level_cell()
    answer = aw.ask.payload("far").bound_to(cell)
    number = cell.design_number("arm.links[forearm].length")
    [found] = derivatives_of(cell.description, number, [answer], [answer.ask(cell)])
    assert found.value == pytest.approx(by_hand("fore", FORE), rel=1e-6)


def test_counts_and_what_has_no_answer_have_none() -> None:
    cell = level_cell()
    answers = [aw.ask.served(), aw.Answer("x", "1", lambda c: math.nan), aw.Answer("y", "1", lambda c: math.inf)]
    asked = [answer.ask(cell) for answer in answers]
    row = derivatives_of(cell.description, cell.design_number("load.mass"), answers, asked)
    assert [each.reason for each in row] == ["a count goes in whole steps", "no number", "nothing limits it"]
    assert all(math.isnan(each.value) for each in row)


def test_a_number_at_its_bound_is_looked_at_from_the_other_side() -> None:
    """The hand weighs nothing: a mass cannot be less. By hand, at the wrist: it counts as load does."""
    cell = level_cell()
    answer = aw.ask.payload("far").bound_to(cell)
    [found] = derivatives_of(cell.description, cell.design_number("arm.links[hand].mass"), [answer], [answer.ask(cell)])
    assert found.value == pytest.approx(-1, rel=1e-9) and found.reason.startswith("from one side: arm.links[hand].mass")
