from __future__ import annotations

import numpy as np
import pytest

import armwright as aw
from armwright.studies.payload_against_time import slowing_of, usual
from cases.described import at
from cases.driven_cells import driven_arm, swing, thirds, turntable
from cases.moving_cells import DOWN, moving_cell

LOAD = aw.Load(2.0, (0.05, 0, 0.02))


def test_payload_against_time_is_the_load_factor_at_one_and_nothing_carried_is_a_point_mass() -> None:
    cell, loaded = driven_arm(), swing(loads=LOAD)
    checked, curve = cell.drive_check(loaded), cell.payload_against_time(loaded, slowing=[0.7, 1, 2, np.inf])
    assert curve["mass"].sel(slowing=1).item() == pytest.approx(checked.attrs["greatest_load_mass"], rel=1e-9)
    assert curve["duration"].values == pytest.approx([2 * 0.7 + 0.4, 2.4, 4.4, np.inf])
    assert curve["mass"].sel(slowing=2).item() > curve["mass"].sel(slowing=0.7).item()
    assert np.all(curve["mass"] == np.fmin(curve["mass_peak"], curve["mass_continuous"]))
    empty = cell.payload_against_time(swing(), centre=LOAD.centre, slowing=[1])
    assert empty.attrs["load_mass"] == 1
    # a point: no inertia of its own
    assert empty["mass"].item() == pytest.approx(curve["mass"].sel(slowing=1).item(), rel=0.05)
    threads = [cell.payload_against_time(loaded, slowing=[0.7, 1, 2], threads=n)["mass"].values for n in (1, 2)]
    assert np.array_equal(*threads)


def test_a_cycle_timed_at_its_limits_is_not_too_fast_for_itself() -> None:
    # A tool move at a joint's speed limit keeps it between its rows too, so that it can carry what it carries.
    cell = moving_cell()
    cycle = aw.Cycle((
        aw.JointMove("rack", via_approach=True), aw.PickUp(), aw.LineMove("rack", at="approach"), aw.JointMove("kiln"),
        aw.SetDown(), aw.LineMove(at((0.55, 0.3, 0.3), DOWN)),
    ))  # fmt: skip
    curve = cell.payload_against_time(cycle, slowing=[0.99, 1])
    assert curve["mass_peak"].values[0] == 0
    assert curve["mass_peak"].values[1] > 2 * 0.98
    assert curve["duration"].values[1] == pytest.approx(cell.motion(cycle).attrs["duration"])


def test_standing_still_is_the_end_of_going_slower() -> None:
    curve = driven_arm().payload_against_time(swing(loads=LOAD), slowing=[1e5, np.inf])
    for name in ("mass", "mass_peak", "mass_continuous"):
        assert curve[name].values[0] == pytest.approx(curve[name].values[1], rel=1e-3)
    assert curve["limiting_part"].values[0] == curve["limiting_part"].values[1]


def test_means_are_told_where_peaks_are_less() -> None:
    # By means alone it carries the less the faster it goes, and that is told where peaks allow less still.
    curve = driven_arm(0.6).payload_against_time(swing(loads=LOAD, seconds=1.2), slowing=[0.8, 1, 1.2, 2])
    means, peaks = curve["mass_continuous"].values, curve["mass_peak"].values
    assert (peaks[:1] < means[:1]).all() and np.all(np.diff(means) >= 0)
    assert np.all(curve["mass"] == np.fmin(peaks, means))


def lifting_bar() -> aw.Cell:
    """A bar of 10 kg, centre at 0.5 m, turned about a level axis by a motor of 5 N m at 100 : 1 without losses."""
    motor = aw.Motor([(0.0, 5.0), (1000.0, 5.0)], rotor_inertia=0.0, winding_loss=1.0)
    drive = aw.Drive(motor, aw.Stage("gear", 100, 1.0, 1.0))
    joint = aw.Joint("axis 1", axis="-y", range=(-3, 3), drive=drive)
    return aw.Cell(aw.ArmDescription((joint,), (aw.Link("bar", 10.0, (0.5, 0, 0)),), "bar"))


def test_a_bar_that_lifts_a_load_by_hand() -> None:
    """It starts level, upwards: (5 + m) g + (2.5 + m) a / s² = 500 N m there, with m kg at 1 m and a rad/s²."""
    a = 1.5 * (np.pi / 2) / 0.6 / 0.2
    slowing = np.array([0.9, 1.0, 1.7, 3.0, np.inf])
    curve = lifting_bar().payload_against_time(thirds(np.pi / 2, 0.6, 0.3), centre=(1, 0, 0), slowing=slowing)
    g, u2 = 9.80665, a / slowing**2
    assert curve["mass_peak"].values == pytest.approx((500 - 5 * g - 2.5 * u2) / (g + u2), rel=1e-9)
    assert curve["duration"].values == pytest.approx(0.6 * slowing + 0.3)
    assert (curve["limiting_time"] == 0).all() and (curve["limiting_part"] == "motor").all()
    assert list(curve.attrs["load_centre"]) == [1, 0, 0] and curve.attrs["load_mass"] == 1


def test_what_the_usual_slowings_are() -> None:
    assert usual[0] == 0.5 and 1.0 in usual and 4.0 in usual and usual[-1] == np.inf
    assert slowing_of(usual).tolist() == list(usual)
    curve = lifting_bar().payload_against_time(thirds(np.pi / 2, 0.6, 0.3))
    assert curve["slowing"].values.tolist() == list(usual)


@pytest.mark.parametrize(
    "value",
    [[2, 1], [1, 1], [0, 1], [-1, 1], [], 1.0, [[1, 2]], "x", ["a"], None, [1, np.nan], [5e-4, 1], [1, np.inf, np.inf],
     np.arange(1, 10_002)],
)  # fmt: skip
def test_what_is_no_row_of_slowings(value: object) -> None:
    with pytest.raises(aw.InputError, match=r"^slowing: got .*, expected factors .* rising order"):
        slowing_of(value)
    if value is not None:  # the usual ones
        with pytest.raises(aw.InputError, match=r"^slowing: got"):
            turntable().payload_against_time(thirds(1, 1, 0.1), slowing=value)  # type: ignore[arg-type]
