"""An arm with one upright axis on a track, of our own numbers, for tests of what a track bears: by hand all of it."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np

import armwright as aw
from cases.driven_cells import motor

G = 9.80665
COULOMB, VISCOUS = 25.0, 10.0  # N, N s/m at the carriage
CARRIAGE, SWUNG, REACH, HIGH = 40.0, 20.0, 0.8, 0.5  # kg, kg, m, m above the carriage frame's origin
LONG, WIDE, LOW = 0.4, 0.3, 0.05  # m between blocks and rails, and how far they are below it
WEIGHT = (CARRIAGE + SWUNG) * G
FRONT, BACK = (1, 3), (0, 2)  # blocks; rail 1 is at the right (y < 0)


def guide(**more: Any) -> aw.Guide:
    told: dict[str, Any] = {
        "rails": (-WIDE / 2, WIDE / 2), "blocks": (-LONG / 2, LONG / 2), "height": LOW, "kind": "ball",
        "dynamic_rating": 20e3, "static_rating": 30e3, "rating_distance": 100e3, "lift_share": 1.0, "side_share": 1.0,
    }  # fmt: skip
    return aw.Guide(**(told | more))


def swinging(told: aw.Guide | None = None, mount: Any = (0, 0, HIGH), **more: Any) -> aw.Cell:
    """A point mass on an arm without weight, level, that turns about an upright axis over the carriage's middle."""
    joint = aw.Joint("axis 1", axis="z", range=(-100, 100))
    link = aw.Link("arm", SWUNG, (REACH, 0, 0), np.zeros((3, 3)))
    track = aw.Track("x", (0.0, 3.0), carriage=aw.Link("carriage", CARRIAGE, (0, 0, 0)), guide=told, **more)
    return aw.Cell(aw.ArmDescription((joint,), (link,), "crane"), track, mount=mount)


def rows(q: Any, qd: Any = 0.0, qdd: Any = 0.0, *, kind: str = "rest", duty: Any = 0.0) -> Any:
    """Rows of one case."""
    from armwright.studies.load_rows import LoadRows

    q = np.atleast_2d(np.asarray(q, float))
    each = [np.broadcast_to(np.asarray(value, float), q.shape).copy() for value in (qd, qdd)]
    count = len(q)
    return LoadRows(
        q, *each, np.full(count, -1, np.int32), (), np.arange(count) * 0.1, np.broadcast_to(duty, count).astype(float),
        np.zeros(count, np.int32), (f"a {kind}",), (kind,), (),
    )  # fmt: skip


def both(*made: Any) -> Any:
    """Rows of several cases, put behind one another."""
    arrays = ("q", "qd", "qdd", "load", "time", "duty")
    joined = {name: np.concatenate([getattr(each, name) for each in made]) for name in arrays}
    case = np.repeat(np.arange(len(made), dtype=np.int32), [len(each.q) for each in made])
    words = [tuple(each.case_names[0] for each in made), tuple(each.case_kinds[0] for each in made)]
    return made[0]._replace(**joined, case=case, case_names=words[0], case_kinds=words[1])


def with_guide(cell: aw.Cell, **more: Any) -> aw.Cell:
    """The same cell with other figures of its guide."""
    described = cell.description
    track = replace(described.track, guide=replace(described.track.guide, **more))
    return aw.Cell.from_description(replace(described, track=track))


def driven(stage: aw.Stage, feed: Any, **more: Any) -> aw.Cell:
    """On a drive, with friction at the carriage."""
    drive = aw.Drive(motor(), (stage,), friction=aw.Friction(COULOMB, VISCOUS, sliding=True), **more)
    return swinging(guide(), drive=drive, feed=feed)
