"""What the base of a cell has to bear, as its method."""

from __future__ import annotations

from concurrent.futures import Executor
from typing import TYPE_CHECKING, Any

import numpy as np

from armwright import arguments
from armwright.studies import run
from armwright.studies.piece_store import StorePath
from armwright.studies.pieces import How
from armwright.wrenched import LoadRows, Wrenched

if TYPE_CHECKING:  # xarray brings pandas, a second of waiting, so that results are imported where they are made
    import xarray as xr


class Standing(Wrenched):
    """A machine that is bolted to something, or stands on its own."""

    def base_loads(
        self,
        cycle: Any = None,
        *,
        rows: LoadRows | None = None,
        load_share: Any = None,
        executor: Executor | None = None,
        store: StorePath | None = None,
        threads: int | None = None,
        progress: run.Progress = None,
    ) -> xr.Dataset:
        """What the mounting face bears while the arm holds, moves and stops; and what that does to the ``base`` of the
        description: tension and shear of every bolt, friction grip, strength of the bolts, pressure on the floor, and
        tipping over of what stands free. With a track the face is the top of its carriage.

        ``rows``: LoadRows, by default ``load_rows(cycle)``. Tension is found by the elastic group about the bolts'
        centroid, and by the plate's tilting about its edge; the greater counts, times the prying factor.
        ``load_share``: share of the tension that a preloaded bolt feels as long as the joint is closed (stiffness of
        the bolt over that of bolt and plates), 0 to 1; by default all of it.

        Dataset over (kind, extreme): the face's force (N) and moment (N m), in the mount's frame about its origin,
        where each is greatest; over (bolt) and (method, bolt): tensions, shear; over (edge), (foot): tipping, forces;
        over (check): ``safety`` against ``wanted``, with part, case, time and basis, the formula's source. What is not
        described is left out, and stands in ``missing``. Fatigue, and concrete around anchors, are never looked at.
        Refused (InputError): a ``load_share`` outside 0 to 1.

        >>> base = cell.base_loads(rows=cell.load_rows(stops=False))
        >>> print(f"{float(base.bolt_tension.max()) / 1000:.1f} kN in a bolt")
        0.9 kN in a bolt
        """
        from armwright.studies.base_loads import base_loads
        from armwright.studies.load_rows import row_wrenches

        if executor is not None or store is not None:
            return self._as_one_piece(
                "base_loads", How(executor, store, threads, progress), cycle=cycle, rows=rows, load_share=load_share
            )
        share = None if load_share is None else arguments.part("load_share", load_share)
        found = self._loading(rows, cycle, threads=threads, progress=progress)
        described = self._description
        pose = described.mount if described.track is None else described.track.pose @ described.mount
        return base_loads(
            described.base, found, row_wrenches(self._model, found).mount,
            pose[:3, :3].T @ np.asarray(described.gravity, np.float64), has_track=described.track is not None,
            load_share=share, joint_names=list(self._model.joint_names), joint_units=run.joint_units(self._model),
            **self._loaded_labels(found),
        )  # fmt: skip
