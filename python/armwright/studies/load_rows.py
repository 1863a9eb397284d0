"""Rows of loading: every posture and motion in which parts are asked what they bear."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from armwright import _core
from armwright.compile import inertia_of
from armwright.errors import InputError
from armwright.studies import run

Ints = NDArray[np.int32]
KINDS = ("rest", "cycle", "stop")
nothing = -1  # carried
_ARRAYS = ("q", "qd", "qdd", "load", "time", "duty", "case")
_OF_JOINTS = ("q", "qd", "qdd")
_LARGEST = 1e9  # rad, m, s and their like: squares and sums of it stay finite


class LoadRows(NamedTuple):
    """Rows of joint motion, SI, with what is carried, and the case that each belongs to.

    ``q``, ``qd``, ``qdd`` (rows, n): rad, or m where a joint slides, the track first. ``load`` (rows,): place in
    ``loads`` (in the tool frame), -1 for nothing. ``time`` (rows,) s within its case, NaN at rest. ``duty`` (rows,) s
    of the lasting duty that a row stands for; 0: it counts for peaks only. ``case`` (rows,): place in ``case_names``
    and ``case_kinds`` ("rest", "cycle", "stop"). ``missing``: in words, what was not looked at, and why.

    >>> rows = cell.load_rows(stops=False)
    >>> rows
    LoadRows: 9 rows in 9 cases; not looked at: 1
    >>> rows.case_names[0]
    'at "left shelf 2", at rest'
    """

    q: run.Floats  # (rows, n), rad, m where a joint slides
    qd: run.Floats
    qdd: run.Floats
    load: Ints  # (rows,) place in loads, -1: nothing carried
    loads: tuple[Any, ...]  # Load, in the tool frame
    time: run.Floats  # (rows,) s within its case; NaN at rest
    duty: run.Floats  # (rows,) s of the lasting duty that the row stands for; 0: counts for peaks only
    case: Ints  # (rows,) place in case_names
    case_names: tuple[str, ...]
    case_kinds: tuple[str, ...]  # one of KINDS, one a case
    missing: tuple[str, ...]  # in words: what was not looked at, and why

    def __repr__(self) -> str:
        return f"LoadRows: {len(self.q)} rows in {len(self.case_names)} cases; not looked at: {len(self.missing)}"

    def digest(self) -> str:
        """sha256, in hex, of everything in it."""
        state = hashlib.sha256()
        for name in _ARRAYS:
            array = getattr(self, name)
            state.update(str(array.shape).encode() + array.tobytes())
        for load in self.loads:
            state.update(load.digest().encode())
        state.update(repr((self.case_names, self.case_kinds, self.missing)).encode())
        return state.hexdigest()

    def names_of(self, at: Any) -> NDArray[np.str_]:
        """What the cases of those rows are called, in the shape of ``at``."""
        names: NDArray[np.str_] = np.array(self.case_names, dtype=np.str_)[self.case[at]]
        return names

    def kind_of(self) -> NDArray[np.str_]:
        """The kind of every row's case, (rows,)."""
        return np.array(self.case_kinds, np.str_)[self.case] if self.case_kinds else np.zeros(0, np.str_)

    def only(self, *kinds: str) -> LoadRows:
        """The rows of cases of some kinds ("rest", "cycle", "stop"), in their order; loads and ``missing`` as they
        are. InputError for another word; there may be no row."""
        for kind in kinds:
            if kind not in KINDS:
                raise InputError.of("kinds", repr(kind), f"some of {', '.join(KINDS)}")
        cases = [i for i, kind in enumerate(self.case_kinds) if kind in kinds]
        places = np.full(len(self.case_kinds) + 1, -1, np.int32)
        places[cases] = np.arange(len(cases))
        mine = places[self.case] >= 0
        kept: dict[str, Any] = {name: np.ascontiguousarray(getattr(self, name)[mine]) for name in _ARRAYS}
        return self._replace(
            **kept | {"case": places[kept["case"]]}, case_names=tuple(self.case_names[i] for i in cases),
            case_kinds=tuple(self.case_kinds[i] for i in cases),
        )  # fmt: skip


class Part(NamedTuple):
    """Rows of one case, before they are put together."""

    name: str
    kind: str
    q: run.Floats
    qd: run.Floats
    qdd: run.Floats
    load: Any  # a place in the loads, or one a row
    time: run.Floats | None = None
    duty: run.Floats | None = None


