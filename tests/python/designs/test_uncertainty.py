"""How sure answers are, against closed forms of straight answers."""

from __future__ import annotations

import math
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

import numpy as np
import pytest

import armwright as aw
from armwright.results import summary
from cases.designs import FORE, UPPER, G, held_at, level_cell

M_FORE, M_UPPER, TORQUE = "arm.links[forearm].mass", "arm.links[upper arm].mass", "arm.joints[axis 3].torque_continuous"
FAR = [aw.ask.payload("far")]
LEVER = 1.0 - (1.0 + UPPER**2 - FORE**2) / 2.0  # of the wrist from the elbow, in level_cell, by the law of cosines


def straight(cell: aw.Cell) -> float:
    mass = {link.name: float(link.mass) for link in cell.description.arm.links}
    return 2 * mass["forearm"] - 3 * mass["upper arm"]


STRAIGHT = aw.Answer("straight", "kg", straight)


@pytest.mark.parametrize(
    ("distribution", "deviation", "ends"), [("normal", 0.5, 1.6448536), ("uniform", 3**-0.5, None)]
)
def test_a_straight_answer_in_closed_form(distribution: str, deviation: float, ends: float | None) -> None:
    """2 a - 3 b with tolerances 0.3 and 0.4: deviations add up in squares. 95 % of the sum of two uniform numbers of
    half widths 0.6 and 1.2: in the falling flank 1 - F = (a + b - x)² / (8 a b)."""
    result = level_cell().uncertainty(STRAIGHT, {M_FORE: "10 %", M_UPPER: 0.4}, distribution=distribution, samples=2048)
    sigma = deviation * math.hypot(0.6, 1.2)
    half = ends * sigma if ends else 1.8 - math.sqrt(0.05 * 8 * 0.6 * 1.2)
    one = result.isel(answer=0)
    assert float(one.answer_value) == 6 - 24
    assert float(one.linear_deviation) == pytest.approx(sigma, rel=1e-6)
    assert [float(one.linear_low), float(one.linear_high)] == pytest.approx([-18 - half, -18 + half], rel=1e-6)
    assert [float(one.sampled_low), float(one.sampled_high)] == pytest.approx([-18 - half, -18 + half], abs=0.01 * half)
    assert float(one.sampled_middle) == pytest.approx(-18, abs=0.01 * half)
    wanted = {M_FORE: 0.2, M_UPPER: 0.8}
    for path, share in wanted.items():
        assert float(one.linear_share.sel(number=path)) == pytest.approx(share)
        assert float(one.sampled_share.sel(number=path)) == pytest.approx(share, abs=5e-3)
    assert float(one.sampled_explained) == pytest.approx(1) and float(one.sampled_known) == 1


def test_payload_by_hand() -> None:
    """What axis 3 holds is straight in its torque, 1 / (g lever), and in the forearm's mass, -1/2, which hangs in the
    middle of the lever."""
    result = level_cell().uncertainty(FAR, {TORQUE: "2 %", M_FORE: "± 0.3 kg"}, distribution="normal", samples=1024)
    one = result.isel(answer=0)
    parts = np.array([1.1 / (G * LEVER), 0.3 / 2])
    assert float(one.linear_deviation) == pytest.approx(np.hypot(*parts) / 2, rel=1e-6)
    assert one.linear_share.values == pytest.approx(parts**2 / (parts**2).sum(), rel=1e-5)
    assert float(one.sampled_high) - float(one.sampled_low) == pytest.approx(
        float(one.linear_high) - float(one.linear_low), rel=0.02)  # fmt: skip
    assert float(one.answer_value) == pytest.approx(held_at(1.0))


def test_tolerances_are_those_of_the_description_and_those_told() -> None:
    described = level_cell().with_numbers({M_FORE: "3 kg ± 10 %", M_UPPER: "8 kg ± 0.5 kg"})
    assert described.uncertainty(FAR, samples=0).number_tolerance.values == pytest.approx([0.5, 0.3])
    told = described.uncertainty(FAR, {M_FORE: "1 %", M_UPPER: 0, "mount.z": "2 mm"}, samples=0)
    assert dict(zip(told.number.values, told.number_tolerance.values, strict=True)) == pytest.approx(
        {M_FORE: 0.03, "mount.z": 0.002})  # fmt: skip
    assert "sampled_low" not in told


