"""Cycles in a cell, as its methods."""

from __future__ import annotations

import hashlib
from concurrent.futures import Executor
from typing import TYPE_CHECKING, Any

from armwright import _core, arguments
from armwright.describe import Cycle
from armwright.driven import Driven
from armwright.errors import InputError
from armwright.studies.piece_store import StorePath
from armwright.studies.pieces import How
from armwright.timed import TimedMotion

if TYPE_CHECKING:  # xarray brings pandas, a second of waiting, so that results are imported where they are made
    import xarray as xr

    from armwright.cycles import ResolvedCycle


_FINEST = 1e-5  # m; finer would take for ever, and no cell is known so well


class InMotion(Driven):
    """A machine among solids that goes through cycles of moves."""

    def resolve(self, cycle: Cycle) -> ResolvedCycle:
        """The cycle as the core takes it: names turned to poses, poses to the postures with the least joint travel time
        that are clear of everything at the stops.

        >>> cell.resolve(cycle).names[:3]
        ('under the board', 'grips', 'out of the rack')
        """
        from armwright.cycles import resolve

        return resolve(self, cycle)  # type: ignore[arg-type]

    def motion(
        self,
        cycle: Cycle,
        *,
        clearance: bool = True,
        clearance_tolerance: Any = 1e-3,
        executor: Executor | None = None,
        store: StorePath | None = None,
    ) -> xr.Dataset:
        """The cycle, timed within every limit: of joints, tool, motors and stages.

        Postures at work points are chosen so that the joints travel least in time, clear of everything at the stops.
        Dataset over (time_point): ``time`` s, ``q``, ``speed``, ``acceleration`` (.., joint), ``tool_position``,
        ``tool_speed``, ``move_index``, ``load_index``, and ``limit`` with ``limit_axis``, what holds the motion back
        there; where the acceleration jumps two rows stand at one time. Over (move): ``move_start``, ``move_end``, and
        with ``clearance`` the least distance to anything that was found, ``move_clearance``, and
        ``move_clearance_proven``, below which it falls nowhere on the way, at most ``clearance_tolerance`` less (a
        length, m where it is a number). A cycle that a limit forbids is refused with the move, the axis, the limit and
        by how much.

        >>> motion = cell.motion(cycle)
        >>> print(f"{motion.attrs['duration']:.1f} s, {float(motion.move_clearance.min()):.3f} m from everything")
        13.7 s, 0.042 m from everything
        """
        from armwright.studies.motion import motion

        if executor is not None or store is not None:
            return self._as_one_piece(
                "motion", How(executor, store), cycle=cycle, clearance=clearance,
                clearance_tolerance=clearance_tolerance,
            )  # fmt: skip
        found = self.resolve(cycle)
        tolerance = arguments.length("clearance_tolerance", clearance_tolerance)
        if tolerance < _FINEST:
            raise InputError.of("clearance_tolerance", f"{tolerance:g} m", "0.01 mm or more")
        scenes = [self._subject.solids_carrying(load) for load in (*found.loads, None)] if clearance else None
        return motion(
            self._planned(cycle),
            found.model,
            scenes,
            tolerance,
            move_names=found.names,
            load_names=[load.name for load in found.loads],
            tilts=found.tilts,
            **self._cycle_labels(cycle),
        )

    def timed(self, cycle: Cycle) -> TimedMotion:
        """The cycle as plain rows over time, as every study of drives takes it.

        >>> cell.timed(cycle)
        TimedMotion: 1126 rows, 7 joints, 13.7418 s
        """
        return self._timed(cycle)

    def _timed(self, cycle: Any) -> TimedMotion:
        if isinstance(cycle, TimedMotion):
            return cycle
        if not isinstance(cycle, Cycle):
            raise InputError.of("cycle", type(cycle).__name__, "a Cycle, as load_cycle reads one, or a TimedMotion")
        found = self.resolve(cycle)
        timed = TimedMotion.planned(self._planned(cycle).motion, found.loads, found.names, cycle.repeats)
        if not timed.duration > 0:
            raise InputError.of("cycle", "moves that take 0 s in all", "a move or a dwell that takes time")
        return timed

    def _planned(self, cycle: Cycle) -> _core.motion.CyclePlan:
        from armwright.studies.motion import plan

        found = self.resolve(cycle)
        known = self.__dict__.setdefault("_planned_cycles", {})
        if cycle not in known:
            if len(known) > 16:
                known.clear()
            known[cycle] = plan(found.model, found.inverse, found.spec, found.source)
        planned: _core.motion.CyclePlan = known[cycle]
        return planned

    def _cycle_labels(self, cycle: Cycle) -> dict[str, Any]:
        """What results of a cycle say of it: its name, and a digest of cell and cycle."""
        told = self._labels
        told["labels"] = {**told["labels"], "cycle_name": cycle.name}
        known = told["labels"].get("assumptions", "")
        lines = [known, cycle.jerk_left_out, *self.resolve(cycle).assumptions]
        if any(lines):
            told["labels"]["assumptions"] = "\n".join(line for line in lines if line)
        told["inputs_digest"] = hashlib.sha256((self.digest() + cycle.digest()).encode()).hexdigest()
        return told
