from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from armwright.describe import Box, CellDescription, Link, Load, Sphere, Target, Tool, Track
from armwright.errors import InputError
from cases.description_files import small_arm


def test_words() -> None:
    arm = small_arm()
    assert repr(Track((2, 0, 0), ("-200 mm", 2.2))) == "Track: -200 to 2200 mm along (1, 0, 0), at (0, 0, 0) mm"
    assert repr(Track("y", "2.4 m", carriage=Link("sledge", 40))).startswith("Track: 0 to 2400 mm along (0, 1, 0)")
    assert repr(Tool((0, 0, "120 mm"), "3.3 lb")) == "Tool 'tool': 1.49685 kg, tool point at (0, 0, 120) mm"
    assert repr(Load(6, (0, 0, "80 mm"))) == "Load 'load': 6 kg, centre of gravity at (0, 0, 80) mm"
    assert repr(Target.pointing((1, 0, 0.5), "down", "a", tilt="10 deg")) == (
        "Target 'a': at (1000, 0, 500) mm, free spin, tilt up to 10 deg"
    )
    cell = CellDescription(arm, Track("x", 2), Box((1, 1, 1)), Tool(), Load(1), Target(np.eye(4)))
    assert repr(cell) == "CellDescription 'cell': 'small', track 0 to 2000 mm, 1 fixtures, 1 targets"
    assert tuple(cell.gravity) == (0, 0, -9.80665)


def test_directions_of_targets() -> None:
    target = Target.pointing((0, 0, 1), "down", spin="90 deg")
    assert not target.free_spin
    assert target.pose[:3, 2] == pytest.approx((0, 0, -1))
    assert target.pose[:3, 0] == pytest.approx((0, -1, 0), abs=1e-15)


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (lambda: Track("x", 0), "Track.stroke: got 0 to 0 mm"),
        (lambda: Track("x", (2, 1)), "Track.stroke: got 2000 to 1000 mm"),
        (lambda: Track("x", (1, 2, 3)), "Track.stroke: "),
        (lambda: Track("x", "2.4"), "Track.stroke: .*did you mean \"2.4 mm\""),
        (lambda: Track("x", None), "Track.stroke: "),
        (lambda: Track((0, 0, 0), 1), "Track.axis: "),
        (lambda: Track("x", 1, carriage=5), "Track.carriage: got 5, expected a Link"),
        (lambda: Track("x", 1, force_continuous=5, force_peak=2), "Track.force_peak: got 2 N, expected at least"),
        (lambda: Load(0), "Load.mass: got 0, expected .*more than 0 kg"),
        (lambda: Load("-1 kg"), "Load.mass: "),
        (lambda: Load(1, (0, 0, 0), (1, 1, 5)), "Load.inertia: got principal moments"),
        (lambda: Load(1, inertia=np.zeros((2, 2))), "Load.inertia: "),
        (lambda: Tool(mass=-1), "Tool.mass: "),
        (lambda: Target(None), "Target.pose: got none"),
        (lambda: Target(np.eye(4), tilt=-1), "Target.tilt: "),
        (lambda: Target(np.eye(4), tilt="200 deg"), "Target.tilt: "),
        (lambda: Target(np.eye(4), free_spin="yes"), "Target.free_spin: "),
        (lambda: Target(np.eye(4), load=6), "Target.load: got 6, expected a Load"),
        (lambda: Target.pointing((0, 0), "down"), "Target.position: "),
        (lambda: Target.pointing((0, 0, 0), "down", spin="far"), "Target.spin: "),
        (lambda: CellDescription("arm.toml"), "CellDescription.arm: got \"arm.toml\", expected a ArmDescription"),
        (lambda: CellDescription(small_arm(), track=5), "CellDescription.track: "),
        (lambda: CellDescription(small_arm(), fixtures=[5]), r"CellDescription.fixtures\[0\]: got 5"),
        (lambda: CellDescription(small_arm(), gravity=(0, 0, np.nan)), "CellDescription.gravity: "),
        (lambda: CellDescription(small_arm(), ignored_pairs=["ab"]), r"ignored_pairs\[0\]"),
        (lambda: CellDescription(small_arm(), fixtures=[Sphere(1, name="s"), Sphere(2, name="s")]), '2 named "s"'),
        (lambda: CellDescription(small_arm(), mount=np.diag([1, 1, -1, 1])), "CellDescription.mount: got a reflection"),
    ],
)  # fmt: skip
def test_refusals(make: Any, said: str) -> None:
    with pytest.raises(InputError, match=said):
        make()
