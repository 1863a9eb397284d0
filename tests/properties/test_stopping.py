"""Stops of a braked arm from any posture and speed: what must hold for all of them."""

from __future__ import annotations

from typing import Any

import numpy as np
from hypothesis import example, given, settings
from hypothesis import strategies as st

import armwright as aw
from cases.chain import Array
from cases.stopping import braked_arm, braked_cell

QUICK = settings(deadline=None, max_examples=25)
CELL = braked_cell()
LOWER, UPPER = CELL.limits[:2]


@st.composite
def starts(draw: st.DrawFn) -> tuple[Array, Array]:
    share = np.array([draw(st.floats(0, 1)) for _ in range(6)])
    return LOWER + share * (UPPER - LOWER), np.array([draw(st.floats(-2, 2)) for _ in range(6)])



# An axis that meets the end of its range changes the tool's speed from one instant to the next.
@example((np.clip([-2.967, 0.5236, -2.618, -3.0543, -2.0069, -5.934], LOWER, UPPER), np.array([0.0, -1, 0, 0, 0, 0])))
@given(starts())
@QUICK
def test_brakes_that_hold_bring_it_to_rest_within_the_ranges(start: tuple[Array, Array]) -> None:
    q, qd = start
    found = CELL.stop(q, qd)
    assert found.end.item() == "rest"
    at = found.stopped_at.values
    assert (at >= LOWER - 1e-9).all() and (at <= UPPER + 1e-9).all()
    assert (found.travel.values >= np.abs(at - q) - 1e-9).all()
    assert (found.top_speed.values >= np.abs(qd) - 1e-12).all()
    assert found.tool_path.item() >= found.tool_travel.item() - 1e-6
    again = CELL.stop(at, np.zeros(6), reaction=0.0)  # what stands braked slips again only until its brakes bite
    assert again.end.item() == "rest"


@given(starts(), st.floats(0.0, 0.2))
@QUICK
def test_a_later_signal_goes_on_evenly_first(start: tuple[Array, Array], reaction: float) -> None:
    """A stop with a reaction time is the stop from where the arm has come to by then."""
    q, qd = start
    q = 0.4 * q  # so that no range ends meanwhile
    late = CELL.stop(q, qd, reaction=reaction)
    there = CELL.stop(q + reaction * qd, qd)
    np.testing.assert_allclose(late.stopped_at.values, there.stopped_at.values, atol=2e-6)
    assert abs(late.stop_time.item() - reaction - there.stop_time.item()) < 1e-5


@given(starts())
@QUICK
def test_turning_the_cell_about_the_upright_changes_nothing(start: tuple[Array, Array]) -> None:
    q, qd = start
    c, s = np.cos(0.7), np.sin(0.7)
    turned: Any = np.array([[c, -s, 0, 0.3], [s, c, 0, -1], [0, 0, 1, 0.2], [0, 0, 0, 1]])
    other = braked_cell(braked_arm(), mount=turned)
    a, b = CELL.stop(q, qd), other.stop(q, qd)
    np.testing.assert_allclose(a.stopped_at.values, b.stopped_at.values, atol=1e-6)
    assert abs(a.tool_drop.item() - b.tool_drop.item()) < 1e-6


@given(starts(), st.floats(0.2, 5.0))
@QUICK
def test_all_masses_inertias_torques_k_fold_move_alike(start: tuple[Array, Array], k: float) -> None:
    """Springs of counterbalances too: nothing changes when everything that pulls and resists grows alike."""
    q, qd = start
    one, other = (aw.Cell(scaled(by)) for by in (1.0, k))
    a, b = one.stop(q, qd), other.stop(q, qd)
    np.testing.assert_allclose(a.stopped_at.values, b.stopped_at.values, atol=1e-6)


def scaled(k: float) -> aw.ArmDescription:
    from dataclasses import replace

    from cases.arms import spherical_arm
    from cases.described import described
    from cases.stopping import SIZES

    arm = described(spherical_arm())
    joints = [
        replace(joint, drive=aw.Drive(
            aw.Motor(continuous=k, peak=3 * k, rotor_inertia=k * inertia, max_speed=600.0),
            [aw.Stage("strain wave", ratio, efficiency=0.75, efficiency_back=0.65)],
            aw.Brake(k * brake, delay=0.05), friction=aw.Friction(coulomb=k * coulomb, viscous=0.5 * k),
        ))
        for joint, (_, ratio, brake, inertia, coulomb) in zip(arm.joints, SIZES, strict=True)
    ]  # fmt: skip
    links = [replace(link, mass=k * link.mass, inertia=k * link.inertia) for link in arm.links]
    spring = aw.Counterbalance(  # from the turret up to the upper arm
        "coil", link_a="link 1", link_b="link 2", point_a=(0, 0, "0.4 m"), point_b=(0, 0, "0.3 m"),
        rate=400 * k, free_length="0.1 m",
    )  # fmt: skip
    return replace(arm, joints=tuple(joints), links=tuple(links), counterbalances=(spring,))
