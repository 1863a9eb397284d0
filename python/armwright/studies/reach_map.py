"""Where the tool can be, in how many of its attitudes, and how well."""

from __future__ import annotations

from typing import Any

import numpy as np
import xarray as xr
from numpy.typing import NDArray

from armwright import _core
from armwright.results import make_dataset
from armwright.studies import defaults, pieces, run
from armwright.studies.subject import Subject

_values = ("attitudes_reached", "limit_margin", "manipulability", "clearance", "track_lower", "track_upper")


def reach_map(
    subject: Subject,
    spacing: float,
    *,
    fixtures: bool,
    bounds: tuple[run.Floats, run.Floats] | None,
    directions: int | run.Floats = defaults.directions,
    spins: int = defaults.spins,
    margin: float,
    track_step: float | None,
    dexterous_share: float = 1.0,
    how: pieces.How,
    inputs_digest: str,
    arm_name: str,
    labels: dict[str, Any],
) -> xr.Dataset:
    """See Cell.reach_map. A tool of fewer than six freedoms is asked for positions alone besides."""
    spins = run.whole("spins", spins, 1, 10_000)
    share = run.share_of("dexterous_share", dexterous_share)
    along = run.track_step_of(subject.inverse, spacing if track_step is None else track_step)
    axes = run.axes_of(*run.box_of(bounds, spacing, subject.model), spacing)
    attitudes = run.attitudes_for("any", directions, spins)
    terms = {"margin": margin, "track_step": along}
    request = run.grid_terms(axes, spacing) | {"attitudes": attitudes, "fixtures": bool(fixtures)} | terms
    phases = [("map", False, attitudes)]
    phases += [] if subject.loose is None else [("positions", True, run.some_attitude())]
    positions, where = run.positions_of(axes), run.Arrays()
    with how.opened("reach_map", inputs_digest, request) as work:
        for part, (phase, free, tried) in enumerate(phases):
            given = (subject, fixtures, free, margin, along, tried)
            with run.reported(how.progress, "reach map", part, len(phases)) as report:
                where = work.run(phase, _prepare, given, positions, report)
            if part == 0:
                index = where["attitudes_reached"] / len(attitudes)
    del positions  # as long as the answers: what is left to do has no use for it
    reachable = (where["attitudes_reached"] > 0) | (index > 0)
    names = ["limit_margin"] + (["manipulability"] if subject.loose is None else [])
    names += ["clearance"] if fixtures else []
    asked = _search(subject, fixtures, True, margin, along)
    names += ["track_lower", "track_upper"] if asked.samples_track else []
    variables = {"reach_index": index, "reachable": reachable} | {name: where[name] for name in names}
    terms |= {"directions": len(attitudes) // spins, "spins": spins}
    return make_dataset(
        "reach_map",
        {name: values.reshape([len(axis) for axis in axes]) for name, values in variables.items()},
        dict(zip("xyz", axes, strict=True)),
        {"spacing": spacing} | terms | _volumes(axes, spacing, reachable, index, share) | labels,
        inputs_digest,
        arm_name,
    )


def _search(subject: Subject, fixtures: bool, free: bool, margin: float, along: float) -> _core.studies.PostureSearch:
    inverse = subject.loose_inverse if free else subject.inverse
    return _core.studies.make_search(inverse, subject.solids if fixtures else None, margin, along, run.turn_step)


def _prepare(
    subject: Subject, fixtures: bool, free: bool, margin: float, along: float, attitudes: run.Floats
) -> pieces.Compute:
    search = _search(subject, fixtures, free, margin, along)

    def compute(positions: run.Floats, threads: int, report: run.Report | None) -> run.Arrays:
        swept = _core.studies.reach_map(search, positions, attitudes, threads, report)
        run.finished(swept.complete)
        return {name: getattr(swept, name) for name in _values}

    return compute


def _volumes(
    axes: list[run.Floats], spacing: float, reachable: NDArray[np.bool_], index: run.Floats, share: float
) -> dict[str, float]:
    """Reachable and dexterous volume, each with its error, m³."""
    grid = _core.studies.Grid(np.array([axis[0] for axis in axes]), spacing, tuple(len(axis) for axis in axes))
    volume, error = _core.studies.counted_volume(grid, reachable)
    dexterous, dexterous_error = _core.studies.counted_volume(grid, index >= share)
    return {"reachable_volume": volume, "reachable_volume_error": error, "dexterous_volume": dexterous,
            "dexterous_volume_error": dexterous_error, "dexterous_share": share}  # fmt: skip
