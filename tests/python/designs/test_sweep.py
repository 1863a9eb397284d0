"""Many designs: answers and studies over them."""

from __future__ import annotations

import math
from concurrent.futures import ProcessPoolExecutor, ThreadPoolExecutor
from multiprocessing import get_context
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import xarray as xr

import armwright as aw
from armwright.results import summary
from cases.designs import held_at, level_cell
from cases.driven_cells import driven_arm, motor

FORE, UPPER = "arm.links[forearm].mass", "arm.links[upper arm].mass"
PAYLOAD = [aw.ask.payload("far"), aw.ask.payload("near")]


def test_every_combination_by_hand() -> None:
    """Against the closed form; levels come back in growing order, texts in SI."""
    result = level_cell().sweep({FORE: ["4 kg", 2.0, 3], UPPER: (6, 30)}, PAYLOAD)
    assert result["value"].dims == (FORE, UPPER, "answer") and result["value"].shape == (3, 2, 2)
    assert result[FORE].values.tolist() == [2, 3, 4] and result[FORE].attrs["units"] == "kg"
    for fore in (2, 3, 4):
        for upper in (6, 30):
            for name, reach in (("far", 1.0), ("near", 0.9)):
                told = result["value"].sel({FORE: fore, UPPER: upper, "answer": f"payload at {name}"})
                assert float(told) == pytest.approx(held_at(reach, masses=(upper, fore)), rel=1e-12)
    assert (result["reason"] == "").all() and result.attrs["designs"] == 6


def test_levels_between_two_ends() -> None:
    result = level_cell().sweep({FORE: ("1 kg", 3)}, PAYLOAD[0], samples=5)
    assert result[FORE].values == pytest.approx([1, 1.5, 2, 2.5, 3])


def test_a_hypercube_spreads_every_number() -> None:
    """One design in each of the equal slices of each number: what makes a latin hypercube (McKay 1979)."""
    result = level_cell().sweep(
        {FORE: ("1 kg", 3), UPPER: (6, 10)}, PAYLOAD, design="latin hypercube", samples=16, seed=3
    )
    assert result["value"].dims == ("design", "answer")
    for path, low, high in ((FORE, 1, 3), (UPPER, 6, 10)):
        slices = np.floor((result[path].values - low) / (high - low) * 16)
        assert sorted(slices) == list(range(16))
    for k in range(16):
        masses = (float(result[UPPER][k]), float(result[FORE][k]))
        assert float(result["value"][k, 0]) == pytest.approx(held_at(1.0, masses=masses), rel=1e-9)
    again = level_cell().sweep({FORE: (1, 3), UPPER: (6, 10)}, PAYLOAD, design="latin hypercube", samples=16, seed=3)
    other = level_cell().sweep({FORE: (1, 3), UPPER: (6, 10)}, PAYLOAD, design="latin hypercube", samples=16, seed=4)
    assert again.identical(result) and not np.array_equal(other[FORE], result[FORE])


def test_designs_without_an_answer_tell_why() -> None:
    length = "arm.links[upper arm].length"
    result = level_cell().sweep({length: [0.45, 0.6], FORE: [3.0, -1.0]}, PAYLOAD)
    value, reason = result["value"], result["reason"].sel(answer="payload at far")
    assert math.isnan(float(value.sel({length: 0.45, FORE: 3, "answer": "payload at far"})))
    assert str(reason.sel({length: 0.45, FORE: 3}).values).startswith("far: out of reach by 50 mm")
    assert np.isnan(value.sel({FORE: -1}).values).all()
    assert f"{FORE}: got -1" in str(reason.sel({length: 0.6, FORE: -1}).values)
    assert float(value.sel({length: 0.6, FORE: 3, "answer": "payload at far"})) == pytest.approx(held_at(1.0))
    words = summary(result)
    assert "4 designs (factorial)" in words and "no answer in 3 of 4" in words


