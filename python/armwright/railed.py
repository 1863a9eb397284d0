"""What a track has to bear, as a method of a cell."""

from __future__ import annotations

from concurrent.futures import Executor
from typing import TYPE_CHECKING, Any

from armwright import arguments
from armwright.errors import InputError
from armwright.studies import run
from armwright.studies.piece_store import StorePath
from armwright.studies.pieces import How
from armwright.studies.track_feed import MotorShare
from armwright.sweeps import Studied
from armwright.wrenched import LoadRows, Wrenched

if TYPE_CHECKING:  # xarray brings pandas, a second of waiting, so that results are imported where they are made
    import xarray as xr

_WANTED_STATIC = 2.0  # common practice, no source: makers of guides ask for 2 to 3 where there are shocks


class Railed(Wrenched, Studied):
    """A machine on a track with blocks, rails and a feed."""

    def track_loads(
        self,
        cycle: Any = None,
        *,
        rows: LoadRows | None = None,
        reliability: Any = 0.9,
        wanted_static: Any = _WANTED_STATIC,
        executor: Executor | None = None,
        store: StorePath | None = None,
        threads: int | None = None,
        progress: run.Progress = None,
    ) -> xr.Dataset:
        """What the blocks on the rails, the rails between their supports and the feed of the track bear at rest, in a
        ``cycle`` (a Cycle or a TimedMotion) and in stops, or in ``rows`` as ``load_rows`` makes them.

        The carriage is rigid and rides on equal springs, radial and lateral, one of each at every block; any number of
        rails and blocks. A turn that those do not resist (of a carriage on one rail, or with one block on each) is
        borne by the blocks' own stiffness, evenly; without the moment ratings for it, safety and life are left out. A
        load that lifts off or pushes sideways counts by the shares told; preload and the moment of a feed beside the
        rails are counted. Static safety by ISO 14728-2 over all rows, against ``wanted_static``; life by ISO 14728-1
        over the duty's travel, at ``reliability`` (0.9 to 0.9995). Rails bend as beams under the blocks at their worst
        place, as simple, continuous and built-in spans. Feed: the forces of rack, belt or screw against what is told,
        and with a cycle what ``drive_check`` says of the track's motor and stages.
        Holding: the force along the track while it stands against motor and brake, and how far it is pushed in stops.

        Dataset over (block), (case, block), (rail, support), (feed_check), (held); in a cycle also ``radial``,
        ``lateral`` and ``feed_force`` over (time_point). Attributes ``missing``: what is left out, and why;
        ``warnings``: what is too much. Forces in N, in the guide's axes. Refused (InputError): a cell without a track.

        >>> track = cell.track_loads(rows=cell.load_rows(stops=False))
        >>> print(f"least static safety of a block {float(track.static_safety.min()):.1f}")
        least static safety of a block 23.8
        """
        from armwright.studies.load_rows import row_wrenches
        from armwright.studies.track_loads import track_loads

        share = arguments.reliability("reliability", reliability)
        wanted = arguments.safety("wanted_static", wanted_static)
        track = self._description.track
        if track is None:
            raise InputError.of("track", "none", "a cell with a track")
        if executor is not None or store is not None:
            return self._as_one_piece(
                "track_loads", How(executor, store, threads, progress), cycle=cycle, rows=rows, reliability=share,
                wanted_static=wanted,
            )  # fmt: skip
        found = self._loading(rows, cycle, threads=threads, progress=progress)
        wrench = row_wrenches(self._model, found).carriage
        assert wrench is not None  # there is a track
        return track_loads(
            self._model, track, found, wrench, motor=self._track_drive(cycle), reliability=share,
            wanted_static=wanted, **self._loaded_labels(found),
        )  # fmt: skip

    def _track_drive(self, cycle: Any) -> list[MotorShare]:
        """What the drive check of the cycle says of the track's motor and stages."""
        track = self._description.track
        if cycle is None or track is None or track.drive is None:
            return []
        checked = self.drive_check(cycle, factors=False)
        mine = checked.share_joint.values == 0
        return [
            MotorShare("drive, " + str(name).removeprefix("track: "), float(value), float(when))
            for name, value, when in zip(
                checked.check.values[mine], checked.share.values[mine], checked.share_time.values[mine], strict=True
            )
        ]
