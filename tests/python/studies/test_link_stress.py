from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace

import numpy as np
import pytest

import armwright as aw
from armwright.errors import InputError
from armwright.studies.load_rows import LoadRows
from cases.elastic_arms import elastic_arm, soft_rod
from cases.in_pieces import assert_same_bits

g = 9.80665


def rows(q, *, loads=(), load=None, kinds=None, qd=None, qdd=None):
    q = np.asarray(q, float)
    count = len(q)
    kinds = ["rest"] * count if kinds is None else kinds
    speed, change = (np.zeros_like(q) if given is None else np.asarray(given, float) for given in (qd, qdd))
    return LoadRows(
        q, speed, change,
        np.full(count, -1, np.int32) if load is None else np.asarray(load, np.int32), loads,
        np.array([np.nan if kind == "rest" else 0.1 * k for k, kind in enumerate(kinds)]), np.zeros(count),
        np.arange(count, dtype=np.int32), tuple(f"case {k}" for k in range(count)), tuple(kinds), ("no cycle given",),
    )  # fmt: skip


@pytest.fixture(scope="module")
def cell():
    return elastic_arm()


def test_the_worst_row_is_told_with_its_case(cell):
    out, up = np.zeros(6), np.array([0, np.pi / 2, 0, 0, 0, 0])
    given = rows([up, out, out], loads=(aw.Load(5.0), aw.Load(9.0)), load=[0, 1, 0], kinds=["rest", "cycle", "stop"])
    found = cell.link_stress(rows=given)
    assert found["case"].values.ravel().tolist() == ["case 1"] * 6
    assert (found.case_kind.values == "cycle").all()
    assert found.time.values == pytest.approx(np.full((2, 3), 0.1))
    assert (found.load_mass.values == 9.0).all()
    assert found.q.values[0, 0] == pytest.approx(out)
    by_kind = found.von_mises_of_kind.values
    assert (by_kind[..., 1] > by_kind[..., 2]).all() and (by_kind[..., 2] > by_kind[..., 0]).all()
    assert by_kind[..., 1] == pytest.approx(found.von_mises.values)
    assert found.armwright.summary().count("not counted: no cycle given") == 1


def test_a_boom_drawn_up_amid_bends_most_where_the_spring_takes_hold():
    """A level cantilever that a spring draws up with P at a = 0.6 of its length: M = w (L - a)²/2 + F (L - a) there,
    w L²/2 + F L - P a at the root."""
    cell = soft_rod(axis="y", load=aw.Load(12.0))
    arm, length, at, pull = cell.description.arm, 1.0, 0.6, 230.0
    coil = aw.Counterbalance("coil", "base", (at, 0, 0.5), "rod", (at, 0, 0), rate=1e-6, free_length=0.5, preload=pull)
    sprung = aw.Cell.from_description(replace(cell.description, arm=replace(arm, counterbalances=(coil,))))
    given = rows(np.zeros((1, 1)), loads=(aw.Load(12.0),), load=[0])
    found, plain = sprung.link_stress(rows=given).isel(tube=0), cell.link_stress(rows=given).isel(tube=0)
    w, W = arm.links[0].mass * g / length, np.pi / 32 * (0.05**4 - 0.044**4) / 0.05
    moment = {"between": w * (length - at) ** 2 / 2 + 12 * g * (length - at)}
    moment["near"] = w * length**2 / 2 + 12 * g * length - pull * at
    for end, wanted in moment.items():
        assert float(found.normal_stress.sel(end=end)) == pytest.approx(abs(wanted) / W, rel=3e-3)
    assert float(found.station.sel(end="between")) == pytest.approx(at)
    assert found.station.sel(end=["near", "far"]).values.tolist() == [0, 1]
    assert float(found.safety.sel(end="between")) < 0.5 * float(found.safety.sel(end="near"))
    assert float(plain.station.sel(end="between")) == 0.25  # without it, nearest the root


def test_moment_at_the_root_is_that_of_the_joint_wrench(cell):
    """The tube begins at the joint, so that its near section bears all of the joint's wrench."""
    rng = np.random.default_rng(3)
    for _ in range(4):
        q, qd, qdd = rng.uniform(-1, 1, (3, 1, 6))
        found = cell.link_stress(rows=rows(q, qd=qd, qdd=qdd, loads=(cell.description.load,), load=[0]))
        for joint, tube in ((1, 0), (2, 1)):
            wrench = cell.joint_wrench(q[0], qd[0], qdd[0])[joint]
            bent = np.hypot(wrench[4], wrench[5])
            if tube == 1:  # round: 90 x 4 mm
                second = np.pi / 64 * (0.09**4 - 0.082**4)
                normal = abs(wrench[0]) / (np.pi / 4 * (0.09**2 - 0.082**2)) + bent * 0.045 / second
            else:  # 80 wide along y, 120 high along z, 5 wall
                area = 0.08 * 0.12 - 0.07 * 0.11
                about_y = (0.08 * 0.12**3 - 0.07 * 0.11**3) / 12
                about_z = (0.12 * 0.08**3 - 0.11 * 0.07**3) / 12
                normal = abs(wrench[0]) / area + abs(wrench[4]) * 0.06 / about_y + abs(wrench[5]) * 0.04 / about_z
            assert float(found.normal_stress[tube, 0]) == pytest.approx(normal, rel=1e-9)


