from __future__ import annotations

import copy
import math
import multiprocessing
import pickle
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

import armwright as aw
from armwright.errors import InputError
from cases.described import at, facing, positioner, track_cell
from cases.true_cells import serviced_cell, weighed_arm

CELL = track_cell()
Q = np.array([0.5, 0.3, 0.4, -0.6, 0.3, 0.5, 0.2])


def test_a_cell_of_an_arm_alone_is_the_arm() -> None:
    arm = aw.Arm(positioner())
    cell = aw.Cell(arm)
    q = np.full(6, 0.3)
    assert np.array_equal(cell.tool_pose(q), arm.tool_pose(q))
    assert cell.arm == arm
    assert (cell.track, cell.tool, cell.load, cell.fixtures, cell.targets) == (None, None, None, (), ())
    assert math.isinf(float(cell.clearance(q)["distance"]))
    assert str(cell.clearance(q)["name_a"].item()) == ""
    assert bool(cell.is_clear(q, "1 m"))
    assert repr(cell) == "Cell 'cell': arm 'positioner', 6 joints, 0 fixtures, 0 work points"


def test_of_a_description_and_of_nothing_else() -> None:
    assert aw.Cell.from_description(CELL.description) == CELL
    with pytest.raises(aw.InputError, match="description: got Cell, expected a CellDescription"):
        aw.Cell.from_description(CELL)  # type: ignore[arg-type]


def test_base_eyes_and_service_are_told_like_all_else() -> None:
    described = weighed_arm()
    eye, volume = described.lifting[0], serviced_cell().description.service[0]
    base = aw.Base(plate="300 mm", friction=0.2)
    cell = aw.Cell(described.arm, base=base, lifting=described.lifting)
    assert cell.description.base == base and cell.description.lifting == described.lifting
    assert aw.Cell(described.arm, lifting=eye).description.lifting == (eye,)
    assert aw.Cell(serviced_cell().arm, service=[volume]).description.service == (volume,)
    with pytest.raises(InputError, match="base"):
        aw.Cell(described.arm, base="floor")  # type: ignore[arg-type]


def test_units_are_taken_everywhere() -> None:
    import pint

    u = pint.get_application_registry()
    metric = track_cell()
    imperial = track_cell(
        load=aw.Load(u.Quantity(4000, "g"), (0, 0, u.Quantity(5, "cm"))),
        tool=aw.Tool("0, 0, 12 cm", "1500 g", (0, 0, 0.05)),
        track=aw.Track("x", u.Quantity(1000, "mm"), ("0 m", "0 m", "18 cm")),
        fixtures=[
            aw.Box((0.2, 0.2, 2.0), u.Quantity([900, 800, 1000], "mm"), "post"),
            aw.HalfSpace(name="floor", clearance=u.Quantity(0.5, "cm")),
        ],
    )
    assert imperial == metric and hash(imperial) == hash(metric) and imperial.digest() == metric.digest()
    assert np.array_equal(imperial.is_clear(Q, "20 mm"), metric.is_clear(Q, u.Quantity(2, "cm")))


def test_copies_pickles_and_comparisons() -> None:
    assert copy.copy(CELL) is CELL and copy.deepcopy(CELL) is CELL
    again = pickle.loads(pickle.dumps(CELL))
    assert again == CELL and again is not CELL and hash(again) == hash(CELL)
    assert again.clearance(Q).identical(CELL.clearance(Q))
    others = [track_cell(load=None), track_cell(tool=None), track_cell(fixtures=()), track_cell(name="other"),
              track_cell(gravity=(0, 0, -9.8)), track_cell(track=aw.Track("x", 1.1, (0, 0, 0.18)))]  # fmt: skip
    assert len({cell.digest() for cell in (CELL, *others)}) == len({CELL, *others}) == 7
    assert CELL not in (CELL.arm, 5)
    with multiprocessing.get_context("spawn").Pool(1) as pool:
        assert np.array_equal(pool.apply(CELL.tool_pose, (Q,)), CELL.tool_pose(Q))


def test_unnamed_fixtures_are_numbered() -> None:
    cell = aw.Cell(positioner(), fixtures=[aw.Box((1, 1, 1), (3, 0, 0)), aw.Box((1, 1, 1), (0, 3, 0)),
                                           aw.Sphere(1, (0, 0, 4)), aw.Box((1, 1, 1), (-3, 0, 0), "kiln")])  # fmt: skip
    assert [shape.name for shape in cell.fixtures] == ["box 1", "box 2", "sphere", "kiln"]
    near = cell.clearance(np.array([math.pi / 2, 0, 0, 0, 0, 0]))
    assert {str(near["name_a"].item()), str(near["name_b"].item())} == {"hand", "box 2"}
    with pytest.raises(aw.InputError, match="kiln"):
        aw.Cell(positioner(), fixtures=[aw.Sphere(1, (0, 0, 4), "kiln"), aw.Box((1, 1, 1), (9, 0, 0), "kiln")])


