"""What every part of a cell bears, side by side, as its method."""

from __future__ import annotations

from concurrent.futures import Executor
from typing import TYPE_CHECKING, Any

from armwright.borne import Borne
from armwright.describe.units import SHARE
from armwright.railed import Railed
from armwright.standing import Standing
from armwright.structural import Structural
from armwright.studies import run
from armwright.studies.load_rows import KINDS, LoadRows
from armwright.studies.piece_store import StorePath
from armwright.studies.pieces import How

if TYPE_CHECKING:  # xarray brings pandas, a second of waiting, so that results are imported where they are made
    import xarray as xr


class Laden(Railed, Borne, Structural, Standing):
    """A machine of which all parts are asked what they bear."""

    def part_loads(
        self,
        cycle: Any = None,
        *,
        rows: LoadRows | None = None,
        reliability: Any = 0.90,
        wanted_life: Any = None,
        executor: Executor | None = None,
        store: StorePath | None = None,
        threads: int | None = None,
        progress: run.Progress = None,
    ) -> xr.Dataset:
        """What each bearing, link, bolt, block, rail and feed bears at rest, through the ``cycle`` and in the stop that
        is worst for it; what each motor and stage does in the cycle; what is too much; and what was not looked at.

        Every figure is that of the part's own study (``bearings``, ``link_stress``, ``base_loads``, ``track_loads``,
        ``drive_check``) over the rows of that kind: ``rows``, by default ``load_rows(cycle)``; with rows, the cycle is
        that of the motors and stages alone. ``reliability`` and
        ``wanted_life`` are those of ``bearings``. A part of which nothing is told has its line too, with the loads that
        are known and no safety: it is not safe for that.

        Dataset over (figure, situation): ``value`` and ``bears`` in ``unit`` (figure), ``safety`` (``wanted``: figure),
        ``case`` and ``time``; attributes ``weakest``, ``missing``, ``warnings``, ``caution``. InputError: as of those
        studies.

        >>> borne = cell.part_loads(rows=cell.load_rows(stops=False))
        >>> len(borne.part)
        101
        """
        from armwright.studies.part_loads import Found, part_loads

        if executor is not None or store is not None:
            return self._as_one_piece(
                "part_loads", How(executor, store, threads, progress), cycle=cycle, rows=rows, reliability=reliability,
                wanted_life=wanted_life,
            )  # fmt: skip
        given = self._loading(rows, None if rows is not None else cycle, threads=threads, progress=progress)
        arm, track = self._description.arm, self._description.track
        tubes = [link.name for link in arm.tubes]
        bare = [name for name in arm.link_names if name not in tubes]
        share = float(SHARE.si_value("reliability", reliability))

        def found(some: LoadRows) -> Found:
            return Found(
                self.joint_wrenches(rows=some),
                self.bearings(rows=some, reliability=share, wanted_life=wanted_life),
                self.base_loads(rows=some),
                self.link_stress(rows=some, threads=threads) if tubes else None,
                None if track is None else self.track_loads(rows=some, reliability=share),
            )

        kinds = [kind for kind in KINDS if kind in given.case_kinds]
        checked = None
        missing = ["motors and stages in stops, and brakes: stop_table and holding tell of them"]
        if cycle is None:
            missing = ["motors and stages: no cycle is given"]
        elif self._model.has_drives:
            checked = self.drive_check(cycle, factors=False)
        return part_loads(
            {kind: found(given.only(kind)) for kind in kinds}, found(given), checked, without_tube=bare,
            missing=missing, **self._loaded_labels(given),
        )  # fmt: skip
