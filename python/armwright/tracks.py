"""Where the track has to be, as methods of a cell."""

from __future__ import annotations

from collections.abc import Iterable
from concurrent.futures import Executor
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from armwright import arguments
from armwright.answers import LimitName
from armwright.describe import Cycle, Target
from armwright.describe.track import take_stroke
from armwright.errors import InputError
from armwright.studies import run
from armwright.studies.piece_store import StorePath
from armwright.studies.pieces import How
from armwright.sweeps import Studied

if TYPE_CHECKING:  # xarray brings pandas, a second of waiting, so that results are imported where they are made
    import xarray as xr

    from armwright.designs.prices import TrackPrices


class OnTrack(Studied):
    """A machine whose base can slide."""

    def track_intervals(
        self,
        targets: Iterable[Target] | Target | None = None,
        *,
        stroke: Any = None,
        margin: Any = 0.0,
        limit: LimitName = "continuous",
        centre: Any = None,
        executor: Executor | None = None,
        store: StorePath | None = None,
        threads: int | None = None,
        progress: run.Progress = None,
    ) -> xr.Dataset:
        """From where on the track each work point is served: all positions, as intervals whose ends are found, not
        sampled, to 0.01 mm. From them, exactly: the shortest stroke for each number of points, the fewest positions to
        park at, and the points that no stroke serves.

        ``targets``: the cell's by default. A position serves in some attitude of the point's freedom, within the joint
        limits, clear of everything by ``margin`` (or the fixture's own clearance, if that is more), holding the load
        wanted there, as for ``check_targets``; the point's position tolerance is not used. ``stroke``: how much of the
        track is looked at, a length or (lower, upper), m; by default the track's own. A longer one than is built asks
        what would be gained; the rails' shapes stay as they are.

        Dataset over (target, interval): ``lower``, ``upper`` m, ``q`` in the middle; over (target): ``served``,
        ``parking_of``; over (served_count): ``stroke_length``, ``stroke_lower``; over (parking):
        ``parking_position``. What a search may miss stands in docs/methods.md.

        >>> served = cell.track_intervals()
        >>> [str(name) for name, good in zip(served.target.values, served.served.values) if good]
        ['left shelf 2', 'kiln, middle', 'over the tub']
        """
        from armwright.studies.track_intervals import track_intervals

        if stroke is not None:
            return self._with_stroke(stroke).track_intervals(
                targets, margin=margin, limit=limit, centre=centre, executor=executor, store=store, threads=threads,
                progress=progress,
            )  # fmt: skip
        return track_intervals(
            self._subject,
            self._chosen(targets),
            centre=None if centre is None else arguments.position("centre", centre),
            margin=arguments.length("margin", margin, zero=True),
            limit=limit,
            how=How(executor, store, threads, progress),
            **self._labels,
        )

    def track_worth(
        self,
        strokes: Any = None,
        *,
        cycle: Cycle | None = None,
        prices: TrackPrices | None = None,
        within: Any = None,
        fixed_base: Any = None,
        spacing: Any = None,
        margin: Any = 0.0,
        limit: LimitName = "continuous",
        executor: Executor | None = None,
        store: StorePath | None = None,
        threads: int | None = None,
        progress: run.Progress = None,
    ) -> xr.Dataset:
        """Whether a track is worth its money: the arm on a fixed foot at its best place on the track's line, and each
        stroke of ``strokes`` (m, or with a unit) where it serves most work points, side by side.

        ``strokes``: by default those at which one more point is served, and the whole track. ``within``: how much of
        the line is looked at, a length or (lower, upper), m; by default the track's own stroke. ``fixed_base``: where
        the arm stands without a track, a pose of its base or a position (m, world); by default the best place on the
        line. ``cycle``: its duration with each stroke, the track moving as the cycle says; without one, places of the
        track that it tells are left out. ``prices``: what the track costs. ``spacing`` (m): the reachable and dexterous
        volume too, on a grid so fine; that takes longest.

        Points served are counted exactly, from ``track_intervals``; of the fixed foot, which has no carriage under it,
        by ``check_targets``. Margins are those of ``check_targets``. Loads on rails or foot are the greatest at the
        work points at rest and over the cycle.

        Dataset over (stroke), 0 first: ``stroke_lower``, ``served_count``, ``limit_margin``, ``clearance``,
        ``payload_spare``, ``cycle_time``, ``force``, ``moment``, ``cost`` ...; attributes ``enough_stroke``,
        ``last_gain_stroke``, ``knee_stroke``.

        >>> worth = cell.track_worth((0.5, 2.1), prices=aw.TrackPrices(per_metre=800, currency="EUR"))
        >>> [int(count) for count in worth.served_count.values]
        [2, 3, 3]
        """
        from armwright.designs.track_worth import track_worth

        return track_worth(
            self, strokes, cycle, prices, within, fixed_base, spacing, margin, limit,  # type: ignore[arg-type]
            How(executor, store, threads, progress),
        )

    def _with_stroke(self, stroke: Any) -> OnTrack:
        """The same cell, its track longer or shorter."""
        track = self._description.track
        if track is None:
            raise InputError.of("track", "none", "a cell with a track")
        told = replace(track, stroke=take_stroke("stroke", stroke))
        return type(self).from_description(replace(self._description, track=told))  # type: ignore[attr-defined, no-any-return]