def test_a_swept_study_is_the_studies_of_the_designs() -> None:
    cell = level_cell()
    result = cell.sweep({FORE: [2.0, 4.0], UPPER: [7.0, 8.0, 9.0]}, study="check_targets")
    for fore in (2.0, 4.0):
        for upper in (7.0, 8.0, 9.0):
            own = cell.with_numbers({FORE: fore, UPPER: upper}).check_targets()
            part = result.sel({FORE: fore, UPPER: upper})
            for name in own.variables:
                assert np.array_equal(part[name], own[name], equal_nan=own[name].dtype.kind == "f"), name
    assert result.attrs["swept_study"] == "check_targets" and result.attrs["limit"] == "continuous"
    assert "each with check_targets" in summary(result)


def test_numbers_among_the_attributes_are_swept_too() -> None:
    cell = level_cell()
    told = {"spacing": 0.4, "bounds": ((0, -0.4, -0.4), (1.2, 0.4, 0.4)), "directions": ["x"], "spins": 1}
    result = cell.sweep({"arm.links[upper arm].length": [0.5, 0.6]}, study="reach_map", options=told)
    for length in (0.5, 0.6):
        own = cell.with_numbers({"arm.links[upper arm].length": length}).reach_map(**told)  # type: ignore[arg-type]
        swept = result["reachable_volume"].sel({"arm.links[upper arm].length": length})
        assert float(swept) == own.attrs["reachable_volume"]
    assert result["reachable_volume"].attrs["units"] == "m3"
    by_function = cell.sweep({"arm.links[upper arm].length": [0.5, 0.6]}, study=lambda c: c.reach_map(**told))
    assert by_function["reach_index"].equals(result["reach_index"])


def test_results_of_other_shapes_are_refused() -> None:
    with pytest.raises(aw.InputError, match=r"results that differ along x.*bounds"):
        level_cell().sweep({"arm.links[upper arm].length": [0.5, 0.9]}, study="reach_map",
                           options={"spacing": 0.4, "directions": 2})  # fmt: skip


def test_parts_are_values_of_a_factorial_design() -> None:
    cell = driven_arm(targets=level_cell().targets)
    path = "arm.joints[axis 2].drive.motor"
    result = cell.sweep({path: [motor(1.0, name="small"), motor(2.0, name="large")]}, aw.ask.payload("far"))
    assert result[path].values.tolist() == ["small", "large"]
    large = cell.with_numbers({path: motor(2.0, name="large")})
    other = cell.sweep({path: [motor(1.0, name="small"), motor(3.0, name="large")]}, aw.ask.payload("far"))
    assert other.attrs["inputs_digest"] != result.attrs["inputs_digest"]
    assert result["value"].sel({path: "large"}).item() == aw.ask.payload("far").ask(large).value


def test_it_goes_to_a_file_and_back(tmp_path: Path) -> None:
    for result in (level_cell().sweep({FORE: [2.0, 4.0]}, PAYLOAD),
                   level_cell().sweep({FORE: (2.0, 4.0)}, PAYLOAD, design="latin hypercube", samples=3),
                   level_cell().sweep({FORE: [2.0, 4.0]}, study="check_targets")):  # fmt: skip
        file = result.armwright.to_netcdf(tmp_path / "sweep.nc")
        assert aw.open_result(file).identical(result)


def test_executors_change_nothing() -> None:
    cell, numbers = level_cell(), {FORE: [2.0, 3.0, 4.0], "arm.links[upper arm].length": [0.45, 0.6]}
    here = cell.sweep(numbers, PAYLOAD)
    with ThreadPoolExecutor(2) as threads:
        assert cell.sweep(numbers, PAYLOAD, executor=threads).identical(here)
    with ProcessPoolExecutor(1, get_context("spawn")) as processes:
        assert cell.sweep(numbers, PAYLOAD, executor=processes).identical(here)


def test_progress_counts_and_stops() -> None:
    told: list[tuple[int, int]] = []
    level_cell().sweep({FORE: [2.0, 3.0, 4.0]}, PAYLOAD[0], progress=lambda done, of: told.append((done, of)))
    assert told == [(1, 3), (2, 3), (3, 3)]
    with pytest.raises(aw.Cancelled):
        level_cell().sweep({FORE: [2.0, 3.0, 4.0]}, PAYLOAD[0], progress=lambda done, of: False)


