"""How the arm is lifted and serviced, as methods of a cell."""

from __future__ import annotations

import hashlib
import math
from concurrent.futures import Executor
from dataclasses import replace
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from armwright import arguments
from armwright.answers import Floats
from armwright.describe import CellDescription, Track
from armwright.describe.pose import take_direction
from armwright.describe.units import ANGLE
from armwright.errors import InputError
from armwright.studies import run
from armwright.studies.piece_store import StorePath
from armwright.studies.pieces import How
from armwright.studies.subject import subject_of
from armwright.sweeps import Studied

if TYPE_CHECKING:  # xarray brings pandas, a second of waiting, so that results are imported where they are made
    import xarray as xr

_LEVEL = math.radians(1.0)


class Liftable(Studied):
    """What riggers and fitters ask of an arm."""

    def lifting(
        self,
        q: ArrayLike | None = None,
        *,
        tool: bool = True,
        up: Any = None,
        level: Any = _LEVEL,
        executor: Executor | None = None,
        store: StorePath | None = None,
        threads: int | None = None,
        progress: run.Progress = None,
    ) -> xr.Dataset:
        """Mass and centre of gravity of the arm in a posture (``q``, of the cell or of the arm's joints alone; default:
        all joints at zero, or mid-range), base link and, with ``tool``, the tool included; how it hangs from each of
        the cell's lifting eyes alone, loose from its foot; and the posture in which it hangs level.

        Frames: the arm's base. ``up``: the direction there that is upright; by default that which points up as the arm
        is mounted. Dataset over (eye): ``tilt`` rad, ``sinks_towards`` (the side that goes down, across the upright),
        ``eye_safety`` (rated mass over mass); over (eye, joint): ``hung_torque`` that each axis holds as it hangs, and
        ``brake_factor`` of its brake; ``level_...``, the same in the posture found, which is sought from 2000 spread
        over the joint ranges: a tilt of ``level`` (rad) at most, brakes that hold what they have to, by as much as can
        be, and the arm clear of itself (``level_clearance`` tells). ``level_found`` tells whether there is one; else
        the least tilted is given. Statics of rigid links: the centre of gravity hangs plumb under the eye. What is not
        told, a mass, a brake, an eye's rating, is in ``missing``. Read ``caution``. Refused (InputError): an arm
        without mass.

        >>> hung = cell.lifting()
        >>> print(f"{hung.attrs['mass']:.1f} kg")
        80.7 kg
        """
        from armwright.studies.lifting import lifting

        if not isinstance(tool, bool | np.bool_):
            raise InputError.of("tool", repr(tool), "True or False")
        what = _lifted(self._description, bool(tool), None if up is None else take_direction("up", up))
        if not sum(link.mass for link in (what.description.arm.base_link, *what.description.arm.links)) > 0:
            raise InputError.of("arm", "links of 0 kg", "a link with a mass: else there is nothing to lift")
        subject = subject_of(what.description)
        labels, posture = self._labels, self._arm_posture(q)
        angle = float(ANGLE.si_value("level", level))
        if not 0 < angle < math.pi / 2:
            raise InputError.of("level", f"{angle:g} rad", "an angle above 0 and below a quarter turn")
        told = hashlib.sha256(f"{self.digest()} {bool(tool)}".encode() + posture.tobytes() + what.up.tobytes())
        return lifting(
            subject, what.up, posture, level=angle, missing=() if tool else ("tool: taken off",),
            how=How(executor, store, threads, progress), **(labels | {"inputs_digest": told.hexdigest()}),
        )  # fmt: skip

    def _arm_posture(self, q: ArrayLike | None) -> Floats:
        """One posture of the arm's joints, without the track."""
        count = len(self._description.arm.joints)
        if q is not None and self.joint_count > count and np.shape(q) == (count,):
            array = arguments.numbers("q", q)
            arguments.finite("q", array)
            return array
        return np.ascontiguousarray(self._posture(q)[-count:])

    def service(
        self,
        q: ArrayLike | None = None,
        *,
        margin: Any = 0.0,
        samples: int = 2000,
        executor: Executor | None = None,
        store: StorePath | None = None,
        threads: int | None = None,
        progress: run.Progress = None,
    ) -> xr.Dataset:
        """Which motors can be reached and taken out, by the cell's service volumes: at ``q``, (..., n) (default: all
        joints at zero, or mid-range), and in the best of ``samples`` postures spread over the joint ranges in which the
        arm is clear of everything.

        A volume is free where nothing comes nearer than ``margin``: no other link, the next ones too, no tool, base,
        rail or fixture; against its own link it is not held. Nothing is carried. Dataset over (posture ..., volume):
        ``distance`` m, ``nearest``, ``free``, ``arm_clearance`` of the arm itself, ``unheld_torque`` that the motor's
        axis holds there and that is to be propped, ``way_out`` in the world; over (volume): ``best_q`` and the same in
        it, of the free postures the one with the least torque, and ``free_share``. ``missing``: motors without a
        volume. Read ``caution``. Refused (InputError): a cell without service volumes.

        >>> out = cell.service(samples=50)
        >>> [str(name) for name in out.volume.values]
        ['motor of axis 2', 'motor of axis 3', 'motor of axis 4', 'motor of track']
        """
        from armwright.studies.service import service

        described, left_out = _serviced(self._description)
        if not described.service:
            found = "; ".join(left_out) or "no service volume in the cell"
            raise InputError.of("service", found, "one for each motor that is to be reached")
        count = run.whole("samples", samples, 1, 1_000_000)
        batch, rows = self._rows(self._posture(q) if q is None else q)
        told = hashlib.sha256(self.digest().encode() + rows.tobytes())
        return service(
            self._subject if described is self._description else subject_of(described), rows, batch,
            margin=arguments.length("margin", margin, zero=True), samples=count, missing=left_out,
            how=How(executor, store, threads, progress), **(self._labels | {"inputs_digest": told.hexdigest()}),
        )  # fmt: skip


