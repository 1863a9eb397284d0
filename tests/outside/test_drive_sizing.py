"""Sources, each named at its check: motor and reducer sizing examples, regeneration, supply and separation figures as
makers' manuals and codes print them. Values told as "from memory" were not looked up again. The makers' figures are
rounded; tolerances are half a unit of the last printed digit unless said otherwise."""

from __future__ import annotations

import math

import numpy as np
import pytest

from armwright import _core
from cases.driven_cells import supply, thirds, turntable

elements = _core.elements
RPM = math.pi / 30


def test_rms_torque_of_a_third_move() -> None:
    # servo manuals: T_rms = sqrt((Ta² ta + Tf² tb + Td² td)/tc); the 1/3-1/3-1/3 move without losses: sqrt(2/3) of
    # the peak
    checked = turntable(1.0).drive_check(thirds(math.pi / 2, 0.6, 1e-9))
    share = checked["motor_rms_torque"].item() / checked["motor_peak_torque"].item()
    assert share == pytest.approx(0.8164966, abs=5e-8)


def test_turntable_with_losses() -> None:
    # recomputed by hand: T = J a/(N eta) + Jm N a driving, J a eta/N + Jm N a braking
    for efficiency, rms in ((0.9, 1.6010840), (1.0, 1.5870744)):
        checked = turntable(efficiency).drive_check(thirds(math.pi / 2, 0.6, 0.6))
        assert checked["motor_rms_torque"].item() == pytest.approx(rms, abs=5e-7)


def test_screw_table() -> None:
    # a machine-tool servo manual's sample: 1000 kg table, mu 0.05, 50 kgf gib, 100 kgf thrust, 30 kgf press, lead
    # 8 mm, eta 0.9; worked out by hand from F p/(2 pi eta): 2.13653 N m with cutting, 0.728363 N m without
    ratio = 2 * math.pi / 0.008
    for force, torque in ((154.0, 2.13653), (52.5, 0.728363)):
        assert elements.stage_input_torque(force * 9.80665, 1.0, ratio, 0.9, 0.9) == pytest.approx(torque, abs=5e-6)
    assert elements.inertia_ratio(1000.0, ratio, 8.0296e-4) == pytest.approx(1.621139e-3 / 8.0296e-4, rel=1e-6)


def test_strain_wave_reducer_example() -> None:
    # a maker's selection example (from memory): 400 N m 0.3 s 7 rpm, 320 N m 3 s 14 rpm, 200 N m 0.4 s 7 rpm, pause
    # 0.2 s; printed 319 N m (cut off) and 12 rpm; 1190 momentary peaks
    spans = ((400.0, 7.0, 0.3), (320.0, 14.0, 3.0), (200.0, 7.0, 0.4))
    wear = sum(elements.wear_integral(t, t, n * RPM, n * RPM, 3, s) for t, n, s in spans)
    turned = sum(n * RPM * s for _, n, s in spans)
    assert math.floor(elements.mean_powered_torque(wear, turned, 3)) == 319
    assert turned / 3.9 / RPM == pytest.approx(12, abs=0.5)
    assert math.floor(elements.momentary_peaks(14 * 120 * RPM, 0.15)) == 1190


def test_cycloidal_reducer_example() -> None:
    # a maker's example (from memory): 2500 N m 0.2 s 10 rpm, 500 N m 0.5 s 20 rpm, 1500 N m 0.2 s 10 rpm: 1475 N m
    spans = ((2500.0, 10.0, 0.2), (500.0, 20.0, 0.5), (1500.0, 10.0, 0.2))
    wear = sum(elements.wear_integral(t, t, n, n, 10 / 3, s) for t, n, s in spans)
    assert elements.mean_powered_torque(wear, sum(n * s for _, n, s in spans), 10 / 3) == pytest.approx(1475, abs=0.5)