def test_what_went_in_is_in_the_digest() -> None:
    digests = {
        level_cell().sweep({FORE: [2.0, 4.0]}, PAYLOAD[0]).attrs["inputs_digest"],
        level_cell().sweep({FORE: [2.0, 4.1]}, PAYLOAD[0]).attrs["inputs_digest"],
        level_cell().sweep({FORE: [2.0, 4.0]}, PAYLOAD[1]).attrs["inputs_digest"],
        level_cell().sweep({UPPER: [2.0, 4.0]}, PAYLOAD[0]).attrs["inputs_digest"],
    }
    assert len(digests) == 4


@pytest.mark.parametrize(
    ("told", "words"),
    [
        ({"numbers": {}}, "design numbers and their values"),
        ({"numbers": [1]}, "design numbers and their values"),
        ({"numbers": {"arm.links[fore].mass": [1]}}, "did you mean"),
        ({"numbers": {FORE: 3}}, "a list of values"),
        ({"numbers": {FORE: []}}, "a list of values"),
        ({"numbers": {FORE: "3 kg"}}, "a list of values"),
        ({"numbers": {FORE: ["3 mm"]}}, "unit of mass"),
        ({"numbers": {FORE: [3, "3 kg"]}}, "each value once"),
        ({"numbers": {FORE: [1, 2, 3]}, "samples": 3}, "a lower and an upper one"),
        ({"design": "full"}, "factorial"),
        ({"design": "latin hypercube"}, "samples"),
        ({"design": "latin hypercube", "samples": 0}, "samples"),
        ({"design": "latin hypercube", "samples": 3, "seed": -1, "numbers": {FORE: (1, 2)}}, "seed"),
        ({"design": "latin hypercube", "samples": 3, "numbers": {FORE: [1, 2, 3]}}, "a lower and an upper one"),
        ({"design": "latin hypercube", "samples": 3, "numbers": {FORE: (2, 1)}}, "then a higher one"),
        ({"numbers": {FORE: (1, 2), UPPER: (1, 2)}, "samples": 2000}, "4,000,000 designs"),
        ({"study": "chek_targets"}, "did you mean check_targets"),
        ({"study": "digest"}, "one of reach_map"),
        ({"study": 3}, "a function of a Cell"),
        ({"study": lambda cell: 3}, "gives a data set"),
        ({"study": "check_targets", "answers": PAYLOAD}, "one of the two"),
        ({"study": "check_targets", "options": 3}, "options"),
        ({"study": "check_targets", "numbers": {FORE: [3, -1]}}, rf"in the design with {FORE.replace('[', '.')[:9]}"),
        ({"options": {"spacing": 1}}, "they are for a study"),
        ({"executor": 3}, r"a concurrent\.futures\.Executor"),
        ({"study": "check_targets", "executor": 3}, r"a concurrent\.futures\.Executor"),
        ({"study": lambda cell: cell.check_targets(), "executor": ThreadPoolExecutor(1)}, "no lambdas"),
        ({"study": "check_targets", "options": {"order": lambda: 3}, "executor": ThreadPoolExecutor(1)}, "no lambdas"),
        ({"answers": aw.Answer("x", "1", lambda cell: 1.0), "executor": ThreadPoolExecutor(1)}, "no lambdas"),
        ({"progress": 3}, "progress"),
    ],
)
def test_what_makes_no_sweep_is_refused(told: dict[str, Any], words: str) -> None:
    with pytest.raises(aw.InputError, match=words):
        level_cell().sweep(**({"numbers": {FORE: [2.0]}} | told))


def test_names_that_files_cannot_hold_are_told_otherwise(tmp_path: Path) -> None:
    from dataclasses import replace

    described = level_cell().description
    arm = replace(described.arm, links=(*described.arm.links[:2], replace(described.arm.links[2], name="fore/arm"),
                                        *described.arm.links[3:]))  # fmt: skip
    cell = aw.Cell.from_description(replace(described, arm=arm))
    result = cell.sweep({"arm.links[fore/arm].mass": [2.0, 3.0]}, PAYLOAD[0])
    assert "arm.links[fore|arm].mass" in result.coords
    assert isinstance(aw.open_result(result.armwright.to_netcdf(tmp_path / "x.nc")), xr.Dataset)