def _serviced(cell: CellDescription) -> tuple[CellDescription, list[str]]:
    """The cell with the volumes that are there, and in words which are not: those on a track that it has not."""
    arm, track = cell.arm, cell.track
    links = (*arm.link_names, *(() if track is None else (track.carriage.name,)))
    joints = (*arm.joint_names, *(() if track is None else ("track",)))
    kept, left_out = [], []
    for volume in cell.service:
        if track is not None and volume.link not in links:  # "carriage" is the carriage, whatever its name
            kept.append(replace(volume, link=track.carriage.name))
        elif volume.link in links and volume.motor in joints:
            kept.append(volume)
        else:
            left_out.append(f"{volume.name}: on the track, and the cell has none: not counted")
    same = len(kept) == len(cell.service) and all(a is b for a, b in zip(kept, cell.service, strict=True))
    return (cell if same else replace(cell, service=tuple(kept))), left_out


class _Lifted(NamedTuple):
    """What is lifted: the arm alone with its tool, in its base's frame, and the directions that count there."""

    description: CellDescription
    up: Floats


def _lifted(cell: CellDescription, tool: bool, up: Floats | None) -> _Lifted:
    """The arm of a cell as it is lifted. ``up``: what is to point upwards, in the base's frame; None: as mounted."""
    turn = np.asarray(cell.mount)[:3, :3]
    if isinstance(cell.track, Track):
        turn = np.asarray(cell.track.pose)[:3, :3] @ turn
    gravity = turn.T @ np.asarray(cell.gravity)
    size = float(np.linalg.norm(gravity))
    if up is None:
        up = -gravity / size if size > 0 else np.array((0.0, 0, 1))
    alone = CellDescription(cell.arm, tool=cell.tool if tool else None, gravity=gravity, name=cell.name,
                            lifting=cell.lifting)  # fmt: skip
    parts: list[Any] = [cell.arm.base_link, *cell.arm.links, *([alone.tool] if alone.tool is not None else [])]
    names = {part.name for part in parts} | {shape.name for part in parts for shape in part.shapes}
    ignored = tuple(pair for pair in cell.ignored_pairs if set(pair) <= names)
    alone = replace(alone, ignored_pairs=ignored)
    return _Lifted(alone, np.asarray(up, dtype=np.float64))