def test_life_falls_with_the_cube() -> None:
    # twice the torque: an eighth of the life; twice the speed: half (definition, strain wave makers)
    base = elements.reducer_life(7000 * 3600, 2000 * RPM, 67, 1000 * RPM, 50, 3)
    assert elements.reducer_life(7000 * 3600, 2000 * RPM, 67, 1000 * RPM, 100, 3) == pytest.approx(base / 8)
    assert elements.reducer_life(7000 * 3600, 2000 * RPM, 67, 2000 * RPM, 50, 3) == pytest.approx(base / 2)
    assert base / 3600 == pytest.approx(7000 * 2 * (67 / 50) ** 3)


def test_regenerated_energy_as_servo_makers_reckon_it() -> None:
    # E = J n²/182 J, n in rpm (several servo manuals); 182 for (60/2 pi)² · 2 = 182.378: 0.2 % high
    assert elements.kinetic_energy(0.01, 3000 * RPM) == pytest.approx(0.01 * 3000**2 / 182, rel=2.2e-3)
    # 0.5 C (V1² - V2²): 1000 uF, 325 to 390 V: 23.2375 J
    assert elements.capacitor_energy(1e-3, 325, 390) == pytest.approx(23.2375, abs=5e-5)


def test_braking_energy_of_a_turntable() -> None:
    # E = J w²/2 returns, less friction and copper: with neither, all of it comes back to the bus
    cell = turntable(1.0)
    energy = 0.5 * (12 + 2e-4 * 100**2) * (1.5 * (math.pi / 2) / 0.6) ** 2
    result = cell.power(thirds(math.pi / 2, 0.6, 0.6), supply())
    time = result["time"].values
    power = result["mechanical_power"].values[:, 0]
    assert -np.trapezoid(np.minimum(power, 0), time) == pytest.approx(energy, rel=1e-9)
    assert np.trapezoid(np.maximum(power, 0), time) == pytest.approx(energy, rel=1e-9)


@pytest.mark.parametrize(
    ("stop_time", "resolution", "printed"),
    [
        (0.32, 0.014, 0.512),  # light-curtain manual: 290 ms + 30 ms, 640 mm, hence with 1600 mm/s: 512 mm
        (0.165, 0.014, 0.330),  # another
        (0.25, 0.014, 0.500),  # exactly 500 mm stays
        (0.04, 0.014, 0.100),  # never below 100 mm
    ],
)
def test_separation_of_light_curtains(stop_time: float, resolution: float, printed: float) -> None:
    # ISO 13855 as light-curtain manuals quote it
    assert elements.separation_light_curtain(stop_time, resolution) == pytest.approx(printed, abs=5e-4)


def test_continuous_load_rule() -> None:
    # NEC 210.19, 210.20: 15 A at 120 V bears 12 A, 1440 W for three hours; 20 A bears 16 A, 1920 W
    for breaker, watts in ((15, 1440), (20, 1920)):
        current = elements.mains_current(watts, 120, 1, 1)
        assert elements.branch_share(current, breaker, True) == pytest.approx(1)


def test_duty_types() -> None:
    # IEC 60034-1, from memory: S1 even load; S3 load and rest; S5 with starts and electric braking; S6 load and no load
    def named(*spans: tuple[float, ...]) -> int:
        return int(elements.duty_type(np.array(spans, float), True)[0])

    run, rest = (6.0, 2.0, 2.0, 150.0, 150.0), (4.0, 0.0, 0.0, 0.0, 0.0)
    start, brake = (1.0, 6.0, 6.0, 0.0, 150.0), (1.0, -5.0, -5.0, 150.0, 0.0)
    assert named(run) == 1
    assert named(run, rest) == 3
    assert named(start, run, brake, rest) == 5
    assert named(run, (4.0, 0.1, 0.1, 150.0, 150.0)) == 6
    # 60 %: one of the standard's factors
    assert elements.duty_type(np.array([run, rest]), True)[1] == pytest.approx(0.6)
