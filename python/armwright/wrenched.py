"""What the parts of a cell have to bear, as its methods."""

from __future__ import annotations

import hashlib
from concurrent.futures import Executor
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import ArrayLike

from armwright import arguments
from armwright.answers import Floats
from armwright.describe import Cycle, Load, Track
from armwright.describe.wrong import shown
from armwright.driven import _step_of
from armwright.errors import InputError
from armwright.motions import InMotion
from armwright.stopping import Stopping, seconds
from armwright.studies import load_rows as rows_of
from armwright.studies import run
from armwright.studies.piece_store import StorePath
from armwright.studies.pieces import How
from armwright.timed import TimedMotion

if TYPE_CHECKING:  # xarray brings pandas, a second of waiting, so that results are imported where they are made
    import xarray as xr

LoadRows = rows_of.LoadRows
_STEP = 0.005  # s, between rows of a cycle
_INSTANTS = 24
_MOST_INSTANTS = 2000
_SQUARE = 0.1
_KEPT = 8  # rows made last, for the studies that ask for the same


class _Gathered:
    """Rows while they are put together."""

    def __init__(self) -> None:
        self.parts: list[rows_of.Part] = []
        self.loads: list[Load] = []
        self.missing: list[str] = []
        self.heaviest = rows_of.nothing

    def placed(self, load: Load | None) -> int:
        """The place of a load among all, added if it is new; -1: nothing carried."""
        if load is None or not float(load.mass) > 0:
            return rows_of.nothing
        if load not in self.loads:
            self.loads.append(load)
        return self.loads.index(load)

    @property
    def full_load(self) -> Load | None:
        return None if self.heaviest == rows_of.nothing else self.loads[self.heaviest]

    @property
    def words(self) -> str:
        return "without a load" if self.full_load is None else f'with "{self.full_load.name}"'


