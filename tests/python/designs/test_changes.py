"""Which change buys the most."""

from __future__ import annotations

import math
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest

import armwright as aw
from armwright.designs.changes import ranks, step_of, usual_numbers
from armwright.results import summary
from cases.described import positioner
from cases.designs import held_at, level_cell

DEMO = Path(aw.__file__).parent / "demo"
FAR = [aw.ask.payload("far")]


def test_without_a_word_it_tells_of_the_usual_numbers_and_answers() -> None:
    cell = level_cell(tool=aw.Tool(mass=0.5))
    result = cell.changes()
    assert list(result.answer.values) == ["least payload margin", "least limit margin", "least clearance",
                                          "points served"]  # fmt: skip
    assert {"tool.mass", "mount.z", "arm.links[upper arm].length", "arm.joints[axis 3].torque_continuous"} <= set(
        result.number.values)
    tool = result.sel(number="tool.mass", answer="least payload margin")
    assert float(tool.derivative) == pytest.approx(-1) and float(tool.gain) == pytest.approx(0.05)
    assert tool.better_way.item() == "less" and float(tool.step) == pytest.approx(0.05)
    assert result.sizes["alternative"] == 0
    assert (result.sel(answer="points served").derivative_reason == "a count goes in whole steps").all()


def test_usual_numbers_of_a_driven_arm_on_a_track() -> None:
    cell = aw.load_cell(DEMO / "cell.toml").description
    paths = [number.path for number in usual_numbers(cell)]
    drive = "arm.joints[axis 2].drive"
    for path in (f"{drive}.stages[reducer 121 large].ratio", f"{drive}.motor.continuous", f"{drive}.motor.peak",
                 "arm.links[upper arm].length",
                 "arm.links[upper arm].mass", "track.stroke", "tool.mass", "mount.z", "arm.base_link.length",
                 "track.drive.stages[rack].radius"):  # fmt: skip
        assert path in paths, path
    assert not [path for path in paths if "shapes" in path or "targets" in path or "friction" in path]
    arm = positioner()
    spring = aw.Counterbalance("coil", "upper arm", (0.1, 0, 0), "base", (0, 0, 0), rate=2000, free_length=0.1)
    held = aw.CellDescription(replace(arm, counterbalances=(spring,)))
    assert "arm.counterbalances[counterbalance].rate" in [number.path for number in usual_numbers(held)]


def test_what_a_step_is() -> None:
    for path, value, unit, step in (("a.ratio", -100.0, "1", 10.0), ("mount.z", 0.0, "m", 0.01),
                                    ("a.placement.x", 2.0, "m", 0.01), ("links[a].length", 0.5, "m", 0.05),
                                    ("track.stroke", 2.0, "m", 0.2), ("a.tilt", 1.0, "rad", math.radians(1)),
                                    ("a.mass", 0.0, "kg", 0.0)):  # fmt: skip
        assert step_of(aw.DesignNumber(path, value, unit)) == pytest.approx(step)


def test_gains_are_told_the_better_way() -> None:
    """By hand at the level cell: payload by the third axis' torque (as if the second did not give out then) and the
    forearm's mass; less of a cost is better."""
    cost = aw.Answer("torque", "N*m", lambda cell: cell.limits.torque_continuous[2], "less")
    result = level_cell().changes(["arm.joints[axis 3].torque_continuous", "arm.links[forearm].mass"], (), [*FAR, cost])
    gain = (held_at(1.0, torques=(900, 60.5)) - held_at(1.0)), (held_at(1.0, masses=(8, 2.7)) - held_at(1.0))
    assert result.gain.values[:, 0] == pytest.approx(gain)
    assert held_at(1.0, torques=(160, 60.5)) < held_at(1.0, torques=(900, 60.5))
    assert result.better_way.values[:, 0].tolist() == ["more", "less"]
    assert result.gain.values[0, 1] == pytest.approx(5.5) and result.better_way.values[0, 1] == "less"
    assert result.gain.values[1, 1] == 0 and result.better_way.values[1, 1] == ""


