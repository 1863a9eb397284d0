"""Boundary curves of the reachable region, in vertical section and in plan, as ISO 9946 shows the working space."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import xarray as xr
from numpy.typing import NDArray

from armwright import _core
from armwright.results import make_dataset
from armwright.studies import pieces, run
from armwright.studies.subject import Subject


def outlines(
    subject: Subject,
    *,
    spacing: float | None,
    directions: int = 60,
    how: pieces.How,
    inputs_digest: str,
    arm_name: str,
    labels: dict[str, Any],
) -> xr.Dataset:
    """See Cell.outlines. A tool of fewer than six freedoms is drawn turning freely."""
    model = subject.model
    directions = run.whole("directions", directions, 1, 10_000)
    run.check_combinations(subject.inverse, math.inf)
    points = ["tool"]
    if model.joint_count - model.has_track == 6 and subject.loose is None:
        points.append("wrist")
    steps = [_step_of(subject, point, spacing) for point in points]
    drawn: dict[str, run.Floats] = {}
    with how.opened("outlines", inputs_digest, {"spacing": spacing, "directions": directions}) as work:
        for part, (point, step) in enumerate(zip(points, steps, strict=True)):
            with run.reported(how.progress, "outlines", part, len(points)) as report:
                found = work.run(point, _prepare, (subject, point, step, directions), np.arange(1), report)
            drawn |= {name if point == "tool" else f"wrist_{name}": curve[0] for name, curve in found.items()}
    return make_dataset(
        "outlines",
        drawn | {"joint_lower": np.array(model.lower), "joint_upper": np.array(model.upper)},
        {"joint": np.array(model.joint_names), "joint_unit": run.joint_units(model)},
        {"spacing": steps[0]} | labels,
        inputs_digest,
        arm_name,
    )


def _drawn_by(subject: Subject, point: str) -> _core.kinematics.ArmInverse:
    return subject.wrist_inverse if point == "wrist" else subject.loose_inverse


def _step_of(subject: Subject, point: str, spacing: float | None) -> float:
    """Spacing of the grid that a point's curves are found on, m, checked."""
    model = subject.model
    reach = _core.studies.longest_reach(_drawn_by(subject, point).model)
    step = reach / 40 if spacing is None else spacing
    stroke = model.upper[0] - model.lower[0] if model.has_track else 0.0
    run.check_coarse(step, reach)
    along = (2 * reach + stroke) / step + 1
    run.check_positions(step, along * along)
    return run.track_step_of(subject.inverse, step)


def _prepare(subject: Subject, point: str, step: float, directions: int) -> pieces.Compute:
    """Both curves of a point: one piece, since the boundary is drawn once the whole grid is known."""
    loose = subject.loose is not None
    turn = 2 * run.turn_step if loose else run.turn_step
    search = _core.studies.make_search(_drawn_by(subject, point), None, 0.0, step, turn)

    def compute(_: NDArray[np.int64], threads: int, report: run.Report | None) -> run.Arrays:
        section, plan, complete = _core.studies.outlines(search, step, 0 if loose else directions, 1, threads, report)
        run.finished(complete)
        return {"section": section[None], "plan": plan[None]}

    return compute