class RowWrenches(NamedTuple):
    """What is borne in every row: see Cell.joint_wrench, mount_wrench, carriage_wrench."""

    joint: run.Floats  # (rows, n, 6)
    mount: run.Floats  # (rows, 6)
    carriage: run.Floats | None  # (rows, 6); None without a track


def together(parts: Sequence[Part], loads: Sequence[Any], missing: Iterable[str], joints: int) -> LoadRows:
    """All parts in their order, each of them a case."""
    sizes = [len(part.q) for part in parts]

    def joined(values: Sequence[Any], width: int | None = None) -> Any:
        empty = np.zeros((0,) if width is None else (0, width))
        return np.ascontiguousarray(np.concatenate([empty, *values]))

    def filled(values: run.Floats | None, size: int, default: float) -> run.Floats:
        return np.full(size, default) if values is None else values

    return LoadRows(
        joined([part.q for part in parts], joints),
        joined([part.qd for part in parts], joints),
        joined([part.qdd for part in parts], joints),
        joined([np.broadcast_to(part.load, size) for part, size in zip(parts, sizes, strict=True)]).astype(np.int32),
        tuple(loads),
        joined([filled(part.time, size, np.nan) for part, size in zip(parts, sizes, strict=True)]),
        joined([filled(part.duty, size, 0.0) for part, size in zip(parts, sizes, strict=True)]),
        np.repeat(np.arange(len(parts), dtype=np.int32), sizes),
        tuple(part.name for part in parts),
        tuple(part.kind for part in parts),
        tuple(missing),
    )


def check_rows(rows: Any, model: _core.model.Model) -> LoadRows:
    """Rows that a person gives, checked against the model that they are for."""
    if not isinstance(rows, LoadRows):
        raise InputError.of("rows", type(rows).__name__, "LoadRows, as load_rows makes them")
    n = model.joint_count
    given = {name: _numbers_of(rows, name) for name in _ARRAYS}
    count = len(given["q"]) if given["q"].ndim else 0
    if not count:
        raise InputError.of("rows", "none", "at least one row of loading")
    for name, array in given.items():
        shape = (count, n) if name in _OF_JOINTS else (count,)
        if array.shape != shape:
            raise InputError.of(f"rows.{name}", f"an array of shape {array.shape}", f"shape {shape}")
        if name in _OF_JOINTS and not (np.abs(array) <= _LARGEST).all():
            raise InputError.of(f"rows.{name}", _first(array, np.abs(array) <= _LARGEST), f"up to {_LARGEST:g} in size")
    for name, top in (("duty", _LARGEST), ("time", _LARGEST)):
        array = given[name]
        sound = (array >= 0) & (array <= top) | (np.isnan(array) if name == "time" else False)
        if not sound.all():
            raise InputError.of(f"rows.{name}", _first(array, sound), f"0 s to {top:g} s")
    names, kinds, loads = (_listed(rows, name) for name in ("case_names", "case_kinds", "loads"))
    for name, least, most in (("load", nothing, len(loads)), ("case", 0, len(names))):
        array = given[name]
        if array.dtype.kind not in "iu" or array.min() < least or array.max() >= most:
            raise InputError.of(
                f"rows.{name}", f"{array.min()} to {array.max()}", f"whole numbers, {least} to {most - 1}"
            )
    if len(kinds) != len(names) or not set(map(str, kinds)) <= set(KINDS):
        raise InputError.of("rows.case_kinds", repr(kinds), f"one of {', '.join(KINDS)} a case")
    for name, values in (("case_names", names), ("missing", _listed(rows, "missing"))):
        if not all(isinstance(value, str) for value in values):
            raise InputError.of(f"rows.{name}", repr(values), "words")
    q, qd, qdd, time, duty = (np.ascontiguousarray(given[name], np.float64) for name in (*_OF_JOINTS, "time", "duty"))
    load, case = (np.ascontiguousarray(given[name], np.int32) for name in ("load", "case"))
    return LoadRows(q, qd, qdd, load, loads, time, duty, case, names, kinds, _listed(rows, "missing"))


def _numbers_of(rows: LoadRows, name: str) -> NDArray[Any]:
    """An array of the rows, of whatever shape."""
    try:
        array = np.asarray(getattr(rows, name))
    except (TypeError, ValueError):
        array = np.array(None)
    if array.dtype.kind not in "fiu":
        raise InputError.of(f"rows.{name}", type(getattr(rows, name)).__name__, "an array of numbers")
    return array


