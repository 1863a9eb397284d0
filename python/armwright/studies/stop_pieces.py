"""Many stops in pieces."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import numpy as np

from armwright import _core
from armwright.studies import pieces, run
from armwright.studies.stop import followed, options_of
from armwright.studies.subject import Subject

Load = tuple[float, run.Floats, run.Floats]
"""A load in the last joint frame, able to travel: mass, centre, tensor."""

_values = ("q", "travel", "top_speed", "impact_speed", "impact_time", "brake_energy", "stage_torque",
           "stage_torque_time", "time", "power_off", "tool_travel", "tool_path", "tool_drop",
           "tool_top_speed")  # fmt: skip


class Stops(SimpleNamespace):
    """The answers of many stops, by the names that the core's StopBatch has them."""


def load_of(load: _core.model.Inertia) -> Load:
    """The core's load as plain numbers."""
    return load.mass, np.array(load.centre), np.array(load.tensor)


def stops_in_pieces(
    work: pieces.Pieces,
    phase: str,
    subject: Subject,
    load: _core.model.Inertia,
    rows: tuple[run.Floats, run.Floats, run.Floats],
    options: dict[str, Any],
    report: run.Report | None,
) -> Stops:
    """Many stops; ``rows``: q (m, n), speed (m, n) and share of the load (m,); ``options`` as ``options_of`` takes
    them."""
    found = work.run(phase, _prepare, (subject, load_of(load), options), np.column_stack(rows), report)
    ends = [_core.stops.StopEnd(end) for end in found.pop("end").tolist()]
    return Stops(**found, end=ends)


def _prepare(subject: Subject, load: Load, options: dict[str, Any]) -> pieces.Compute:
    model, n, told = subject.model, subject.model.joint_count, options_of(subject.model, **options)
    mass, centre, tensor = load

    def compute(rows: run.Floats, threads: int, report: run.Report | None) -> run.Arrays:
        loads = [_core.model.Inertia(mass * share, centre, tensor * share) for share in rows[:, -1].tolist()]
        q, speed = (np.ascontiguousarray(part) for part in (rows[:, :n], rows[:, n : 2 * n]))
        batch = followed(model, loads, q, speed, told, threads or None, report, "stops")
        found: run.Arrays = {name: getattr(batch, name) for name in _values}
        found["end"] = np.array([int(end) for end in batch.end], dtype=np.int64)
        return found | {"saturated": np.array(batch.saturated, dtype=bool)}

    return compute
