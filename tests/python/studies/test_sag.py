from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace

import numpy as np
import pytest

import armwright as aw
from armwright.errors import InputError
from cases.elastic_arms import elastic_arm, soft_rod
from cases.in_pieces import assert_same_bits

OUT = [0.0, 0.0, 0.0, 0.0, 0.0, 0.0]


@pytest.fixture(scope="module")
def cell():
    return elastic_arm(targets=(aw.Target((0.7, 0, 0.2), "near"), aw.Target((0.9, 0.2, 0.0), "far", load=aw.Load(2.0)),
                                aw.Target((9.0, 0, 0), "nowhere")))  # fmt: skip


def test_parts_add_up(cell):
    rows = np.random.default_rng(4).uniform(-1, 1, (2, 3, 6))
    sag = cell.sag(rows, force=(20, -10, 5), moment=(1, 2, 3))
    assert sag.sag.shape == (2, 3, 3)
    assert sag.cause_share.values.sum(axis=-1) == pytest.approx(1.0)
    assert sag.cause_shift.values.sum(axis=2) == pytest.approx(sag.sag.values)
    assert (sag.sag_own + sag.sag_load + sag.sag_push).values == pytest.approx(sag.sag.values, abs=1e-15)
    assert np.linalg.norm(sag.sag.values, axis=-1) == pytest.approx(sag.sag_size.values)
    assert -sag.sag.values[..., 2] == pytest.approx(sag.sag_down.values)
    assert bool(sag.small.all())


def test_sag_is_linear_in_the_load(cell):
    five, ten = (cell.sag(OUT, load=aw.Load(mass, (0.05, 0, 0))).sag_load.values for mass in (5, 10))
    assert ten == pytest.approx(2 * five)
    assert cell.sag(OUT, load=aw.Load(0.001)).sag_own.values == pytest.approx(cell.sag(OUT).sag_own.values)


def test_the_push_is_the_compliance(cell):
    push = np.array([30.0, -20, 10, 4, 5, -6])
    sag = cell.sag(OUT, force=push[:3], moment=push[3:])
    assert cell.stiffness(OUT).compliance.values[:3] @ push == pytest.approx(sag.sag_push.values)


def test_work_points_each_with_its_load_and_those_without_a_posture(cell):
    sag = cell.sag()
    assert sag["at"].values.tolist() == ["near", "far", "nowhere"]
    assert sag.load_mass.values.tolist() == [5.0, 2.0, 5.0]
    assert np.isfinite(sag.sag.values[:2]).all()
    assert np.isnan(sag.sag.values[2]).all() and np.isnan(sag.cause_share.values[2]).all()
    alone = cell.sag(sag.q.values[1], load=aw.Load(2.0))
    assert alone.sag.values == pytest.approx(sag.sag.values[1])
    assert "no posture at nowhere: no answer there" in sag.armwright.summary()
    one = cell.sag(targets=cell.description.targets[0])
    assert one.sag.values[0] == pytest.approx(sag.sag.values[0])


def test_weightless_arms_do_not_sink():
    sag = soft_rod(gravity=(0, 0, 0)).sag([0.0])
    assert float(sag.sag_size) == 0
    assert np.isnan(sag.cause_share.values).all()


def test_beyond_small_deflections_is_flagged():
    sag = soft_rod(3.0, 0.02, 0.001, load=aw.Load(15.0)).sag([0.0])
    assert not bool(sag.small)
    assert "MORE than 0.1 rad" in sag.armwright.summary()


def test_an_arm_upside_down_sinks_the_other_way(cell):
    hung = elastic_arm(gravity=(0, 0, 9.80665))
    assert hung.sag(OUT).sag.values == pytest.approx(-cell.sag(OUT).sag.values)


def test_bad_input(cell):
    with pytest.raises(InputError, match="force"):
        cell.sag(OUT, force=(1, 2))
    with pytest.raises(InputError, match="moment"):
        cell.sag(OUT, moment=(1, 2, np.nan))
    with pytest.raises(InputError, match="targets"):
        cell.sag(OUT, targets=cell.description.targets)
    with pytest.raises(InputError, match="load"):
        cell.sag(OUT, load=5.0)
    with pytest.raises(InputError, match="spacing"):
        cell.sag_over_reach(0)
    planar = soft_rod(axis="y")
    for wrong in (0, -2):
        for asked in (cell, planar):  # of a planar arm positions alone are asked, but what is wrong is wrong
            with pytest.raises(InputError, match="directions"):
                asked.sag_over_reach("300 mm", directions=wrong)
    with pytest.raises(InputError, match="targets"):
        elastic_arm().sag()