def _first(array: NDArray[Any], sound: NDArray[np.bool_]) -> str:
    at = tuple(int(i) for i in np.argwhere(~sound)[0])
    return f"{array[at]:g} in row {at[0] + 1}"


def _listed(rows: LoadRows, name: str) -> tuple[Any, ...]:
    values = getattr(rows, name)
    if not isinstance(values, list | tuple):
        raise InputError.of(f"rows.{name}", repr(values), "a tuple")
    return tuple(values)


def row_wrenches(model: _core.model.Model, rows: LoadRows) -> RowWrenches:
    """Of every row with what it carries: joints, mount, and carriage where there is a track."""
    count, n = rows.q.shape
    joint, mount = np.empty((count, n, 6)), np.empty((count, 6))
    for place in np.unique(rows.load):
        mine = rows.load == place
        carried = carried_by(model, None if place == nothing else rows.loads[int(place)])
        given = [np.ascontiguousarray(array[mine]) for array in (rows.q, rows.qd, rows.qdd)]
        joint[mine] = _core.dynamics.joint_wrenches(model, carried, *given)
        mount[mine] = _core.dynamics.mount_wrenches(model, carried, *given)
    return RowWrenches(joint, mount, -joint[:, 0] if model.has_track else None)


def carried_by(model: _core.model.Model, load: Any) -> _core.model.Inertia:
    """A load in the last joint frame; None: nothing."""
    if load is None:
        return _core.model.Inertia()
    return _core.model.load_in_last_joint(model, inertia_of(load))


def share_of_load(load: Any, share: float) -> Any:
    """The same load, lighter, of the same shape."""
    if share == 1:
        return load
    return replace(load, mass=float(load.mass) * share, inertia=np.asarray(load.inertia) * share)


def rest_part(name: str, q: Any, load: int) -> Part:
    """One posture at rest."""
    row = np.array(q, dtype=np.float64).reshape(1, -1)
    return Part(name, "rest", row, np.zeros_like(row), np.zeros_like(row), load)


def worst_holding_parts(
    model: _core.model.Model, carried: _core.model.Inertia, load: int, words: str, threads: int | None,
    report: run.Report | None,
) -> list[Part]:  # fmt: skip
    """For every axis the posture in which it has most to hold, over all ranges; and the arm stretched out."""
    n = model.joint_count
    complete, worst = _core.stops.worst_holding(
        model, carried, list(range(n)), _GAP, _MOST_BOXES, run.threads_of(threads), report
    )
    run.finished(complete)
    parts = [
        rest_part(f"most for {name} to hold, {words}, at rest", found.q[:n], load)
        for name, found in zip(model.joint_names, worst, strict=True)
        if found.found > _NOTHING
    ]
    centre = carried.centre if carried.mass > 0 else model.tool[:3, 3]
    ((stretched, _),) = _core.stops.stop_postures(model, centre, [1.0])
    return [*parts, rest_part(f"stretched out, {words}, at rest", stretched, load)]


_GAP = 0.005  # of the bound on what is held; the posture is found long before it is proven
_MOST_BOXES = 20_000
_NOTHING = 1e-9  # N m


def cycle_parts(
    model: _core.model.Model, motion: _core.motion.TimedMotion, loads: Sequence[Any], words: str,
    move_names: Sequence[str], step: float, places: Sequence[int],
) -> list[Part]:  # fmt: skip
    """The rows of a timed motion at most ``step`` s apart, a case a move. Two rows stand at one time where the
    acceleration or the load jumps. ``places``: of the motion's loads among all."""
    driven = _core.limits.driven_motion(model, [carried_by(model, load) for load in loads], motion, step)
    time, move, load = driven.time, driven.move, driven.load
    q, qd, qdd = (driven.of_joints(name) for name in ("q", "speed", "acceleration"))
    steps = np.diff(time)
    duty = 0.5 * (np.r_[0.0, steps] + np.r_[steps, 0.0])
    parts = []
    for place in np.unique(move):
        mine = move == place
        name = move_names[int(place)] if int(place) < len(move_names) else f"move {int(place) + 1}"
        carried = np.array([*places, nothing], np.int32)[load[mine]]
        parts.append(
            Part(f"{words}, {name}", "cycle", q[mine], qd[mine], qdd[mine], carried, time[mine] - time[0], duty[mine])
        )
    return parts
