"""Stops, stop tables and holding, as methods of a cell."""

from __future__ import annotations

from concurrent.futures import Executor
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import ArrayLike

from armwright import arguments
from armwright.describe import Load
from armwright.describe.drive_units import TIME
from armwright.errors import InputError
from armwright.machine import Machine
from armwright.studies import run
from armwright.studies.piece_store import StorePath
from armwright.studies.pieces import How

if TYPE_CHECKING:  # xarray brings pandas, a second of waiting, so that results are imported where they are made
    import xarray as xr


class Stopping(Machine):
    """What happens when a stop is asked for, or the power goes. ``executor``, ``store``, ``threads``, ``progress``: as
    for the sweeps (Studied)."""

    def stop(
        self,
        q: ArrayLike,
        qd: ArrayLike,
        category: int = 0,
        *,
        load: Load | None = None,
        deceleration: ArrayLike | None = None,
        reaction: Any = 0.0,
        hold_after: Any = 0.0,
        time_limit: Any = 10.0,
        row_step: Any = 0.005,
        executor: Executor | None = None,
        store: StorePath | None = None,
        threads: int | None = None,
        progress: run.Progress = None,
    ) -> xr.Dataset:
        """The motion after a stop is asked for at ``q``, (..., n), with joint speeds ``qd`` of its shape, by forward
        dynamics of the whole arm: gravity, springs, the load (by default the cell's), rotors, losses by the direction
        of power, friction, brakes.

        ``category`` of IEC 60204-1: 0, the power goes at once, and each brake bites after its delay; 1, the motors
        first brake every axis evenly and together, by ``deceleration`` of each axis (rad/s², m/s²; by default the
        joints' acceleration limits, and all that the motor gives where there is none), never beyond their peak curves;
        the power goes when all stand. With ``hold_after`` (s) the motors hold the arm so long at rest while the brakes,
        told to close when all stand, close; then the power goes. With 0 s the brakes are told by the power's going, and
        the arm sags until they have closed: that is what happens unless the drives are made to hold. ``reaction``: s
        from the signal until anything happens. What moves still after ``time_limit`` s is told so.

        Dataset over (posture ...): ``end`` ("rest", "still moving", "end of range", "given up"), ``stop_time``,
        ``travel`` and ``impact_speed`` of each joint, ``tool_travel``, ``tool_drop``, ``brake_energy``,
        ``stage_torque`` with its share of each stage's momentary peak ...; for a single posture also over ``time``,
        every ``row_step`` s.

        >>> stop = cell.stop(q, np.zeros(7))
        >>> print(f"the tool drops {1000 * float(stop.tool_drop):.1f} mm, axis 6 has no brake")
        the tool drops 29.6 mm, axis 6 has no brake
        """
        from armwright.studies.stop import stop

        batch, (rows, speeds) = self._rows_together({"q": q, "qd": qd})
        return stop(
            self._subject,
            self._carried(load),
            rows,
            speeds,
            batch,
            category=category,
            deceleration=self._each_axis("deceleration", deceleration),
            reaction=seconds("reaction", reaction, zero=True),
            hold_after=seconds("hold_after", hold_after, zero=True),
            time_limit=seconds("time_limit", time_limit),
            row_step=seconds("row_step", row_step, zero=True),
            how=How(executor, store, threads, progress),
            **self._stop_labels,
        )

    def stop_table(
        self,
        *,
        load: Load | None = None,
        speeds: ArrayLike | None = None,
        deceleration: ArrayLike | None = None,
        reaction: Any = 0.0,
        hold_after: Any = 0.0,
        time_limit: Any = 10.0,
        executor: Executor | None = None,
        store: StorePath | None = None,
        threads: int | None = None,
        progress: run.Progress = None,
    ) -> xr.Dataset:
        """Stopping times and distances of the arm's axes 1 to 3, one at a time, at 33, 66 and 100 % of speed, load and
        extension and in stop categories 0 and 1, as ISO 10218-1 (2011), annex B, asks for; ``required`` marks the rows
        that it asks for. 100 % of the load is ``load`` (by default the cell's); of the speed the joint's speed limit,
        or what motor and stages stand, or ``speeds``, (n,). ``stage_torque`` is the most that each stage bears in all
        of these stops, ``stage_torque_case`` in which. ``hold_after`` as in ``stop``, in category 1. The attribute
        ``rule`` says how postures are chosen. ``deceleration`` of category 1, (n,) in rad/s² (m/s²); ``reaction`` s
        from the signal until anything happens; what moves still after ``time_limit`` s is told so. Calculated: the
        standard's figures are measured ones.

        >>> table = cell.stop_table()
        >>> print(f"{float(table.stop_time.max()):.2f} s at worst")
        1.93 s at worst
        """
        from armwright.studies.stop_table import stop_table

        return stop_table(
            self._subject,
            self._carried(load),
            deceleration=self._each_axis("deceleration", deceleration),
            speeds=self._each_axis("speeds", speeds),
            reaction=seconds("reaction", reaction, zero=True),
            hold_after=seconds("hold_after", hold_after, zero=True),
            time_limit=seconds("time_limit", time_limit),
            how=How(executor, store, threads, progress),
            **self._stop_labels,
        )

    def holding(
        self,
        *,
        load: Load | None = None,
        time_limit: Any = 10.0,
        executor: Executor | None = None,
        store: StorePath | None = None,
        threads: int | None = None,
        progress: run.Progress = None,
    ) -> xr.Dataset:
        """Whether the arm stays up without power: for every axis the torque that it has to hold at worst over the whole
        range of all joints (``torque_bound``, proven, within 0.5 % of ``torque_found`` where the search came so far),
        what its brake holds, and the factor between the two. The brake counts by its ratio alone: friction and losses
        help, but nobody should count on them. And from each axis' worst posture at rest, how far the tool drops until
        the brakes bite, or how an axis without one falls, followed for ``time_limit`` s at most. With ``load``, by
        default the cell's.

        >>> held = aw.Cell(arm).holding()
        >>> print(f"axis 2 holds {float(held.torque_bound[1]):.0f} N m, brake {float(held.brake_torque[1]):.0f} N m")
        axis 2 holds 171 N m, brake 484 N m
        """
        from armwright.studies.holding import holding

        return holding(
            self._subject,
            self._carried(load),
            time_limit=seconds("time_limit", time_limit),
            how=How(executor, store, threads, progress),
            **self._stop_labels,
        )

    def _each_axis(self, key: str, values: ArrayLike | None) -> run.Floats | None:
        if values is None:
            return None
        array = arguments.numbers(key, values)
        if array.shape not in ((), (self.joint_count,)):
            raise InputError.of(key, f"an array of shape {array.shape}", f"one number, or {self.joint_count}")
        if not (array > 0).all():
            raise InputError.of(key, str(array.min()), "more than 0")
        return np.broadcast_to(array, (self.joint_count,)).astype(np.float64)

    @property
    def _stop_labels(self) -> dict[str, Any]:
        from armwright.labels import study_labels

        described = self._description
        return {"labels": study_labels(described), "inputs_digest": self.digest(), "arm_name": described.arm.name}


def seconds(key: str, value: Any, *, zero: bool = False) -> float:
    """A time above 0 (or from 0), s."""
    found = float(TIME.si_value(key, value))
    if found < 0 or (found == 0 and not zero):
        raise InputError.of(key, f"{found:g} s", "0 s or more" if zero else "more than 0 s")
    return found
