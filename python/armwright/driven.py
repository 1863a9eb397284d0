"""The studies of a cell's drives over a cycle, as its methods."""

from __future__ import annotations

import hashlib
from concurrent.futures import Executor
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import ArrayLike

from armwright import arguments
from armwright.answers import Floats
from armwright.describe import Load, Supply
from armwright.describe.drive_units import TIME
from armwright.errors import InputError
from armwright.stopping import seconds
from armwright.studies import run
from armwright.studies.piece_store import StorePath
from armwright.studies.pieces import How
from armwright.sweeps import Studied
from armwright.timed import TimedMotion

if TYPE_CHECKING:  # xarray brings pandas, a second of waiting, so that results are imported where they are made
    import xarray as xr

_STEP = 0.005  # s, between instants: torques are taken as straight between them
_MOST_INSTANTS = 5_000_000


class Driven(Studied):
    """A machine with drives, and cycles that it runs. ``cycle``: a Cycle, or a TimedMotion of rows made elsewhere.

    A study of one cycle has no many items: an ``executor`` does all of it in one piece, and a ``store`` keeps that."""

    def drive_check(
        self,
        cycle: Any,
        *,
        step: Any = _STEP,
        factors: bool = True,
        executor: Executor | None = None,
        store: StorePath | None = None,
    ) -> xr.Dataset:
        """What a cycle asks of every motor and stage, against what they bear.

        The joint torques of the motion, with what is carried, go through coupling, stages (efficiency by the direction
        of power), friction and rotors to the motors. Motors: greatest torque against the peak curve at the speed of
        each instant; root mean square against the continuous curve at the root mean square of the speed. Stages:
        greatest output torque against the repeated peak; mean powered torque (by the life exponent) against the rated
        torque; input speeds; life. Means are over the whole cycle, pauses included; while an axis
        stands its motor holds it, not the brake. ``step``: greatest time between
        two instants, s.

        Dataset: figures over (joint) and (joint, stage); every known limit with its ``share`` over (check); torques and
        speeds over (time_point, joint); attributes ``weakest``, and with ``factors`` how many times faster
        (``speed_factor``, standing times kept, limits on jerk not counted) or heavier (``load_factor``, all loads
        alike) the cycle could go and what gives out first then. Rotors' gyroscopic moments and stages' elasticity are
        left out.

        >>> checked = cell.drive_check(cycle)
        >>> print(checked.attrs["weakest"])
        axis 3: joint speed
        """
        from armwright.studies.drive_check import drive_check

        if executor is not None or store is not None:
            return self._as_one_piece("drive_check", How(executor, store), cycle=cycle, step=step, factors=factors)
        timed = self._timed(cycle)
        core, loads = timed.core_motion(self._model), timed.core_loads(self._model)
        return drive_check(
            self._model, core, loads, step=_step_of(step, timed), repeated=timed.repeated, factors=bool(factors),
            **self._driven_labels(timed),
        )  # fmt: skip

    def power(
        self,
        cycle: Any,
        supply: Supply | None = None,
        *,
        step: Any = _STEP,
        continuous: bool = True,
        executor: Executor | None = None,
        store: StorePath | None = None,
    ) -> xr.Dataset:
        """What the drives draw from the ``supply`` (the cell's own, if none is given) through a cycle, and where what
        returns in braking goes.

        All drives share one bus: what returns feeds the others first, then the bus capacitor, then the brake resistor.
        ``continuous``: it runs for three hours or more, so that 80 % of the branch circuit's rating counts. ``step``:
        the time between rows, s. Dataset over (time_point, joint): ``mechanical_power``, ``winding_power``,
        ``friction_power`` (part of the mechanical), and ``electrical_power`` summed; over (joint): motor currents; as
        attributes the bus, resistor and mains figures. Supply, protection and earthing are for local codes and those
        licensed for them.

        >>> power = cell.power(cycle)
        >>> print(f"{power.attrs['electrical_peak']:.0f} W at the peak")
        803 W at the peak
        """
        from armwright.studies.power import power

        if executor is not None or store is not None:
            return self._as_one_piece(
                "power", How(executor, store), cycle=cycle, supply=supply, step=step, continuous=continuous,
            )  # fmt: skip
        supply = self._description.supply if supply is None else supply
        if not isinstance(supply, Supply):
            raise InputError.of("supply", repr(supply), "a Supply, or a cell with one")
        timed = self._timed(cycle)
        core, loads = timed.core_motion(self._model), timed.core_loads(self._model)
        return power(
            self._model, core, loads, supply, step=_step_of(step, timed), repeated=timed.repeated,
            continuous=bool(continuous), **self._driven_labels(timed, supply),
        )  # fmt: skip

    def payload_against_time(
        self,
        cycle: Any,
        *,
        slowing: ArrayLike | None = None,
        centre: Any = (0.0, 0.0, 0.0),
        step: Any = _STEP,
        executor: Executor | None = None,
        store: StorePath | None = None,
        threads: int | None = None,
        progress: run.Progress = None,
    ) -> xr.Dataset:
        """What the cycle could carry if it were run ``slowing`` times as slowly (rising; infinite: so slowly that only
        weight counts), standing times kept.

        All loads of the cycle grow alike; the mass told is the heaviest one's. A cycle that carries nothing is given a
        point mass at ``centre`` (m, from the tool frame) throughout. Each point is solved, not searched: torques split
        into weight, friction by speed, and inertia by its square. Dataset over (slowing): ``duration``, ``mass``,
        ``mass_peak``, ``mass_continuous``, and the joint, part, limit and time that hold it. 0 where the arm alone is
        too much, or a joint, motor or stage too fast. ``step``: the time between rows, s.

        >>> curve = cell.payload_against_time(cycle, slowing=(1.0, 2.0))
        >>> print([f"{mass:.1f} kg" for mass in curve.mass.values])
        ['10.3 kg', '10.2 kg']
        """
        from armwright.studies.payload_against_time import payload_against_time, usual

        if executor is not None or store is not None:
            return self._as_one_piece(
                "payload_against_time", How(executor, store, threads, progress), cycle=cycle, slowing=slowing,
                centre=centre, step=step,
            )  # fmt: skip
        timed = self._timed(cycle)
        carried = [load for i, load in enumerate(timed.loads) if np.any(timed.load == i)]
        heaviest = max(carried, key=lambda load: float(load.mass), default=None)
        if heaviest is None or float(heaviest.mass) <= 0:
            heaviest = Load(1.0, arguments.position("centre", centre))
            timed = timed.carrying(heaviest)
        return payload_against_time(
            self._model, timed.core_motion(self._model), timed.core_loads(self._model),
            slowing=usual if slowing is None else slowing, step=_step_of(step, timed), load_mass=float(heaviest.mass),
            load_centre=[float(x) for x in heaviest.centre], threads=threads, progress=progress,
            **self._driven_labels(timed),
        )  # fmt: skip

    def setpoints(
        self, cycle: Any, rate: float, *, executor: Executor | None = None, store: StorePath | None = None
    ) -> xr.Dataset:
        """The cycle at ``rate`` setpoints a second, and at its end: joint and motor positions, speeds and torques,
        encoder counts, and the greatest rate of counts. ``report.setpoints_to_csv`` and ``setpoints_to_parquet`` write
        it as a table with units in the columns' names; ``.armwright.to_netcdf`` as it is.

        >>> table = cell.setpoints(cycle, rate=100)
        >>> dict(table.sizes)
        {'time_point': 1376, 'joint': 7}
        """
        from armwright.studies.setpoints import setpoints

        if executor is not None or store is not None:
            return self._as_one_piece("setpoints", How(executor, store), cycle=cycle, rate=rate)
        timed = self._timed(cycle)
        per_second = _number("rate", rate, "setpoints a second, more than 0")
        core, loads = timed.core_motion(self._model), timed.core_loads(self._model)
        return setpoints(self._model, core, loads, rate=per_second, **self._driven_labels(timed))

    def switches(
        self,
        controlled_travel: ArrayLike | None = None,
        brake_travel: ArrayLike | None = None,
        *,
        hard_stops: ArrayLike | None = None,
        switch_error: float = 0.0,
        reserve: float = 0.0,
        reaction: Any = 0.0,
        hold_after: Any = 0.0,
        executor: Executor | None = None,
        store: StorePath | None = None,
        threads: int | None = None,
        progress: run.Progress = None,
    ) -> xr.Dataset:
        """Where limit switches and soft limits go, so that every stop ends before the hard stop.

        From the soft limit on a controlled stop travels ``controlled_travel`` and ends before the switch; from the
        switch on, passed by up to ``switch_error``, the power is off and brakes stop within ``brake_travel``,
        ``reserve`` before the hard stop. Travels (rad, or m where a joint slides): one number, one a joint (n,), or one
        an end (n, 2), lower first. Left out, they are those of stops of category 1 and 0 with the cell's load, each
        joint alone at its greatest speed just before its end, ``reaction`` s after the signal, at three extensions, in
        category 1 held for ``hold_after`` s at the end (see ``stop``); no answer where a joint does not stop within its
        range. ``hard_stops`` (n, 2): the joints' ranges if left out.
        Refused where nothing is left of the range.

        >>> ends = cell.switches(controlled_travel=0.1, brake_travel=0.05)
        >>> np.round(np.degrees(ends.sel(joint="axis 1").soft_limit.values), 1)
        array([-156.4,  156.4])
        """
        from armwright.studies.stop_travels import held_words, rule, stop_travels
        from armwright.studies.switches import switches

        if executor is not None or store is not None:
            return self._as_one_piece(
                "switches", How(executor, store, threads, progress), controlled_travel=controlled_travel,
                brake_travel=brake_travel, hard_stops=hard_stops, switch_error=switch_error, reserve=reserve,
                reaction=reaction, hold_after=hold_after,
            )  # fmt: skip
        given = [controlled_travel, brake_travel]
        found = any(values is None for values in given)
        late = seconds("reaction", reaction, zero=True)
        hold = seconds("hold_after", hold_after, zero=True)
        asked: dict[str, Any] = {"reaction": late, "hold_after": hold, "threads": threads, "progress": progress}
        travels = [
            self._travels(key, values) if values is not None
            else stop_travels(self._model, self._model.load, category, **asked)
            for key, values, category in (("controlled_travel", given[0], 1), ("brake_travel", given[1], 0))
        ]  # fmt: skip

        limits = self.limits
        stops = np.stack([limits.lower, limits.upper], axis=1)
        if hard_stops is not None:
            stops = arguments.numbers("hard_stops", hard_stops)
            if stops.shape != (self.joint_count, 2) or not np.all(stops[:, 0] < stops[:, 1]):
                raise InputError.of("hard_stops", repr(hard_stops), f"shape ({self.joint_count}, 2), lower below upper")
        return switches(
            self._model, stops, *travels, found=found, rule=rule + held_words(hold) if found else "travels as given",
            switch_error=_number("switch_error", switch_error, "0 or more", zero=True),
            reserve=_number("reserve", reserve, "0 or more", zero=True), **self._labels,
        )  # fmt: skip

    def separation(
        self,
        stop_time: Any,
        *,
        resolution: Any = 0.014,
        height: Any = 0.0,
        reach_through: Any = 0.85,
        executor: Executor | None = None,
        store: StorePath | None = None,
    ) -> xr.Dataset:
        """How far safeguards stand from the danger zone, by ISO 13855: S = K T + C. ``stop_time`` from the safeguard's
        answer to standstill, s; ``resolution`` of a light curtain across the way in; ``height`` of a field along it;
        ``reach_through``: how far one reaches through the opening of an interlocked guard (ISO 13857); m. Which
        case applies, and how the stop time is measured, is for the standard and those who know it.

        >>> apart = cell.separation("400 ms")
        >>> print(results.summary(apart).splitlines()[1])
          for a stop of 0.4 s
        """
        from armwright.studies.switches import separation

        if executor is not None or store is not None:
            return self._as_one_piece(
                "separation", How(executor, store), stop_time=stop_time, resolution=resolution, height=height,
                reach_through=reach_through,
            )  # fmt: skip
        time = seconds("stop_time", stop_time)
        fine = arguments.length("resolution", resolution)
        if fine > 0.07:
            raise InputError.of("resolution", f"{fine:g} m", "at most 70 mm: a coarser one does not see a person")
        high = arguments.length("height", height, zero=True)
        if high > 1.0:
            raise InputError.of("height", f"{high:g} m", "at most 1 m: one creeps in below a higher field")
        return separation(
            time, resolution=fine, height=high,
            reach_through=arguments.length("reach_through", reach_through, zero=True), **self._labels,
        )  # fmt: skip

    def _timed(self, cycle: Any) -> TimedMotion:
        """The timed motion of a cycle."""
        if isinstance(cycle, TimedMotion):
            return cycle
        raise InputError.of("cycle", type(cycle).__name__, "a TimedMotion")

    def _driven_labels(self, timed: TimedMotion, *also: Any) -> dict[str, Any]:
        state = hashlib.sha256(f"{self.digest()} {timed.digest()}".encode())
        for described in also:
            state.update(described.digest().encode())
        return self._labels | {"inputs_digest": state.hexdigest()}

    def _travels(self, key: str, values: ArrayLike) -> Floats:
        array = arguments.numbers(key, values)
        arguments.finite(key, array)
        shape = (self.joint_count, 2)
        if array.shape == shape[:1]:
            array = array[:, None]
        if (array.ndim and array.shape not in (shape, (shape[0], 1))) or (array < 0).any():
            raise InputError.of(key, repr(values), f"0 or more: one, ({shape[0]},) or {shape}")
        return np.broadcast_to(array, shape).copy()


def _step_of(step: Any, timed: TimedMotion) -> float:
    seconds = float(TIME.si_value("step", step))
    moves = (timed.qd[:-1] != 0).any(axis=1) | (timed.qd[1:] != 0).any(axis=1)  # what stands is not cut
    least = float(np.diff(timed.time)[moves].sum()) / _MOST_INSTANTS
    if not seconds > 0 or seconds < least:
        raise InputError.of("step", f"{seconds:g} s", f"at least {max(least, 1e-9):.3g} s")
    return seconds


def _number(key: str, value: Any, expected: str, *, zero: bool = False) -> float:
    number = arguments.numbers(key, value)
    if number.ndim or not np.isfinite(number) or number < 0 or (number == 0 and not zero):
        raise InputError.of(key, repr(value), expected)
    return float(number)
