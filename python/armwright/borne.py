"""The study of a cell's bearings, as its method."""

from __future__ import annotations

from concurrent.futures import Executor
from typing import TYPE_CHECKING, Any

from armwright import _core, arguments
from armwright.describe.drive_units import LIFE
from armwright.studies.load_rows import LoadRows, row_wrenches
from armwright.studies.piece_store import StorePath
from armwright.studies.pieces import How
from armwright.wrenched import Wrenched

if TYPE_CHECKING:  # xarray brings pandas, a second of waiting, so that results are imported where they are made
    import xarray as xr


class Borne(Wrenched):
    """A machine whose joints turn in rolling bearings."""

    def bearings(
        self,
        cycle: Any = None,
        *,
        rows: LoadRows | None = None,
        reliability: Any = 0.90,
        wanted_static: Any = None,
        wanted_life: Any = None,
        executor: Executor | None = None,
        store: StorePath | None = None,
    ) -> xr.Dataset:
        """What every bearing of the joints bears: static safety over all rows of loading, life over those that last.

        ``rows``: of ``load_rows``; left out, they are those of the cell with the ``cycle``. A joint's wrench, but for
        what turns about its axis, is the bearing's. Equivalent loads by the described X and Y, else by those of ISO
        281 and ISO 76 for the kind; a slewing bearing takes the tilting moment as 2M/dp beside the radial load; a pair
        takes it as radial loads at its pressure centres, and shares the axial force by what radial loads induce and by
        the preload. Life L10h by ISO 281, with the mean of P by travel, back and forth all counted; not told where the
        joint does not turn or swings so little that the rolling elements' paths do not overlap. ``reliability``: 90 %
        to 99.95 %, by a1. ``wanted_static``: least C0/P0, by default what ISO 76 advises with shocks, 1.5 for balls and
        3 for rollers. ``wanted_life``: running time, from which the dynamic rating needed is told.

        Forces N, moments N m, lives s. Refused (InputError): a reliability that ISO 281 has no factor for.

        Dataset over (bearing), a pair being two, and (joint): the span that a pair needs and the line of tilting
        moment against axial force that leaves the wanted safety. Attributes ``weakest``, ``missing`` (what is left
        out, and why) and ``flags`` (what is outside the standards).

        >>> bearings = cell.bearings(rows=cell.load_rows(stops=False))
        >>> print(f"least static safety {float(bearings.static_safety.min()):.1f}")
        least static safety 9.4
        """
        from armwright.studies.bearings import bearings

        if executor is not None or store is not None:
            return self._as_one_piece(
                "bearings", How(executor, store), cycle=cycle, rows=rows, reliability=reliability,
                wanted_static=wanted_static, wanted_life=wanted_life,
            )  # fmt: skip
        share = arguments.reliability("reliability", reliability)
        loading = self._loading(rows, cycle)
        model: _core.model.Model = self._model
        return bearings(
            model, self._description.arm, loading, row_wrenches(model, loading).joint, reliability=share,
            wanted_static=None if wanted_static is None else arguments.safety("wanted_static", wanted_static),
            wanted_life=None if wanted_life is None else float(LIFE.si_value("wanted_life", wanted_life)),
            **self._loaded_labels(loading),
        )  # fmt: skip
