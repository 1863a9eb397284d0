"""The lines about bearings say the study's answers."""

from __future__ import annotations

from armwright.results import summary
from cases.borne_cells import TAPERED, ball_on_axis, pair, rows_by_hand, slewing


def test_bearings_tell_safety_life_span_and_what_is_missing() -> None:
    found = ball_on_axis(pair(TAPERED, static_rating=20e3)).bearings(rows=rows_by_hand([0.0, 2.0], 1.5, duty=1.0))
    lines = summary(found).splitlines()
    safety = found.safety.min().item()
    assert f"static safety {safety:.3g}" in lines[1] and "by hand" in lines[1]
    assert "life more than 100000 h at 90 % reliability" in "\n".join(lines)
    found["modified_life"][:] = 3600 * 20e3
    assert "life 20000 h at 90 % reliability" in summary(found)
    assert found.attrs["caution"] in lines[-1]
    weak = ball_on_axis(pair(TAPERED, static_rating=2e3)).bearings(rows=rows_by_hand(0.0))
    text = summary(weak)
    assert ", wanted 3: LESS THAN WANTED (by hand)" in text
    assert f"needs a span of {1000 * weak.needed_span.item():.0f} mm instead of 100 mm" in text
    assert "not looked at: nothing lasts" in text and "no life is told" in text


def test_what_cannot_be_told_is_said() -> None:
    text = summary(ball_on_axis(slewing(static_rating=None)).bearings(rows=rows_by_hand([0.0, 0.0], 0.0, duty=1.0)))
    assert "static safety not known" in text and "not looked at: axis 1: bearing: no static rating" in text
    assert "to mind: axis 1: bearing: does not turn" in text
    hopeless = ball_on_axis(pair(TAPERED, static_rating=100.0), centre=(0, 0, 0.3)).bearings(rows=rows_by_hand(0.0))
    assert "no span of the pair is enough" in summary(hopeless)