def test_where_derivatives_see_nothing_samples_do() -> None:
    """Axis 3 gives out first, but axis 2 soon after: the upper end of the band is what axis 2 holds, below what the
    derivative tells. By hand, 5 % and 95 % of the torque."""
    cell = level_cell()
    result = cell.uncertainty(FAR, {TORQUE: "20 %"}, samples=1024)
    one = result.isel(answer=0)
    assert float(one.linear_high) == pytest.approx(held_at(1.0, torques=(900, 55 * 1.18)), rel=1e-6)
    assert float(one.sampled_high) == pytest.approx(held_at(1.0, torques=(160, 900)), rel=1e-6)
    assert float(one.sampled_low) == pytest.approx(held_at(1.0, torques=(160, 55 * 0.82)), rel=3e-3)
    assert float(one.linear_high) > float(one.sampled_high)
    assert float(one.sampled_explained) < 0.95


def test_a_kink_and_a_count_are_told() -> None:
    kinked = aw.Answer("kinked", "kg", lambda cell: abs(cell.design_number(M_FORE).value - 3))
    result = level_cell().uncertainty([kinked, aw.ask.served()], {M_FORE: "10 %"}, samples=2)
    assert "the samples tell better" in result.linear_reason.values[0]
    assert result.linear_reason.values[1] == "a count goes in whole steps" and np.isnan(result.linear_low.values[1])
    assert float(result.sampled_middle[1]) == 2


def test_samples_without_an_answer_are_counted() -> None:
    """The upper arm 0.5 m ± 0.1 m: 1 m out is reached from 0.5 m on, half of all cases; held anew or not."""
    cell = level_cell().with_numbers({"arm.links[upper arm].length": 0.5001})
    for postures in ("held", "anew"):
        result = cell.uncertainty(FAR, {"arm.links[upper arm].length": "100 mm"}, samples=16, postures=postures)
        assert 0.3 < float(result.sampled_known[0]) < 0.7, postures
        assert "no answer in" in summary(result)


def test_postures_of_the_samples_are_held_or_chosen_anew() -> None:
    told = aw.Answer("x", "1", lambda cell: aw.Asked(1.0, held="here"), again=lambda cell, held: 2.0 + len(held))
    for postures, value in (("held", 6.0), ("anew", 1.0)):
        result = level_cell().uncertainty(told, {M_FORE: "10 %"}, samples=2, postures=postures)
        assert float(result.sampled_middle[0]) == value


def test_the_seed_and_nothing_else_chooses_the_samples() -> None:
    cell, told = level_cell(), {M_FORE: "10 %", TORQUE: "5 %"}
    here = cell.uncertainty(FAR, told, samples=16, seed=5)
    with ThreadPoolExecutor(2) as threads:
        assert cell.uncertainty(FAR, told, samples=16, seed=5, executor=threads).identical(here)
    assert float(cell.uncertainty(FAR, told, samples=16, seed=6).sampled_low[0]) != float(here.sampled_low[0])


def test_it_says_what_a_tolerance_means_and_goes_to_a_file(tmp_path: Path) -> None:
    result = level_cell().uncertainty(None, {M_FORE: "10 %"}, samples=16)
    assert list(result.answer.values) == ["least payload margin", "least limit margin", "least clearance"]
    words = summary(result)
    assert "5 % to 95 % of all cases; a tolerance is the whole range" in words
    assert f"caused by {M_FORE} 100 %" in words
    assert aw.open_result(result.armwright.to_netcdf(tmp_path / "x.nc")).identical(result)


@pytest.mark.parametrize(
    ("told", "words"),
    [
        ({"tolerances": None}, r"4\.2 kg ± 10 %"),
        ({"tolerances": {M_FORE: 0}}, r"4\.2 kg ± 10 %"),
        ({"tolerances": 3}, "tolerances by name"),
        ({"tolerances": {"arm.links[fore].mass": 1}}, "did you mean"),
        ({"tolerances": {M_FORE: "3 mm"}}, "unit of tolerance|a tolerance"),
        ({"tolerances": {M_FORE: -1}}, "at least 0"),
        ({"tolerances": {M_FORE: "-10 %"}}, "at least 0"),
        ({"tolerances": {M_FORE: math.nan}}, "finite"),
        ({"tolerances": {M_FORE: None}}, "10 %"),
        ({"distribution": "triangle"}, "uniform"),
        ({"samples": 100}, r"a power of two.*128"),
        ({"samples": 1}, "a power of two"),
        ({"samples": -2}, "samples"),
        ({"samples": 2.0}, "samples"),
        ({"seed": "x"}, "seed"),
        ({"postures": "free"}, "held"),
        ({"answers": 3}, "aw.ask"),
    ],
)
def test_what_makes_no_uncertainty_is_refused(told: dict[str, Any], words: str) -> None:
    with pytest.raises(aw.InputError, match=words):
        level_cell().uncertainty(**({"tolerances": {M_FORE: "10 %"}, "samples": 2, "answers": FAR} | told))
