from concurrent.futures import ThreadPoolExecutor

import numpy as np
import pytest

import armwright as aw
from armwright.errors import InputError
from armwright.studies.stiffness import inverted
from cases.elastic_arms import elastic_arm, soft_rod
from cases.in_pieces import assert_same_bits

ROWS = np.random.default_rng(9).uniform(-1, 1, (5, 6))


@pytest.fixture(scope="module")
def cell():
    return elastic_arm()


def test_matrix_is_the_inverse_and_axes_are_its_diagonal(cell):
    found = cell.stiffness(ROWS)
    for row in range(len(ROWS)):
        both = found.stiffness_matrix.values[row] @ found.compliance.values[row]
        assert both == pytest.approx(np.eye(6), abs=1e-6)
        diagonal = 1 / np.diag(found.compliance.values[row])
        assert found.stiffness_along.values[row] == pytest.approx(diagonal[:3])
        assert found.stiffness_about.values[row] == pytest.approx(diagonal[3:])


def test_a_tool_that_is_rigid_some_way_has_no_matrix():
    motor = aw.Motor(2.4, 7.2, rated_speed="3000 rpm", max_speed="6000 rpm", rotor_inertia=1e-4)
    drive = aw.Drive(motor, (aw.Stage("gear", 50, stiffness=9000.0),))
    joint = aw.Joint("axis 1", axis="y", range=(-3, 3), drive=drive)
    flange = np.eye(4)
    flange[0, 3] = 0.5
    cell = aw.Cell(aw.ArmDescription((joint,), (aw.Link("arm", 4.0, (0.25, 0, 0)),), "one", flange=flange))
    found = cell.stiffness([0.0])
    assert np.isnan(found.stiffness_matrix.values).all()
    assert found.stiffness_along.values == pytest.approx([np.inf, np.inf, 9000 / 0.25])
    assert found.stiffness_about.values == pytest.approx([np.inf, 9000, np.inf])
    # A rigid arm on one spring: one mode, sqrt(k/I).
    assert found.frequency.values[0] == pytest.approx(np.sqrt(9000 / (4 * 0.0625)) / (2 * np.pi))
    assert np.isinf(found.frequency.values[1:]).all()
    assert found.mode_cause.values.tolist() == ["axis 1: gear", "", ""]
    assert found.mode_motion.values.tolist() == ["(0.00, 0.00, 1.00)", "", ""]
    assert "rotors held: mostly axis 1: gear" in found.armwright.summary()


def test_units_do_not_decide_whether_there_is_a_matrix():
    scale = np.diag([1e3, 1e3, 1e3, 1, 1, 1.0])
    whole = np.eye(6) + 0.1
    assert np.isfinite(inverted((scale @ whole @ scale)[None])).all()
    thin = np.ones((6, 6)) + 1e-14 * np.eye(6)
    assert np.isnan(inverted(thin[None])).all()


def test_a_load_lowers_the_frequency_and_not_the_stiffness(cell):
    light, heavy = (cell.stiffness(ROWS, load=aw.Load(mass, (0.05, 0, 0))) for mass in (1, 20))
    assert (heavy.frequency.values[:, 0] < light.frequency.values[:, 0]).all()
    assert heavy.compliance.values == pytest.approx(light.compliance.values)
    assert np.all(np.diff(heavy.frequency.values, axis=1) >= 0)
    assert heavy.mode_energy.values.sum(axis=-1) == pytest.approx(1.0)


def test_softer_stages_ring_lower_and_take_the_share():
    """Rayleigh: adding give cannot raise a frequency."""
    rod, geared = soft_rod(load=aw.Load(5.0)), elastic_arm(load=aw.Load(5.0))
    assert rod.stiffness([0.0]).mode_cause.values[0] == "rod: tube"
    found = geared.stiffness(ROWS)
    assert set(found.mode_cause.values[:, 0]) <= {f"axis {k}: strain wave" for k in range(1, 7)}


def test_any_executor_gives_the_same_bits(cell, tmp_path):
    with ThreadPoolExecutor(2) as pool:
        assert_same_bits(cell.stiffness(ROWS), cell.stiffness(ROWS, executor=pool, store=tmp_path / "store"))


def test_bad_input(cell):
    with pytest.raises(InputError, match="modes"):
        cell.stiffness(ROWS, modes=0)
    with pytest.raises(InputError, match="shape"):
        cell.stiffness([0.0])
    with pytest.raises(InputError, match="progress"):
        cell.stiffness(ROWS, progress=3)


def test_a_study_can_be_stopped(cell):
    with pytest.raises(aw.Cancelled):
        cell.stiffness(np.repeat(ROWS, 400, axis=0), modes=3, progress=lambda done, total: False)