class Wrenched(InMotion, Stopping):
    """A machine whose parts are asked what they bear.

    Studies over rows of loading take ``rows``, as ``load_rows`` makes them, or a ``cycle``, whose rows they then have
    made: both, or rows of another arm, are refused (InputError). They name each extreme's case, posture and time."""

    def load_rows(
        self,
        cycle: Any = None,
        *,
        at_rest: bool = True,
        stops: bool = True,
        over_reach: Any = None,
        load: Load | None = None,
        deceleration: ArrayLike | None = None,
        hold_after: Any = 0.0,
        instants: int = _INSTANTS,
        step: Any = _STEP,
        threads: int | None = None,
        progress: run.Progress = None,
    ) -> LoadRows:
        """All the postures and motions in which the studies of bearings, links, base and track look at what is borne.

        ``at_rest``, ``stops``: whether these are among them. At rest: each served work point in its best posture with
        its own load; for every axis the posture in which it has most to hold, over the whole range of all joints; and
        the arm stretched out. Both with ``load``: by default the heaviest of the cell's, its work points' and the
        cycle's. ``over_reach``: also every posture that brings the tool to positions so far apart (m) over the upright
        half-plane of axis 1, in each of 24 attitudes. Of a ``cycle`` (a Cycle or a TimedMotion) the rows at most
        ``step`` s apart. Stops, at every step of their integration and on both sides of every event: of categories 0
        and 1 from the postures and at the speeds and shares of the load of ``stop_table`` (``deceleration`` and
        ``hold_after`` as there); with a cycle also of category 0 from ``instants`` spread evenly over it and from every
        local extreme of a joint's speed. What was not looked at stands in ``missing``, in words.

        LoadRows: ``q``, ``qd``, ``qdd`` (rows, n) in rad and m, with their rates; ``load`` (rows,), a place in
        ``loads`` or -1; ``time`` s within the case, NaN at rest; ``duty`` s of the lasting duty that a row stands for,
        0 where it counts for peaks alone; ``case`` (rows,), a place in ``case_names`` and ``case_kinds``.

        >>> cell.load_rows(stops=False)
        LoadRows: 9 rows in 9 cases; not looked at: 1
        """
        if load is not None and not isinstance(load, Load):
            raise InputError.of("load", repr(load), "a Load, or None for the heaviest")
        timed = None if cycle is None else self._timed(cycle)
        called = "cycle" + (f' "{cycle.name}"' if isinstance(cycle, Cycle) else "")
        slowed, held = self._each_axis("deceleration", deceleration), seconds("hold_after", hold_after, zero=True)
        options = {"deceleration": slowed, "reaction": 0.0, "hold_after": held}
        count = run.whole("instants", instants, 1, _MOST_INSTANTS)
        _yes_or_no(at_rest=at_rest, stops=stops)
        run.threads_of(threads)
        spacing = None if over_reach is None else float(arguments.length("over_reach", over_reach))
        apart = seconds("step", step) if timed is None else _step_of(step, timed)
        asked = (
            timed and timed.digest(), called, bool(at_rest), bool(stops), load and load.digest(), apart,
            None if slowed is None else slowed.tolist(), held, count, spacing,
        )  # fmt: skip
        known: dict[Any, LoadRows] = self.__dict__.setdefault("_load_rows", {})
        key = hashlib.sha256(repr(asked).encode()).hexdigest()
        if key not in known:
            if len(known) >= _KEPT:
                known.clear()
            gathered = self._gathered(timed, load)
            if at_rest:
                self._at_rest(gathered, threads, progress)
            if spacing is not None:
                self._over_reach(gathered, spacing)
            self._in_motion(gathered, timed, called, apart)
            if stops:
                self._in_stops(gathered, called, options, count, threads, progress)
            known[key] = rows_of.together(gathered.parts, gathered.loads, gathered.missing, self.joint_count)
        return known[key]

    def joint_wrenches(
        self,
        cycle: Any = None,
        *,
        rows: LoadRows | None = None,
        executor: Executor | None = None,
        store: StorePath | None = None,
        threads: int | None = None,
        progress: run.Progress = None,
    ) -> xr.Dataset:
        """What every joint, the mount and (on a track) the carriage bear at most and at least: force along the part's
        axis and across it, moment that tilts it and moment about it, each with case, posture and time.

        Over ``rows`` of loading, or those of ``load_rows(cycle)``: at rest, through the cycle and in stops. Moments are
        about the origin of the joint's frame, the mount or the carriage, N and N m, as ``joint_wrench``,
        ``mount_wrench`` and ``carriage_wrench`` tell them. Impacts at the ends of ranges are in no row.
        Dataset over (part, quantity, end): ``extreme``, its case, time, posture, whole force and moment; over
        (row_point, part): all four quantities; ``missing``: what was not looked at.

        >>> wrenches = cell.joint_wrenches(rows=cell.load_rows(stops=False))
        >>> print(f"{float(wrenches.tilting_moment.sel(part='axis 2').max()):.0f} N m tilt axis 2 at most")
        24 N m tilt axis 2 at most
        """
        from armwright.studies.joint_wrenches import joint_wrenches

        if executor is not None or store is not None:
            how = How(executor, store, threads, progress)
            return self._as_one_piece("joint_wrenches", how, cycle=cycle, rows=rows)
        given = self._loading(rows, cycle, threads=threads, progress=progress)
        described = self._description
        return joint_wrenches(
            self._model, given, joint_axes=np.array([joint.axis for joint in described.arm.joints]),
            up=None if described.track is None else _up_of(described.track),
            **self._loaded_labels(given),
        )  # fmt: skip

    def _loaded_labels(self, rows: LoadRows) -> dict[str, Any]:
        """What results over rows of loading say of the cell, and a digest of cell and rows."""
        told = self._labels
        told["inputs_digest"] = hashlib.sha256(f"{self.digest()} {rows.digest()}".encode()).hexdigest()
        return told

    def _gathered(self, timed: TimedMotion | None, load: Load | None) -> _Gathered:
        heaviest = self._heaviest(timed, load)
        gathered = _Gathered()
        gathered.heaviest = gathered.placed(heaviest)
        if gathered.heaviest == rows_of.nothing:
            gathered.missing.append("no load is told of the cell, its work points or the cycle: nothing is carried")
        return gathered

    def _at_rest(self, gathered: _Gathered, threads: int | None, progress: run.Progress) -> None:
        described, model = self._description, self._model
        if described.targets:
            found = self.check_targets(threads=threads, progress=progress)
            for i, target in enumerate(described.targets):
                if not found.served.values[i]:
                    gathered.missing.append(f'work point "{target.name}" is not served: {found.reason.values[i]}')
                    continue
                own = gathered.placed(target.load or described.load)
                gathered.parts.append(rows_of.rest_part(f'at "{target.name}", at rest', found.q.values[i], own))
        else:
            gathered.missing.append("no work points are told")
        with run.reported(progress, "worst holding torques") as report:
            carried = rows_of.carried_by(model, gathered.full_load)
            place, words = gathered.heaviest, gathered.words
            gathered.parts += rows_of.worst_holding_parts(model, carried, place, words, threads, report)

    def _over_reach(self, gathered: _Gathered, spacing: float) -> None:
        from armwright.studies.reach_rows import reach_part

        part, missing = reach_part(self._subject, spacing, gathered.heaviest, gathered.words)
        if part is None:
            gathered.missing.append(missing)
        else:
            gathered.parts.append(part)

    def _in_motion(self, gathered: _Gathered, timed: TimedMotion | None, called: str, step: float) -> None:
        if timed is None:
            gathered.missing.append("no cycle is given: nothing moves but in stops, and nothing lasts")
            return
        model, places = self._model, [gathered.placed(each) for each in timed.loads]
        core = timed.core_motion(model)
        gathered.parts += rows_of.cycle_parts(model, core, timed.loads, called, timed.move_names, step, places)

    def _in_stops(
        self, gathered: _Gathered, called: str, options: dict[str, Any], instants: int, threads: int | None,
        progress: run.Progress,
    ) -> None:  # fmt: skip
        from armwright.studies.stop_rows import cycle_stop_parts, table_parts

        model = self._model
        if not model.has_drives:
            gathered.missing.append("no drives are described: no stops")
            return
        moving = [part for part in gathered.parts if part.kind == "cycle"]
        found = [table_parts(model, gathered.loads, gathered.heaviest, options, threads, progress)]
        if moving:
            found.append(cycle_stop_parts(model, moving, gathered.loads, called, instants, options, threads, progress))
        for each in found:
            gathered.parts += each.parts
            gathered.loads += each.loads
            gathered.missing += each.missing

    def _heaviest(self, timed: TimedMotion | None, load: Load | None) -> Load | None:
        """The load that counts at rest and in stops: the one that is told, else the heaviest that anything carries."""
        if load is not None:
            return load
        described = self._description
        carried: list[Load | None] = [described.load, *(target.load for target in described.targets)]
        if timed is not None:
            carried += [each for i, each in enumerate(timed.loads) if np.any(timed.load == i)]
        return max((each for each in carried if each is not None), key=lambda each: float(each.mass), default=None)

    def _loading(self, rows: LoadRows | None, cycle: Any, **options: Any) -> LoadRows:
        """The rows given, checked; or those of the cell with the cycle. For every study that takes either."""
        mistaken = (("cycle", cycle, LoadRows, "rows"), ("rows", rows, (Cycle, TimedMotion), "cycle"))
        for key, value, kinds, other in mistaken:
            if isinstance(value, kinds):
                raise InputError.of(key, type(value).__name__, f"what is told by {key}", f"{other}=")
        if rows is None:
            return self.load_rows(cycle, **options)
        if cycle is not None:
            raise InputError.of("rows", "given beside a cycle", "either rows or a cycle: load_rows(cycle) makes rows")
        checked = rows_of.check_rows(rows, self._model)
        for i, load in enumerate(checked.loads):
            if not isinstance(load, Load):
                raise InputError.of(f"rows.loads[{i}]", shown(load), "a Load")
        return checked


def _yes_or_no(**asked: Any) -> None:
    for key, value in asked.items():
        if not isinstance(value, bool | np.bool_):
            raise InputError.of(key, shown(value), "True or False")


def _up_of(track: Track) -> Floats:
    """Away from the rails, in the track's axes: as the guide has it; without one, the track's z, or its x where the
    carriage slides along z, made square to the slide."""
    if track.guide is not None:
        return track.guide_axes[:, 2]
    for told in np.eye(3)[[2, 0]]:
        square = told - np.dot(told, track.axis) * track.axis
        if np.linalg.norm(square) > _SQUARE:
            break
    return np.asarray(square / np.linalg.norm(square))