def test_clearance_by_hand() -> None:
    """A ball of 50 mm about the tool point against a ball of 100 mm."""
    cell = aw.Cell(positioner(), fixtures=aw.Sphere("100 mm", ("1.1 m", 0, "0.4 m"), "ball", clearance="30 mm"))
    q = np.zeros((2, 1, 6))
    found = cell.clearance(q)
    assert found["distance"].shape == (2, 1) and found["point_a"].shape == (2, 1, 3)
    assert found["distance"].values == pytest.approx(0.25)
    ends = {tuple(np.round(found[f"point_{end}"].values[0, 0], 9)) for end in "ab"}
    assert ends == {(1.1, 0.0, 0.05), (1.1, 0.0, 0.3)}
    assert found.attrs["study"] == "clearance" and found.attrs["inputs_digest"] == cell.digest()
    assert found["distance"].attrs["units"] == "m"
    assert cell.is_clear(q, "249 mm").all() and not cell.is_clear(q, "251 mm").any()
    # The shoulder up: 0.4 m high at (1.1, 0, 0.4) the balls would be one in the other.
    lift = math.atan2(0.4, 1.1) * 0.5
    up = np.array([0, lift, 0, 0, 0, 0])
    tip = cell.tool_pose(up)[:3, 3]
    assert float(cell.clearance(up)["distance"]) == pytest.approx(np.linalg.norm(tip - (1.1, 0, 0.4)) - 0.15)
    with pytest.raises(aw.InputError, match=r"^margin: got -0.001 m"):
        cell.is_clear(up, "-1 mm")


def test_a_fixtures_own_clearance_is_kept() -> None:
    cell = aw.Cell(positioner(), fixtures=aw.Sphere("100 mm", (1.1, 0, 0.27), "ball", clearance="130 mm"))
    assert not cell.is_clear(np.zeros(6)) and not cell.is_clear(np.zeros(6), 0.1)
    cell = aw.Cell(positioner(), fixtures=aw.Sphere("100 mm", (1.1, 0, 0.27), "ball", clearance="110 mm"))
    assert cell.is_clear(np.zeros(6))


@pytest.mark.parametrize(
    "fixture",
    [
        aw.Box((0.2, 0.3, 0.4), (1.3, 0.1, 0.2), "box"),
        aw.Sphere(0.1, (1.1, 0, 0.4), "ball"),
        aw.Cylinder(0.1, 0.4, (1.0, 0.3, 0.4), "post"),
        aw.HalfSpace((0, 0, -0.9), "floor"),
        aw.ConvexHull([(1.3, 0, 0), (1.5, 0.1, 0), (1.4, 0.3, 0.1), (1.4, 0.1, 0.5)], name="stone"),
    ],
    ids=lambda fixture: fixture.name,
)
def test_a_clearance_that_is_just_kept_is_kept(fixture: aw.Shape) -> None:
    """What rounding leaves wanting is none: 1e-9 m."""
    cell = aw.Cell(positioner(), fixtures=fixture)
    q = np.zeros((20, 6))
    q[:, 0], q[:, 1] = np.linspace(-0.3, 0.3, 20), np.linspace(0, 0.4, 20)
    apart = [(row, gap) for row, gap in zip(q, cell.clearance(q)["distance"].values, strict=True) if gap > 1e-3]
    assert len(apart) > 5
    for row, gap in apart:
        assert cell.is_clear(row, gap + 5e-10)
        assert not cell.is_clear(row, gap + 1e-8)


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ({"arm": "arm.toml"}, "^Cell.arm: got str, expected an Arm"),
        ({"track": 2.0}, "track"),
        ({"fixtures": ["post"]}, "fixtures"),
        ({"tool": "fork"}, "tool"),
        ({"load": 6}, "load"),
        ({"targets": [1]}, "targets"),
        ({"mount": (1, 2)}, "mount"),
        ({"gravity": (0, 0, np.nan)}, "gravity"),
        ({"ignored_pairs": ["ab"]}, "ignored_pairs"),
        ({"name": ""}, "name"),
    ],
)
def test_what_makes_no_cell(values: dict[str, Any], words: str) -> None:
    with pytest.raises(aw.InputError, match=words):
        aw.Cell(**({"arm": positioner()} | values))


def test_mounted_on_a_ceiling_with_fixtures() -> None:
    """Turned upside down with all that stands about: the same clearances; with gravity turned too, the same loads."""
    X = at((0.3, -0.2, 2.0), np.diag([1.0, -1, -1]))
    box = aw.Box((0.3, 0.2, 0.5), at((0.7, 0.5, 0.3), facing((1, 1, 0), (0, 0, 1))), "box")
    upright = aw.Cell(positioner(), fixtures=box)
    hung = aw.Cell(positioner(), fixtures=replace(box, pose=X @ box.pose), mount=X, gravity=(0, 0, 9.80665))
    q = np.random.default_rng(2).uniform(-1, 1, (30, 6))
    np.testing.assert_allclose(hung.clearance(q)["distance"], upright.clearance(q)["distance"], atol=1e-9)
    np.testing.assert_allclose(hung.gravity_torque(q), upright.gravity_torque(q), atol=1e-11)


def test_on_a_track_the_mount_stands_on_the_carriage() -> None:
    cell = aw.Cell(positioner(), aw.Track("y", 2.0, (0, 0, "100 mm")), mount=("50 mm", 0, "200 mm"))
    assert cell.joint_names[0] == "track"
    assert cell.tool_pose(np.array([1.5, 0, 0, 0, 0, 0, 0]))[:3, 3] == pytest.approx((1.15, 1.5, 0.3))
    labels = cell.reach_map(1.0, directions=1, spins=1).attrs
    assert labels["base_position"] == pytest.approx([0.05, 0, 0.3])
    assert labels["track_span"] == pytest.approx([0.05, 0, 0.3, 0.05, 2.0, 0.3])
