"""A place for an arm's stand: its numbers, the pose that they make, and the cell that stands there.

The stand is the base; of a cell with a track, the track; of a parked arm, the carriage, which moves along its track
only.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from armwright.describe import CellDescription
from armwright.describe.shapes import Shape, changed

if TYPE_CHECKING:
    from armwright.cell import Cell

Floats = NDArray[np.float64]
NUMBERS = ("x", "y", "z", "yaw", "turn", "track")  # m, m, m, rad, rad, m
ATTITUDES = ("floor", "wall", "ceiling", "as_it_stands")
_LEVEL = 1e-9

# The stand's axes in each attitude at yaw 0: its z axis up; level, along x, its x axis down; down.
_TURNED = {
    "floor": np.eye(3),
    "wall": np.array([[0.0, 0, 1], [0, 1, 0], [-1, 0, 0]]),
    "ceiling": np.diag([1.0, -1.0, -1.0]),
}


def stand_pose(cell: CellDescription) -> Floats:
    """Where the stand is, as described."""
    return np.asarray(cell.mount if cell.track is None else cell.track.pose)


def attitude_of(rotation: Floats) -> str:
    """The word for an attitude: which way the stand's z axis points."""
    z = rotation[:, 2]
    if np.hypot(z[0], z[1]) < _LEVEL:
        return "floor" if z[2] > 0 else "ceiling"
    return "wall" if abs(z[2]) < _LEVEL else "as_it_stands"


def numbers_of(pose: Floats) -> Floats:
    """The six numbers of a stand; ``track`` NaN."""
    rotation, attitude = pose[:3, :3], attitude_of(pose[:3, :3])
    yaw = turn = 0.0
    if attitude == "wall":
        yaw = np.arctan2(rotation[1, 2], rotation[0, 2])
        own = (_about_z(yaw) @ _TURNED["wall"]).T @ rotation
        turn = np.arctan2(own[1, 0], own[0, 0])
    elif attitude != "as_it_stands":
        yaw = np.arctan2(rotation[1, 0], rotation[0, 0])
    return np.array([*pose[:3, 3], yaw, turn, np.nan])


def poses_at(now: Floats, numbers: Floats, attitudes: NDArray[np.int64]) -> Floats:
    """The stand's poses (n, 4, 4) for numbers (n, 6) and codes of attitudes; ``now``: its pose as described."""
    turned = np.array([_TURNED.get(word, now[:3, :3]) for word in ATTITUDES])
    poses = np.zeros((len(numbers), 4, 4))
    poses[:, :3, :3] = _about_z(numbers[:, 3]) @ turned[attitudes] @ _about_z(numbers[:, 4])
    poses[:, :3, 3], poses[:, 3, 3] = numbers[:, :3], 1
    return poses


def shifts_at(now: Floats, numbers: Floats, attitudes: NDArray[np.int64]) -> Floats:
    """What takes the stand from where it is described to each place, (n, 4, 4); of a parked arm, nothing."""
    parked = ~np.isnan(numbers[:, 5])
    shifts = poses_at(now, numbers, attitudes) @ np.linalg.inv(now)
    shifts[parked] = np.eye(4)
    return shifts


def placed(cell: Cell, numbers: Floats, attitude: str, going_along: tuple[str, ...] = ()) -> Cell:
    """The cell with its stand at a place; fixtures that go along with it moved likewise. A parked arm has no track
    any more: its carriage is part of its base, and the rails are fixtures."""
    from armwright.cell import Cell

    told = cell.description
    if not np.isnan(numbers[5]):
        return Cell.from_description(_parked(told, float(numbers[5])))
    now = stand_pose(told)
    codes = np.array([ATTITUDES.index(attitude)])
    pose = poses_at(now, numbers[None], codes)[0]
    shift = pose @ np.linalg.inv(now)
    fixtures = tuple(_moved(shape, shift) if shape.name in going_along else shape for shape in told.fixtures)
    if told.track is None:
        return Cell.from_description(replace(told, mount=pose, fixtures=fixtures))
    return Cell.from_description(replace(told, track=replace(told.track, pose=pose), fixtures=fixtures))


def _parked(told: CellDescription, at: float) -> CellDescription:
    track = told.track
    assert track is not None
    slid = np.eye(4)
    slid[:3, 3] = at * track.axis
    to_base = np.linalg.inv(told.mount)
    base = told.arm.base_link
    base = replace(base, shapes=(*base.shapes, *(_moved(shape, to_base) for shape in track.carriage.shapes)))
    taken = {shape.name for shape in told.fixtures}
    rails = [_moved(shape, track.pose) for shape in track.rails]
    rails = [changed(s, name=f"{s.name} of the rails") if s.name in taken else s for s in rails]
    renamed: dict[str, list[str]] = {
        track.carriage.name or "carriage": [base.name or "base"], "track rails": [rail.name for rail in rails],
    }  # fmt: skip
    ignored = tuple(
        (one, other) for a, b in told.ignored_pairs for one in renamed.get(a, [a]) for other in renamed.get(b, [b])
    )
    return replace(
        told, arm=replace(told.arm, base_link=base), track=None, mount=track.pose @ slid @ told.mount,
        fixtures=(*told.fixtures, *rails), ignored_pairs=ignored,
    )  # fmt: skip


def _moved(shape: Shape, by: Floats) -> Shape:
    return changed(shape, pose=by @ shape.pose)


def _about_z(angle: Any) -> Floats:
    c, s = np.cos(angle), np.sin(angle)
    zero, one = np.zeros_like(c), np.ones_like(c)
    return np.moveaxis(np.array([[c, -s, zero], [s, c, zero], [zero, zero, one]]), (0, 1), (-2, -1))
