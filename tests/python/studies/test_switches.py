from __future__ import annotations

import numpy as np
import pytest

import armwright as aw
from cases.driven_cells import driven_arm, turntable


def test_switches_leave_room_for_every_stop() -> None:
    cell = turntable()
    placed = cell.switches([0.1], [[0.2, 0.3]], switch_error=0.01, reserve=0.05)
    assert placed["limit_switch"].values[0] == pytest.approx([-3 + 0.26, 3 - 0.36])
    assert placed["soft_limit"].values[0] == pytest.approx([-3 + 0.36, 3 - 0.46])
    with pytest.raises(aw.InputError, match="leave something of the range"):
        cell.switches(2.0, 1.5)
    with pytest.raises(aw.InputError, match="0 or more"):
        cell.switches(-0.1, 0.1)


def test_separation_tells_every_case() -> None:
    told = turntable().separation("320 ms")
    assert told["distance"].values[0] == pytest.approx(0.512)  # as light-curtain manuals work ISO 13855 out
    assert told["approach_speed"].values[0] == 1.6
    assert turntable().separation(0.165)["distance"].values[0] == pytest.approx(0.330)
    assert turntable().separation(0.5, resolution=0.05)["distance"].values[0] == pytest.approx(1.65)
    with pytest.raises(aw.InputError, match="stop_time"):
        turntable().separation(0)
    with pytest.raises(aw.InputError, match=r"^height: got 2 m, expected at most 1 m"):
        turntable().separation(0.3, height=2.0)  # ISO 13855 (2010), 6.3: fields along the way in, from memory


def test_places_follow_from_travels_end_by_end() -> None:
    # by hand: hard stop, then reserve, the brake's travel and the switch's error; before that the controlled travel
    placed = turntable().switches([[0.3, 0.1]], [[0.2, 0.5]], hard_stops=[[-2, 1]], switch_error=0.02, reserve=0.03)
    assert placed["hard_stop"].values[0] == pytest.approx([-2, 1])
    assert placed["limit_switch"].values[0] == pytest.approx([-1.75, 0.45])
    assert placed["soft_limit"].values[0] == pytest.approx([-1.45, 0.35])
    assert placed.attrs["rule"] == "travels as given" and "no safeguard" in placed.attrs["caution"]
    one = turntable().switches(0.1, 0.2)
    assert one["soft_limit"].values[0] == pytest.approx([-2.7, 2.7])


def test_travels_that_are_found_and_leave_nothing_have_no_answer_but_do_not_stop_the_others() -> None:
    from armwright.studies.switches import switches

    cell = driven_arm()
    stops = np.array([[-1.0, 1.0], [-1.0, 1.0], [-np.inf, np.inf], [-1.0, 1.0], [-1.0, np.inf], [-1.0, 1.0]])
    travel = np.full((6, 2), 0.2)
    travel[1], travel[3, 0] = 0.6, np.nan
    asked = {"rule": "r", "switch_error": 0.0, "reserve": 0.0, "inputs_digest": "0" * 64, "arm_name": "a", "labels": {}}
    placed = switches(cell._model, stops, travel, travel, found=True, **asked)  # type: ignore[arg-type]
    soft = placed["soft_limit"].values
    np.testing.assert_allclose(soft[[0, 5]], [[-0.6, 0.6]] * 2)
    assert np.isnan(soft[1]).all() and np.isnan(placed["limit_switch"].values[1]).all()
    assert np.isnan(soft[2]).all() and np.isnan(placed["hard_stop"].values[2]).all()  # it turns for ever
    assert np.isnan(soft[3, 0]) and soft[3, 1] == pytest.approx(0.6)
    assert soft[4, 0] == pytest.approx(-0.6) and np.isnan(soft[4, 1])
    with pytest.raises(aw.InputError, match=r"^switches of axis 2: got soft limits at 0.2 and -0.2, expected travels"):
        switches(cell._model, stops, travel, travel, found=False, **asked)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("more", "words"),
    [
        ({"hard_stops": [[1, -1]]}, "hard_stops: got .* lower below upper"),
        ({"hard_stops": [[-1, 1], [-1, 1]]}, "hard_stops"),
        ({"controlled_travel": [0.1, 0.2, 0.3]}, "controlled_travel: got .* 0 or more: one"),
        ({"brake_travel": float("nan")}, "brake_travel"),
        ({"switch_error": -0.1}, "switch_error: got -0.1, expected 0 or more"),
        ({"reserve": "x"}, "reserve"),
    ],
)
def test_places_that_are_refused(more: dict[str, object], words: str) -> None:
    with pytest.raises(aw.InputError, match=words):
        turntable().switches(**({"controlled_travel": 0.1, "brake_travel": 0.1} | more))  # type: ignore[arg-type]


@pytest.mark.parametrize("time", [0.05, 0.165, 0.24, 0.3, 1.2])
@pytest.mark.parametrize("resolution", [0.014, 0.03, 0.04, 0.05])
def test_distances_are_approach_speed_times_stop_time_and_what_reaches_in(time: float, resolution: float) -> None:
    """S = K T + C for every safeguard, with the least distances of a light curtain: 0.1 m at 2 m/s, 0.5 m at 1.6 m/s
    (ISO 13855:2010, from memory)."""
    told = turntable().separation(time, resolution=resolution, height=0.5, reach_through=0.6)
    sums = told["approach_speed"].values * time + told["intrusion"].values
    curtain, *others = told["distance"].values
    assert others == pytest.approx(sums[1:])
    if resolution > 0.04:
        assert curtain == pytest.approx(1.6 * time + 0.85)
    else:
        reach = 8 * (resolution - 0.014)
        assert curtain == pytest.approx(max(2 * time + reach, 0.1) if 2 * time + reach <= 0.5
                                        else max(1.6 * time + reach, 0.5))  # fmt: skip
        assert curtain >= sums[0] - 1e-12
    assert told["intrusion"].values[1:] == pytest.approx([0.85, 1.2 - 0.4 * 0.5, 0.25, 0.6])
    assert told.attrs["coarsest_resolution"] == pytest.approx(0.5 / 15 + 0.05)


def test_resolutions_that_see_nobody_are_refused() -> None:
    with pytest.raises(aw.InputError, match=r"^resolution: got 0.08 m, expected at most 70 mm"):
        turntable().separation(0.3, resolution="80 mm")