def test_a_map_tries_as_many_directions_as_are_asked(cell):
    assert cell.sag_over_reach("500 mm", directions=6).attrs["directions"] == 6
    found = cell.sag_over_reach("500 mm")
    assert found.attrs["directions"] == 72
    assert found.attrs["spacing"] == pytest.approx(np.diff(found.distance.values)[0])


def test_over_the_reach_it_is_that_of_the_posture_told(cell):
    found = cell.sag_over_reach(0.2, directions=["down", "x"])
    reached = np.argwhere(np.isfinite(found.sag_greatest.values))
    assert len(reached) > 10
    for row, column in reached[:: len(reached) // 5]:
        q = found.q.values[row, column]
        sag = cell.sag(q)
        assert float(sag.sag_size) == pytest.approx(found.sag_greatest.values[row, column], rel=1e-9)
        assert float(sag.sag_down) == pytest.approx(found.sag_down.values[row, column], rel=1e-9, abs=1e-12)
        cause = int(sag.cause_share.values.argmax())
        assert cause == found.main_cause.values[row, column]
        assert float(sag.cause_share[cause]) == pytest.approx(found.main_share.values[row, column])
        place = cell.tool_pose(q)[:3, 3]
        assert np.hypot(*place[:2]) == pytest.approx(float(found.distance[column]), abs=1e-6)
        assert place[2] == pytest.approx(float(found.height[row]), abs=1e-6)
    assert (found.sag_least <= found.sag_greatest + 1e-15).values[np.isfinite(found.sag_least.values)].all()
    assert np.isnan(found.sag_least.values).sum() == np.isnan(found.sag_greatest.values).sum()


def test_the_least_over_postures_is_found_by_trying_them(cell):
    """In one attitude the best of all solutions counts."""
    found = cell.sag_over_reach(0.3, directions=["x"])
    row, column = np.argwhere(np.isfinite(found.sag_least.values))[3]
    pose = cell.tool_pose(found.q.values[row, column])
    solutions = cell.solve(pose)
    sizes = cell.sag(solutions.q[solutions.valid]).sag_size.values
    assert float(found.sag_least[row, column]) == pytest.approx(sizes.min(), rel=1e-9)
    assert len(sizes) > 1


def test_any_executor_gives_the_same_bits(cell, tmp_path):
    rows = np.random.default_rng(2).uniform(-1, 1, (7, 6))
    with ThreadPoolExecutor(2) as pool:
        assert_same_bits(cell.sag(rows), cell.sag(rows, executor=pool, store=tmp_path / "a"))
        here = cell.sag_over_reach(0.4, directions=["down"])
        assert_same_bits(here, cell.sag_over_reach(0.4, directions=["down"], executor=pool, store=tmp_path / "b"))
    assert_same_bits(here, cell.sag_over_reach(0.4, directions=["down"], threads=1))


def test_a_track_changes_nothing_but_the_place():
    still, riding = elastic_arm(), elastic_arm(track=aw.Track("x", (0, 2)))
    q = [0.2, 0.4, -0.5, 0.1, 0.3, 0.2]
    assert riding.sag([1.3, *q]).sag.values == pytest.approx(still.sag(q).sag.values)
    assert riding.stiffness([1.3, *q]).frequency.values == pytest.approx(still.stiffness(q).frequency.values)
    here = riding.sag_over_reach(0.4, directions=["down"])
    assert float(here.q[..., 0].max()) == pytest.approx(1.0)  # mid-stroke
    assert here.sag_greatest.values == pytest.approx(still.sag_over_reach(0.4, directions=["down"]).sag_greatest.values,
                                                     nan_ok=True)  # fmt: skip


def test_a_counterbalance_takes_off_what_it_carries():
    cell = elastic_arm()
    arm = cell.description.arm
    spring = aw.Counterbalance("coil", arm.base_link.name, (0, 0, 0.5), "upper arm", (0.3, 0, 0), rate=300.0,
                               free_length=0.1, longest=2.0)  # fmt: skip
    helped = aw.Cell.from_description(replace(cell.description, arm=replace(arm, counterbalances=(spring,))))
    before, after = (abs(float(c.gravity_torque(OUT)[1])) for c in (cell, helped))
    name = {"cause": "axis 2: strain wave"}
    shares = [abs(float(c.sag(OUT).sel(name).cause_shift[2])) for c in (cell, helped)]
    assert after < before
    assert shares[1] / shares[0] == pytest.approx(after / before)
