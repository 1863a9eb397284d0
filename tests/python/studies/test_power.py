from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

import armwright as aw
from cases.driven_cells import driven_arm, supply, swing, thirds, turntable

LOAD = aw.Load(2.0, (0.05, 0, 0.02))


def test_power_of_the_turntable_and_its_supply() -> None:
    result = turntable().power(thirds(np.pi / 2, 0.6, 0.6), supply())
    up, w = 3.0106930, 3750 * np.pi / 30
    assert result.attrs["electrical_peak"] == pytest.approx(up * w + 4 * up * up, rel=1e-6)
    assert result.attrs["bus_greatest_voltage"] == pytest.approx(390)
    assert result.attrs["resistor_mean"] == pytest.approx(result.attrs["resistor_energy"] / 1.2)
    assert result.attrs["branch_share"] == pytest.approx(result.attrs["current_rms"] / 12.8)
    assert result.attrs["resistor_peak_share"] == pytest.approx(result.attrs["resistor_peak"] * 50 / 390**2)
    assert np.isnan(result["motor_current_rms"].item())  # no torque constant told
    assert "licensed" in result.attrs["caution"]
    summed = (result["mechanical_power"] + result["winding_power"]).sum("joint")
    assert summed.values == pytest.approx(result["electrical_power"].values)
    shorter = turntable().power(thirds(np.pi / 2, 0.6, 0.6), supply(), continuous=False)
    assert shorter.attrs["branch_share"] == pytest.approx(0.8 * result.attrs["branch_share"])


def test_what_a_supply_does_not_tell_is_assumed_aloud() -> None:
    result = turntable().power(thirds(np.pi / 2, 0.6, 0.6), aw.Supply(230.0))
    # a rectified 230 V is 325.27 V; common practice takes 1.2 times that
    assert "no braking voltage: 390.3 V taken" in result.attrs["assumptions"]
    at_390 = turntable().power(thirds(np.pi / 2, 0.6, 0.6), aw.Supply(230.0, braking_voltage=1.2 * np.sqrt(2) * 230))
    assert result.attrs["bus_greatest_voltage"] == pytest.approx(at_390.attrs["bus_greatest_voltage"])
    assert "no brake resistor" in result.attrs["assumptions"]
    assert "branch_share" not in result.attrs


def test_energy_drawn_is_energy_lost_over_a_closed_cycle() -> None:
    result = driven_arm().power(swing(loads=LOAD), supply(), step=0.001)
    time = result["time"].values
    integral = {name: float(np.trapezoid(result[name].values.reshape(len(time), -1).sum(axis=1), time))
                for name in ("electrical_power", "winding_power", "friction_power")}  # fmt: skip
    lost = integral["winding_power"] + integral["friction_power"]
    assert integral["electrical_power"] == pytest.approx(lost, rel=1e-3)
    stored = result.attrs["mains_energy"] - result.attrs["resistor_energy"]
    assert stored == pytest.approx(integral["electrical_power"], rel=1e-3)


def test_power_that_the_branch_circuit_allows() -> None:
    # 80 % of 16 A at 230 V and a power factor of 0.9 are 2649.6 W; 60 W stand by, and 95 % of the rest comes to the bus
    told = supply(power_factor=0.9, efficiency=0.95, standby_power=60.0)
    result = turntable().power(thirds(np.pi / 2, 0.6, 0.6), told)
    assert result.attrs["branch_power"] == pytest.approx((0.8 * 16 * 230 * 0.9 - 60) * 0.95)


def test_power_tells_of_joints_without_a_drive() -> None:
    arm = driven_arm().description.arm
    bare = replace(arm.joints[3], drive=None, torque_continuous=50.0, torque_peak=100.0)
    cell = aw.Cell(replace(arm, joints=(*arm.joints[:3], bare, *arm.joints[4:])))
    told = cell.power(swing(), supply()).attrs["assumptions"]
    assert f"no drive of {bare.name}: its mechanical power alone counts, without losses" in told
    assert "its mechanical power alone" not in driven_arm().power(swing(), supply()).attrs.get("assumptions", "")


def test_what_the_parts_of_a_supply_bear_is_told_in_shares() -> None:
    result = turntable().power(thirds(np.pi / 2, 0.6, 0.6), supply(resistor_power=80.0))
    assert result.attrs["resistor_mean_share"] == pytest.approx(result.attrs["resistor_mean"] / 80)
    assert result.attrs["branch_rule"].startswith("80 % of 16 A")
    shorter = turntable().power(thirds(1, 1, 1), supply(), continuous=False)
    assert shorter.attrs["branch_rule"].startswith("16 A, for less")
    bare = turntable().power(thirds(1, 1, 1), supply(branch_current=None, resistance=None, resistor_power=None)).attrs
    assert not {"branch_share", "branch_rule", "branch_power", "resistor_peak_share", "resistor_mean_share"} & set(bare)


def test_what_is_no_supply() -> None:
    with pytest.raises(aw.InputError, match=r"^supply: got None, expected a Supply, or a cell with one"):
        turntable().power(thirds(1, 1, 1))