def test_alternatives_are_ranked_by_gain_per_price() -> None:
    torque = "arm.joints[axis 3].torque_continuous"
    others = [
        aw.Alternative({torque: 56}, 100, "a"), aw.Alternative({torque: "57 N*m"}, 150, "b"),
        aw.Alternative({torque: 70}, name="no price"), aw.Alternative({torque: 50}, 10, "worse"),
        aw.Alternative({"arm.links[upper arm].length": 0.3}, 1, "lost"), aw.Alternative({torque: -5}, 1, "refused"),
    ]  # fmt: skip
    result = level_cell().changes([], others, FAR, currency="EUR")
    values = [held_at(1.0, torques=(160, third)) for third in (56, 57, 70, 50)]
    assert result.alternative_value.values[:4, 0] == pytest.approx(values)
    gains = np.array(values) - held_at(1.0)
    assert result.alternative_gain.values[:4, 0] == pytest.approx(gains)
    assert result.gain_per_price.values[:2, 0] == pytest.approx(gains[:2] / [100, 150])
    assert np.isnan(result.gain_per_price.values[2:, 0]).all()
    assert result["rank"].values.tolist() == [2, 1, 3, 4, 5, 6]
    assert result.alternative_reason.values[4, 0].startswith("far: out of reach")
    assert result.alternative_reason.values[5, 0].startswith(torque)
    words = summary(result)
    assert "b for 150 EUR: payload at far" in words and "1 of 6 alternatives gain nothing" in words


def test_ranks() -> None:
    nan, inf = math.nan, math.inf
    assert ranks(np.array([1, 2, 0, nan, 3, -1, 1]), np.array([0.1, nan, nan, nan, 0.2, nan, inf])).tolist() == [
        3, 4, 5, 7, 2, 6, 1,
    ]  # fmt: skip


def test_the_demo_s_changes_by_parts_are_the_studies_of_those_cells() -> None:
    cell = aw.load_cell(DEMO / "cell.toml")
    answer = aw.ask.payload("left shelf 2, bag of clay")
    parts = aw.load_parts(DEMO / "parts.toml")
    few = aw.Parts({}, {"reducer 121 large": parts.stage("reducer 121 large")}, {})
    result = cell.changes("tool.mass", answers=answer, parts=few, prices={"reducer 121 large": 900})
    changed = cell.with_numbers({"arm.joints[axis 3].drive.stages[reducer 121]": parts.stage("reducer 121 large")})
    row = result.sel(alternative="axis 3: reducer 121 large", answer=answer.name)
    target = next(t for t in cell.targets if t.name == "left shelf 2, bag of clay")
    assert float(row.alternative_value) == pytest.approx(float(changed.check_targets(target).payload[0]), rel=1e-12)
    assert float(row.price) == 900 and int(row["rank"]) == 1


def test_executors_change_nothing_and_files_keep_it(tmp_path: Path) -> None:
    cell = level_cell()
    others = {"arm.links[upper arm].mass": [6.0, 7.0]}
    here = cell.changes(None, others, FAR)
    with ThreadPoolExecutor(2) as threads:
        assert cell.changes(None, others, FAR, executor=threads).identical(here)
    assert aw.open_result(here.armwright.to_netcdf(tmp_path / "changes.nc")).identical(here)


@pytest.mark.parametrize(
    ("told", "words"),
    [
        ({"numbers": ["arm.links[fore].mass"]}, "did you mean"),
        ({"numbers": 3}, "names of design numbers"),
        ({"numbers": ["load.mass", "load.mass"]}, "each once"),
        ({"numbers": ["load"]}, "a part"),
        ({"alternatives": "track"}, "a list of Alternatives"),
        ({"alternatives": [3]}, r"alternatives\[0\]"),
        ({"alternatives": {"load.mass": 3}}, "a list of values"),
        ({"alternatives": [aw.Alternative({"load.mass": 1}), aw.Alternative({"load.mass": 1})]}, "a different name"),
        ({"prices": 3}, "prices by name"),
        ({"prices": {"1 kW": 3}}, "prices"),
        ({"prices": {"1 kW": -3}}, "a price of 0 or more"),
        ({"parts": 3}, "Parts, as load_parts"),
        ({"parts": "no such file.toml"}, "no such file"),
        ({"rank_by": "payload"}, "least payload margin"),
        ({"currency": ""}, "currency"),
        ({"answers": "payload"}, "aw.ask"),
    ],
)
def test_what_makes_no_changes_is_refused(told: dict[str, Any], words: str) -> None:
    with pytest.raises(aw.InputError, match=words):
        level_cell().changes(**({"numbers": []} | told))
