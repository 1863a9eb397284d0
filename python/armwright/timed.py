"""A motion told row by row over time: what a timed cycle comes to, or what was recorded or computed elsewhere."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike, NDArray

from armwright import _core, arguments
from armwright.compile import inertia_of
from armwright.describe import Load
from armwright.errors import InputError

Floats = NDArray[np.float64]
_PLAIN = 0.05  # of the way made in a step: what positions may miss of what the speeds say


class TimedMotion:
    """Rows of time (s, never falling), joint positions ``q``, speeds ``qd`` and accelerations ``qdd`` (rows, n): rad,
    or m where a joint slides; the track first. Where the acceleration jumps, two rows stand at one time; between rows
    of different times it is taken as linear.

    ``loads``: what is carried now and then, in the tool frame; ``load``: for each row which of them, -1 for nothing
    (left out: the first all the time, if there is any). ``move``: for each row its place in ``move_names``.
    ``repeated``: the motion goes on and on, as a cycle does. Constant.

    >>> time, zero = [0.0, 1.0], np.zeros((2, 7))
    >>> aw.TimedMotion(time, [q, q], zero, zero, loads=cell.load)
    TimedMotion: 2 rows, 7 joints, 1 s
    """

    def __init__(
        self,
        time: ArrayLike,
        q: ArrayLike,
        qd: ArrayLike,
        qdd: ArrayLike,
        *,
        loads: Sequence[Load] | Load = (),
        load: ArrayLike | None = None,
        move: ArrayLike | None = None,
        move_names: Sequence[str] = (),
        repeated: bool = True,
    ):
        self.loads = (loads,) if isinstance(loads, Load) else tuple(loads)
        for i, each in enumerate(self.loads):
            if not isinstance(each, Load):
                raise InputError.of(f"loads[{i}]", repr(each), "a Load")
        self.time = _column("time", arguments.numbers("time", time))
        self.q = self._rows("q", arguments.numbers("q", q))
        self.qd = self._rows("qd", arguments.numbers("qd", qd))
        self.qdd = self._rows("qdd", arguments.numbers("qdd", qdd))
        default = 0 if self.loads else -1
        self.load = self._places("load", load, default, len(self.loads))
        self.move = self._places("move", move, 0, None)
        self.move_names = tuple(map(str, move_names))
        self.repeated = bool(repeated)
        self._check_time()
        for array in (self.time, self.q, self.qd, self.qdd, self.load, self.move):
            array.setflags(write=False)

    @classmethod
    def planned(
        cls, motion: _core.motion.TimedMotion, loads: Sequence[Load], move_names: Sequence[str], repeated: bool
    ) -> TimedMotion:
        """What the core has timed, with the loads that its rows name."""
        made = cls.__new__(cls)
        made.loads, made.move_names, made.repeated = tuple(loads), tuple(move_names), bool(repeated)
        made.time, made.q, made.qd, made.qdd = motion.time, motion.q, motion.speed, motion.acceleration
        made.load, made.move = motion.load, motion.move
        return made

    @property
    def duration(self) -> float:
        """From the first row to the last, s."""
        return float(self.time[-1] - self.time[0])

    def carrying(self, load: Load) -> TimedMotion:
        """The same motion with one load all the time."""
        other = TimedMotion.__new__(TimedMotion)
        other.__dict__.update(self.__dict__)
        other.loads, other.load = (load,), np.zeros(len(self.time), np.int32)
        return other

    def digest(self) -> str:
        """sha256, in hex, of all rows and loads."""
        state = hashlib.sha256()
        for array in (self.time, self.q, self.qd, self.qdd, self.load, self.move):
            state.update(str(array.shape).encode() + array.tobytes())
        for load in self.loads:
            state.update(load.digest().encode())
        state.update(repr((self.move_names, self.repeated)).encode())
        return state.hexdigest()

    def __repr__(self) -> str:
        return f"TimedMotion: {len(self.time)} rows, {self.q.shape[1]} joints, {self.duration:.6g} s"

    def core_motion(self, model: _core.model.Model) -> _core.motion.TimedMotion:
        """The same as the core takes it, for a model that it must fit."""
        if self.q.shape[1] != model.joint_count:
            names = ", ".join(model.joint_names)
            raise InputError.of("motion", f"{self.q.shape[1]} joints", f"{model.joint_count} joints: {names}")
        return _core.motion.make_timed_motion(self.time, self.q, self.qd, self.qdd, self.load, self.move)

    def core_loads(self, model: _core.model.Model) -> list[_core.model.Inertia]:
        """The loads in the last joint frame."""
        return [_core.model.load_in_last_joint(model, inertia_of(load)) for load in self.loads]

    def _rows(self, key: str, array: Floats) -> Floats:
        if array.ndim != 2 or len(array) != len(self.time) or array.shape[1] < 1:
            raise InputError.of(key, f"an array of shape {array.shape}", f"shape ({len(self.time)}, joints)")
        if key != "q" and array.shape != self.q.shape:
            raise InputError.of(key, f"an array of shape {array.shape}", f"the shape of q, {self.q.shape}")
        arguments.finite(key, array)
        return np.array(array, dtype=np.float64, order="C")

    def _places(self, key: str, values: ArrayLike | None, default: int, count: int | None) -> NDArray[np.int32]:
        if values is None:
            return np.full(len(self.time), default, np.int32)
        array = np.asarray(values)
        if array.dtype.kind not in "iu" or array.shape != self.time.shape:
            raise InputError.of(key, f"{array.dtype} of shape {array.shape}", f"{len(self.time)} whole numbers")
        most = np.iinfo(np.int32).max if count is None else count - 1
        least = 0 if count is None else -1
        if array.size and not (least <= array.min() and array.max() <= most):
            raise InputError.of(key, f"{array.min()} to {array.max()}", f"{least} to {most}")
        return np.array(array, np.int32)

    def _check_time(self) -> None:
        steps = np.diff(self.time)
        if np.any(steps < 0):
            at = int(np.argmax(steps < 0))
            raise InputError.of("time", f"{self.time[at + 1]:g} s after {self.time[at]:g} s", "times that never fall")
        if not self.duration > 0:
            raise InputError.of("time", f"{self.duration:g} s in all", "two rows at least, at different times")
        h = steps[:, None]
        a0, a1, v0, v1 = self.qdd[:-1], self.qdd[1:], self.qd[:-1], self.qd[1:]
        made = h * v0 + h * h * (2 * a0 + a1) / 6
        for key, missed, size in (
            ("q", np.diff(self.q, axis=0) - made, h * np.maximum(np.abs(v0), np.abs(v1)) + h * h * np.abs(a0)),
            ("qd", v1 - v0 - h * (a0 + a1) / 2, h * np.maximum(np.abs(a0), np.abs(a1)) + np.abs(v1 - v0)),
        ):
            wrong = np.abs(missed) > _PLAIN * size + 1e-6
            if wrong.any():
                row, joint = (int(i) for i in np.argwhere(wrong)[0])
                raise InputError.of(
                    f"{key}[{row + 1}, {joint}]",
                    f"{missed[row, joint]:.3g} off what the row before leads to",
                    "rows that belong together: speeds that make the way, accelerations that make the speeds",
                )


def _column(key: str, array: Floats) -> Floats:
    if array.ndim != 1 or array.size < 2:
        raise InputError.of(key, f"an array of shape {array.shape}", "one time a row, two rows at least")
    arguments.finite(key, array)
    return np.array(array, dtype=np.float64)
