"""How true the tool stands, as a method of a cell."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from concurrent.futures import Executor
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import ArrayLike

from armwright.answers import Floats
from armwright.describe import Target
from armwright.errors import InputError
from armwright.studies import run
from armwright.studies.carried import load_table
from armwright.studies.piece_store import StorePath
from armwright.studies.pieces import How
from armwright.sweeps import Studied

if TYPE_CHECKING:  # xarray brings pandas, a second of waiting, so that results are imported where they are made
    import xarray as xr


class KeptTrue(Studied):
    """How finely the tool can be placed."""

    def tool_error(
        self,
        q: ArrayLike | None = None,
        *,
        targets: Iterable[Target] | Target | None = None,
        executor: Executor | None = None,
        store: StorePath | None = None,
        threads: int | None = None,
        progress: run.Progress = None,
    ) -> xr.Dataset:
        """How far the tool may stand from where it should at ``q``, (..., n), or in the best posture of each work point
        (``targets``, by default the cell's), by what the description tells of: half the backlash of each stage and
        half an encoder count either way, through the ratios after them and the coupling of the axes; and the tolerances
        of places, of the track, mount, joints, flange and tool point (m and rad, roll, pitch and yaw as told).

        Each cause moves the tool point and turns the tool in the first order, as the Jacobian has it, in world axes.
        Together: at worst, the greatest over all their signs, exact up to 128 causes, beyond that a bound
        (``..._worst_exact`` tells); and as the root of the sum of squares. Dataset over (posture ...), or (posture)
        with ``target``: ``position_worst``, ``position_rss`` (m), ``attitude_worst``, ``attitude_rss`` (rad), along
        each world axis ``..._along``, and over (cause) ``..._effect`` and the shares of either. Attribute ``missing``:
        what is not told, by name; then the figures are the least that it may be. ``assumed``: what they take for
        granted. Refused (InputError): ``q`` beside ``targets``, and targets of which none is served.

        >>> off = cell.tool_error(q)
        >>> print(f"{1000 * float(off.position_worst):.1f} mm at worst")
        3.4 mm at worst
        """
        from armwright.error_causes import axes_of, causes_of
        from armwright.studies.tool_error import tool_error

        names: tuple[str, ...] | None = None
        missing: list[str] = []
        batch: tuple[int, ...]
        if q is None:
            rows, names, missing, carried = self._best_postures(targets)
            batch = (len(rows),)
        elif targets is not None:
            raise InputError.of("targets", "targets besides q", "one of the two")
        else:
            batch, rows = self._rows(q)
            carried = load_table([self._carried(None)], np.zeros(len(rows)))
        labels = self._labels
        told = hashlib.sha256(self.digest().encode() + rows.tobytes() + carried.tobytes() + repr(names).encode())
        causes = causes_of(self._description, self._model)
        return tool_error(
            self._subject, rows, batch, causes=causes.told, axes=axes_of(self._description, self._model),
            carried=carried, targets=names, missing=[*causes.missing, *missing],
            how=How(executor, store, threads, progress),
            **(labels | {"inputs_digest": told.hexdigest()}),
        )  # fmt: skip

    def _best_postures(
        self, targets: Iterable[Target] | Target | None
    ) -> tuple[Floats, tuple[str, ...], list[str], Floats]:
        """The best posture of each work point that is served, their names, in words which are not, and what each
        carries."""
        chosen = self._chosen(targets)
        if not chosen:
            raise InputError.of("q", "nothing, and a cell without work points", "postures, or work points as targets")
        checked = self.check_targets(chosen)
        served = checked.served.values
        if not served.any():
            raise InputError.of("targets", "none that is served", "a work point that check_targets finds served")
        names = [str(name) for name in checked.target.values]
        lost = [f'work point "{name}": not served' for name, good in zip(names, served, strict=True) if not good]
        loads = [self._carried(target.load) for target in chosen]
        return (
            np.ascontiguousarray(checked.q.values[served]),
            tuple(name for name, good in zip(names, served, strict=True) if good),
            lost,
            load_table(loads, np.flatnonzero(served)),
        )
