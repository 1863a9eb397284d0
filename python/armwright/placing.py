"""Where the base or the track should stand, as methods of a cell."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from concurrent.futures import Executor
from typing import TYPE_CHECKING, Any

import numpy as np

from armwright.answers import LimitName
from armwright.describe import Target
from armwright.designs.answer import Answer
from armwright.designs.placement.place import ATTITUDES, NUMBERS, stand_pose
from armwright.errors import InputError
from armwright.studies import run
from armwright.studies.piece_store import StorePath
from armwright.sweeps import Studied

if TYPE_CHECKING:  # xarray brings pandas, a second of waiting, so that results are imported where they are made
    import xarray as xr

    from armwright.cell import Cell


class Placeable(Studied):
    """A machine whose stand may be chosen."""

    def placement(
        self,
        *,
        x: Any = None,
        y: Any = None,
        z: Any = None,
        yaw: Any = None,
        turn: Any = None,
        track: Any = None,
        attitudes: Any = None,
        aims: str | Answer | Sequence[str | Answer] = "limit_margin",
        targets: Iterable[Target] | Target | None = None,
        margin: Any = 0.0,
        limit: LimitName = "continuous",
        centre: Any = None,
        forbidden: Any = None,
        going_along: str | Iterable[str] = (),
        samples: int = 4000,
        spacing: Any = None,
        seed: int = 0,
        executor: Executor | None = None,
        store: StorePath | None = None,
        threads: int | None = None,
        progress: run.Progress = None,
    ) -> xr.Dataset:
        """Where the stand serves most work points, and then with the greatest worst margin.

        The stand is the base (``mount``); of a cell with a track, the track (``track.pose``); with ``track`` told, the
        arm parked on it. ``x``, ``y``, ``z`` (m, of the stand's origin), ``yaw`` (rad, about the vertical; on a wall
        the way that it faces) and ``turn`` (on a wall, about its own axis): each a value, or (lower, upper), or as it
        is now; "any" for all directions. ``track``: a position or (lower, upper) to park at. ``attitudes``: some of
        "floor", "wall", "ceiling"; by default as it stands.

        ``aims``: "limit_margin", "clearance" (beyond what is to be kept, m), "payload" (beyond what is wanted, kg), or
        Answers of the whole cell, as ``aw.ask.cycle_time(cycle)``. A place is judged by how many points it serves (as
        ``check_targets`` does, with ``targets``, ``margin``, ``limit`` and ``centre``); then by the worst over the
        points served. Of several aims the places that no other beats in all of them. ``forbidden``: zones in plan,
        {name: two corners of a box, or three and more of a polygon}, that the stand's solids and the base's origin keep
        out of; the solids keep clear of the fixtures too. Fixtures named in ``going_along`` (a pedestal) move with it.

        ``samples`` places (or as many as ``spacing`` in plan makes) are tried first, then better ones from the best of
        them; ``seed`` draws them. ``executor``: of concurrent.futures, to which places go in pieces; ``store``: a
        folder in which scores are kept, from which a run that was ended goes on. Neither they nor ``threads`` change a
        bit of the result.

        Dataset over (choice): the places found, each checked by ``check_targets`` of the cell that stands there, with
        what the search had promised; over (candidate): all places tried. See docs/results.md.

        >>> bolted = aw.Cell.from_description(replace(cell.description, track=None, mount=(1, 0, 0.12)))
        >>> placed = bolted.placement(x=(0.5, 1.5), samples=16)
        >>> print(f"{int(placed.served_count[0])} points served from x = {float(placed.place_x[0]):.1f} m")
        2 points served from x = 0.5 m
        """
        told = {key: value for key, value in locals().items() if key != "self"}
        from armwright.designs.placement.job import take_job
        from armwright.designs.placement.scoring import prepare
        from armwright.designs.placement.study import placement

        job = take_job(self, told)  # type: ignore[arg-type]
        prepare(job.scoring)
        return placement(job)

    def placed(self, result: xr.Dataset, choice: int | None = None) -> Cell:
        """The cell with its stand at a place that ``placement`` found for it, as its ``result`` tells: the one
        recommended, or that ``choice``. A parked arm has no track any more; its rails are fixtures.

        >>> bolted = aw.Cell.from_description(replace(cell.description, track=None, mount=(1, 0, 0.12)))
        >>> best = bolted.placed(bolted.placement(x=(0.5, 1.5), samples=16))
        >>> int(best.check_targets().served.sum())
        2
        """
        from armwright.designs.placement.place import placed
        from armwright.results import check_dataset

        if check_dataset(result).name != "placement":
            raise InputError.of("result", str(result.attrs["study"]), "a result of placement")
        own = stand_pose(self._description)[:3, 3]
        if result.attrs["arm_name"] != self._description.arm.name or not np.allclose(result.attrs["now_place"], own):
            raise InputError.of("result", f"a placement of {result.attrs['arm_name']}", "a placement of this cell")
        if (result.attrs["stand"] == "base") == (self._description.track is not None):
            raise InputError.of("result", f"a placement of a {result.attrs['stand']}", "a placement of this cell")
        count = result.sizes["choice"]
        which = int(result.attrs["best"]) if choice is None else run.whole("choice", choice, 0, count - 1)
        row = result.isel(choice=which)
        numbers = np.array([float(row[f"place_{name}"]) for name in NUMBERS])
        names = tuple(name for name in str(result.attrs["going_along"]).split("\n") if name)
        return placed(self, numbers, ATTITUDES[int(row["place_attitude"])], names)  # type: ignore[arg-type]
