# ruff: noqa: E501  tables stand whole
"""Whatever is told of drives and cycles ends in a description or in InputError, and nothing else."""

from __future__ import annotations

import contextlib
import math
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

import armwright as aw
from armwright.describe import drive_units as units
from armwright.describe import load_arm, load_cycle, load_parts
from armwright.describe.units import Kind
from cases.cycle_files import CYCLE
from cases.drive_files import DRIVEN, PARTS, write_driven

KINDS = [(kind, unit) for kind in vars(units).values() if isinstance(kind, Kind) for unit in kind.units]
FOLDER = settings(suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow], deadline=None)


@given(st.sampled_from(KINDS), st.floats(1e-3, 1e3))
@settings(deadline=None)
def test_units_round_trip(unit: tuple[Kind, str], number: float) -> None:
    kind, name = unit
    number = min(number, 0.999 * (kind.most or math.inf) / kind.factor(name))
    value = kind.from_text(f"{number!r} {name}")
    assert value / kind.factor(name) == pytest.approx(number, rel=1e-12)
    assert kind.from_text(f"{number!r}{name}") == value


WHOLE: list[tuple[Any, dict[str, Any]]] = [
    (aw.Motor, {"continuous": 2.0, "peak": [(0, 5), (300, 3)], "max_speed": 300.0, "resistance": 1.0, "torque_constant": 1.0,
                "rated_speed": 200.0, "rotor_inertia": 1e-4, "encoder_counts": 4096}),
    (aw.Stage, {"kind": "gear", "ratio": 3.0, "efficiency": 0.9, "rated_torque": 5.0, "inertia": 0.0, "radius": None,
                "lead": None, "stiffness": 5.0, "backlash": 0.0}),
    (aw.Brake, {"torque": 2.0, "side": "motor", "delay": 0.1, "energy": 5.0, "name": "b"}),
    (aw.Friction, {"coulomb": (1, 2), "viscous": 0.1, "sliding": False}),
    (aw.Drive, {"motor": aw.Motor(2, max_speed=300), "stages": (), "brake": None, "friction": None}),
    (aw.Counterbalance, {"kind": "coil", "link_a": "a", "link_b": "b", "rate": 5.0, "free_length": 0.2, "point_a": (0, 0, 0)}),
    (aw.Supply, {"voltage": 230.0, "phases": 1, "braking_voltage": 380.0, "resistance": 47.0, "power_factor": 0.6}),
    (aw.JointMove, {"to": "a", "through": ("b", (0, 1)), "blend": 0.1, "speed": 0.5, "stops": True, "timing": None}),
    (aw.ArcMove, {"to": np.eye(4), "via": (0, 0, 1), "track_to": 0.5, "duration": 1.0}),
    (aw.CycleLimits, {"speed": 0.5, "joint_speed": {"a": 1}, "tool_speed": math.inf}),
    (aw.Cycle, {"moves": (aw.JointMove("a"),), "start": "b", "period": 5.0, "loads": (), "limits": None, "repeats": True}),
]  # fmt: skip
JUNK = st.recursive(
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats()
    | st.text(max_size=10)
    | st.sampled_from([b"x", 1j, np.eye(4)]),
    lambda inner: (
        st.lists(inner, max_size=3) | st.tuples(inner, inner) | st.dictionaries(st.text(max_size=6), inner, max_size=3)
    ),
    max_leaves=6,
)


@given(st.data())
@settings(deadline=None, max_examples=400)
def test_any_python_value_is_taken_or_refused(data: st.DataObject) -> None:
    make, whole = data.draw(st.sampled_from(WHOLE))
    made = make(**whole)
    assert made == make(**whole)
    key = data.draw(st.sampled_from(sorted(whole)))
    with contextlib.suppress(aw.InputError):
        other = make(**(whole | {key: data.draw(JUNK)}))
        assert other.digest() and repr(other) and isinstance(getattr(other, "assumptions", ()), tuple)


def damaged(data: st.DataObject, text: str) -> str:
    start = data.draw(st.integers(0, len(text) - 1))
    end = data.draw(st.integers(start, min(len(text), start + 40)))
    alphabet = st.sampled_from("[]{}=\"'#.,0159 mkgdNs\n-\x00é")
    return text[:start] + data.draw(st.text(alphabet=alphabet, max_size=12)) + text[end:]


@given(st.data())
@FOLDER
def test_damaged_files(tmp_path: Path, data: st.DataObject) -> None:
    which = data.draw(st.sampled_from(["arm", "parts", "cycle"]))
    try:
        if which == "cycle":
            (tmp_path / "cycle.toml").write_text(damaged(data, CYCLE), encoding="utf-8")
            load_cycle(tmp_path / "cycle.toml")
        elif which == "arm":
            load_arm(write_driven(tmp_path, damaged(data, DRIVEN)))
        else:
            path = write_driven(tmp_path, parts=damaged(data, PARTS))
            with contextlib.suppress(aw.InputError):
                load_parts(tmp_path / "parts.toml")
            load_arm(path)
    except aw.InputError as error:
        assert error.problems and all(problem.expected for problem in error.problems)


@given(st.floats(0.1, 10), st.floats(1, 5), st.floats(10, 500), st.floats(1, 4), st.floats(0, 1))
def test_the_short_curve_keeps_the_power_at_its_end(
    torque: float, peak: float, rated: float, more: float, share: float
) -> None:
    """As docs/files.md says: flat to the rated speed, then straight to the same power at the greatest."""
    motor = aw.Motor(torque, torque * peak, rated_speed=rated, max_speed=rated * more)
    for curve, at_rest in ((motor.continuous_curve, torque), (motor.peak_curve, torque * peak)):
        assert curve[0] == (0, at_rest) and curve[-1][0] == pytest.approx(rated * more)
        assert curve[-1][0] * curve[-1][1] == pytest.approx(
            at_rest * rated if more > 1 + 1e-8 else at_rest * rated * more
        )
        speed = share * rated
        assert np.interp(speed, *zip(*curve, strict=True)) == pytest.approx(at_rest)
