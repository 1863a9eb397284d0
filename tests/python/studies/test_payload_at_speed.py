from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest

import armwright as aw
from armwright._core import studies
from armwright.results.variables import STUDIES
from armwright.studies import moving
from cases.moving_arms import driven

CELL = aw.Cell(driven(), tool=aw.Tool((0, 0, "50 mm"), "0.5 kg"))
ASKED: dict[str, Any] = {"tool_acceleration": "1 m/s^2", "speed_share": 0.3}
COARSE: dict[str, Any] = {"directions": 12, "spins": 2, "centre": (0, 0, "100 mm")}
MAP = CELL.payload_at_speed("250 mm", **ASKED, **COARSE)


def test_greatest_and_least_are_those_of_solving_each_attitude() -> None:
    attitudes = studies.attitudes_along(studies.spread_directions(12), 2)
    x, y, z = np.meshgrid(MAP["x"], MAP["y"], MAP["z"], indexing="ij")
    poses = np.tile(np.eye(4), (*x.shape, len(attitudes), 1, 1))
    poses[..., :3, :3] = attitudes
    poses[..., :3, 3] = np.stack([x, y, z], axis=-1)[..., None, :]
    found = CELL.solve(poses)
    mass = np.full(found.valid.shape, -np.inf)
    mass[found.valid] = CELL.payload_in_motion(found.q[found.valid], (0, 0, 0.1), **ASKED).mass
    best = mass.max(axis=-1)
    some = (best >= 0).any(axis=-1)
    assert np.array_equal(np.isnan(MAP["mass_greatest"]), ~some) and some.any() and not some.all()
    least = np.where(best >= 0, best, np.inf).min(axis=-1)[some]
    np.testing.assert_allclose(MAP["mass_greatest"].values[some], best.max(axis=-1)[some], rtol=1e-9, atol=1e-12)
    np.testing.assert_allclose(MAP["mass_least"].values[some], least, rtol=1e-9, atol=1e-12)
    assert (MAP["mass_greatest"].values[some] > 0).any() and (MAP["mass_least"].values[some] == 0).any()


def test_at_rest_it_is_the_payload_map() -> None:
    held = CELL.payload_map("250 mm", limit="peak", **COARSE)
    for ours, theirs in (("rest_mass_greatest", "mass_greatest"), ("rest_mass_least", "mass_least"),
                         ("rest_joint", "limiting_joint"), ("rest_curve_mass", "curve_mass")):  # fmt: skip
        # To rounding: the payload map works out many postures at once.
        np.testing.assert_allclose(MAP[ours].values, held[theirs].values, rtol=1e-12)
    names = [MAP["part_names"].values[i] if i >= 0 else "" for i in MAP["rest_part"].values.ravel()]
    assert names == [held["part_names"].values[i] if i >= 0 else "" for i in held["limiting_part"].values.ravel()]
    assert {"motor 2", "motor 3"} <= set(names)


def test_speed_costs_and_says_what_gives_out() -> None:
    some = ~np.isnan(MAP["mass_greatest"].values)
    moved, rest = MAP["mass_greatest"].values[some], MAP["rest_mass_greatest"].values[some]
    assert (moved <= rest * (1 + 1e-9)).all() and (moved < 0.9 * rest).mean() > 0.5
    with np.errstate(invalid="ignore"):
        curves = MAP["curve_mass"].values <= MAP["rest_curve_mass"].values * (1 + 1e-9)
    assert (curves | np.isnan(MAP["curve_mass"].values)).all()
    joint, part, limit = (MAP[f"limiting_{name}"].values[some] for name in ("joint", "part", "limit"))
    words = np.array(MAP["limiting_limit"].attrs["flag_meanings"].split(" "))
    by_motor = words[limit] == "motor_torque"
    assert by_motor.any()
    for j, p in zip(joint[by_motor], part[by_motor], strict=True):
        assert str(MAP["part_names"].values[p]) == f"motor {j + 1}"
    demands = set(np.unique(MAP["limiting_demand"].values[some]))
    assert demands <= {0, 1, 2, 3} and 1 in demands
    assert words.tolist() == [name.replace(" ", "_") for name in moving.LIMITS]
    demand = STUDIES["payload_at_speed"].find("limiting_demand")
    assert demand is not None and list(demand.flags) == [name.replace(" ", "_") for name in moving.DEMANDS]


def test_the_codes_are_the_cores() -> None:
    from armwright._core.limits import Demand, MovingLimit

    for words, enum in ((moving.LIMITS, MovingLimit), (moving.DEMANDS, Demand)):
        known = {int(value): name for name, value in enum.__members__.items()}
        names = [known[i].replace("singular", "singular posture") for i in range(len(known))]
        assert [name.replace("_", " ") for name in names] == list(words)


def test_threads_and_file(tmp_path: Path) -> None:
    for threads in (1, 3):
        assert CELL.payload_at_speed("250 mm", threads=threads, **ASKED, **COARSE).identical(MAP)
    assert MAP.attrs["tool_acceleration"] == 1 and MAP.attrs["speed_share"] == 0.3 and MAP.attrs["limit"] == "peak"
    MAP.armwright.to_netcdf(tmp_path / "speed.nc")
    assert aw.open_result(tmp_path / "speed.nc").identical(MAP)
    text = MAP.armwright.summary()
    assert "1 m/s² any way, 0.3 of the joints' speeds" in text and "motor torque at" in text


def test_it_can_be_stopped_and_tells_how_far_it_is() -> None:
    told: list[tuple[int, int]] = []
    CELL.payload_at_speed("500 mm", progress=lambda *count: told.append(count), **ASKED, **COARSE)
    assert told == sorted(told) and told[-1][0] == told[-1][1]
    with pytest.raises(aw.Cancelled):
        CELL.payload_at_speed("40 mm", progress=lambda done, total: False, **ASKED, **COARSE)


def test_positions_alone_of_an_arm_of_few_joints() -> None:
    arm = driven()
    few = replace(arm, joints=arm.joints[:3], links=arm.links[:3], flange=(0.4, 0, 0))
    cell = aw.Cell(few)
    result = cell.payload_at_speed("200 mm", tool_acceleration=1)
    held = cell.payload_map("200 mm", limit="peak")
    np.testing.assert_allclose(result["rest_mass_greatest"].values, held["mass_greatest"].values, rtol=1e-12)
    some = ~np.isnan(held["mass_greatest"].values)
    share = result["mass_greatest"].values[some] / held["mass_greatest"].values[some]
    assert 0.3 < np.median(share) < 0.95
    with pytest.raises(aw.InputError, match="the tool point"):
        cell.payload_at_speed("200 mm", tool_acceleration=1, centre=(0, 0, 0.1))