def test_welds_and_wanted_safeties(cell):
    found = cell.link_stress(rows=rows(np.zeros((1, 6))))
    upper, fore = (found.sel(tube=name) for name in ("upper arm: box", "forearm: tube"))
    # Aluminium taken as 6060-T66: 150 MPa, of which a weld leaves 0.43 (EN 1999-1-1, memory).
    assert upper.allowed_stress.values == pytest.approx([0.43 * 150e6] * 3)
    assert fore.allowed_stress.values == pytest.approx([150e6] * 3)
    assert (float(upper.wanted_safety), float(fore.wanted_safety)) == (1.5, 2.0)
    assert (found.safety * found.von_mises).values == pytest.approx(found.allowed_stress.values)


def test_too_little_safety_is_said():
    weak = soft_rod(2.0, 0.03, 0.002, load=aw.Load(20.0))
    found = weak.link_stress(rows=rows([[0.0]], loads=(aw.Load(20.0),), load=[0]))
    assert float(found.safety.min()) < 1
    assert ", wanted 1.5: TOO LITTLE" in found.armwright.summary()


def with_tube(**more):
    cell = soft_rod()
    arm = cell.description.arm
    told = {"section": "round", "outer": 0.05, "wall": 0.003, "material": "steel"} | more
    link = replace(arm.links[0], structure=aw.Tube(**told))
    return aw.Cell(replace(arm, links=(link,)))


def test_what_is_not_known_is_named_and_has_no_safety():
    bronze = with_tube(material=aw.Material("bronze", elastic_modulus=110e9, shear_modulus=41e9))
    found = bronze.link_stress(rows=rows([[0.0]]))
    assert np.isnan(found.safety.values).all() and (found.von_mises.values[:, 0] > 0).all()
    assert "no yield strength of its material" in found.attrs["not_counted"]
    welded = with_tube(material=aw.Material("bronze", elastic_modulus=110e9, yield_strength=200e6), welded=True)
    found = welded.link_stress(rows=rows([[0.0]]))
    assert np.isnan(found.safety.values).all()
    assert "no share of the yield strength that is left told" in found.attrs["not_counted"]
    assert "safety" not in found.armwright.summary().split("not counted")[0]


def test_a_wall_that_may_buckle_is_flagged():
    thin = with_tube(outer=0.2, wall=0.001).link_stress(rows=rows([[0.0]]))
    assert float(thin.wall_slenderness[0]) == pytest.approx(200 / 90)
    assert "may buckle before it yields (EN 1993-1-1 table 5.2" in thin.attrs["not_counted"]
    assert "may buckle" not in with_tube().link_stress(rows=rows([[0.0]])).attrs["not_counted"]


def test_no_stress_is_infinitely_safe():
    found = aw.Cell(soft_rod().description.arm, gravity=(0, 0, 0)).link_stress(rows=rows([[0.0]]))
    assert np.isinf(found.safety.values).all()


def test_refusals(cell):
    with pytest.raises(InputError, match="rows"):
        cell.link_stress(rows=rows(np.zeros((0, 6))))
    with pytest.raises(InputError, match="cycle"):
        cell.link_stress(rows=rows(np.zeros((1, 6))), cycle="any")
    given = rows(np.zeros((1, 6)))
    with pytest.raises(InputError, match=r"cycle: got LoadRows, .*did you mean rows="):
        cell.joint_wrenches(given)
    with pytest.raises(InputError, match=r"rows: got Cycle, .*did you mean cycle="):
        cell.link_stress(rows=aw.Cycle((aw.Dwell(1.0),), start=np.zeros(6)))
    with pytest.raises(InputError, match=r"rows.loads\[0\]"):
        cell.link_stress(rows=rows(np.zeros((1, 6)), loads=("crate",), load=[0]))
    arm = cell.description.arm
    bare = aw.Cell(replace(arm, links=tuple(replace(link, structure=None) for link in arm.links)))
    with pytest.raises(InputError, match="no link whose tube is described"):
        bare.link_stress(rows=rows(np.zeros((1, 6))))


def test_any_executor_gives_the_same_bits(cell, tmp_path):
    given = rows(np.random.default_rng(2).uniform(-1, 1, (9, 6)), loads=(aw.Load(4.0),), load=[0, -1] * 4 + [0])
    with ThreadPoolExecutor(2) as pool:
        spread = cell.link_stress(rows=given, executor=pool, store=tmp_path / "store")
        assert_same_bits(cell.link_stress(rows=given), spread)


def test_rows_are_made_where_none_are_given(cell):
    asked = cell.load_rows(stops=False)
    assert_same_bits(cell.link_stress(rows=asked), cell.link_stress(rows=asked))
    found = elastic_arm().link_stress()
    assert set(found.case_kind.values.ravel()) <= {"rest", "stop"}
    assert np.isnan(found.von_mises_of_kind.sel(kind="cycle").values).all()
    assert (found.von_mises_of_kind.sel(kind="stop") > 0).all()
    assert "no cycle is given" in found.attrs["not_counted"]
