"""A cell as pictures take it: the plain scene, and the page in three dimensions."""

from __future__ import annotations

import os
from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING

from numpy.typing import ArrayLike

from armwright.describe import Cycle, Load
from armwright.errors import InputError
from armwright.motions import InMotion
from armwright.studies import run

if TYPE_CHECKING:  # xarray brings pandas, a second of waiting, so that results are imported where they are made
    import xarray as xr

    from armwright.results import Scene
    from armwright.results.units import UnitSystem


class Drawn(InMotion):
    """A cell that is drawn."""

    @property
    def touching_pairs(self) -> tuple[tuple[str, str], ...]:
        """Pairs of solids that are not checked against each other: they touch by design, or no posture changes their
        distance."""
        return tuple((str(a), str(b)) for a, b in self._solids.touching_pairs)

    def scene(
        self, q: ArrayLike | None = None, checked: xr.Dataset | None = None, *, loads: Iterable[Load] = ()
    ) -> Scene:
        """The cell as plain numbers for pictures: at posture ``q`` (default: all joints at zero, or at the middle of
        their range where zero is outside it), its work points as ``checked``, a result of ``check_targets``, tells.
        ``loads``: what is carried at times besides the cell's own load.

        >>> scene = cell.scene(q)
        >>> scene.name, len(scene.joints), len(scene.solids)
        ('ceramics studio', 7, 30)
        """
        from armwright.scenes import scene_of

        loads = tuple(loads)
        touching = set(self.touching_pairs)
        for load in loads:
            touching |= set(self._solids_with(load).touching_pairs)
        return scene_of(self._description, self._posture(q), checked, loads=loads, touching=touching)

    def page(
        self,
        path: str | os.PathLike[str],
        *,
        maps: Iterable[xr.Dataset] = (),
        cycle: Cycle | xr.Dataset | None = None,
        checked: xr.Dataset | None = None,
        q: ArrayLike | None = None,
        units: UnitSystem = "si",
        threads: int | None = None,
        progress: run.Progress = None,
    ) -> Path:
        """Writes the cell in three dimensions as one HTML file that opens anywhere, with the network off; gives its
        path.

        ``maps``: results of ``reach_map``, ``payload_map`` and ``payload_at_speed``, of which the reader chooses one to
        look at; ``cycle``: a cycle, or what ``motion`` made of it, to be played; ``checked``: a result of
        ``check_targets`` (default: the work points are checked, if there are any); ``q``: the posture at the start
        (default: that of the first work point that is served). ``units``: "si" or "us", which the reader may change.
        In the page the axes are moved by hand, with the least distance to anything told all the while. InputError:
        another kind of result, or a path that cannot be written.

        >>> cell.page("studio.html").name
        'studio.html'
        """
        from armwright.pictures.page3d import page
        from armwright.pictures.page_file import page_path

        page_path(path)  # told before the work, not after
        if checked is None and self._description.targets:
            checked = self.check_targets(threads=threads, progress=progress)
        motion = self.motion(cycle) if isinstance(cycle, Cycle) else cycle
        loads = [target.load for target in self._description.targets if target.load is not None]
        if isinstance(cycle, Cycle):
            loads += self.resolve(cycle).loads
        scene = self.scene(_first_served(checked) if q is None else q, checked, loads=loads)
        return page(scene, maps, cycle=motion, path=path, units=units)


def _first_served(checked: xr.Dataset | None) -> ArrayLike | None:
    """The posture of the first work point that is served."""
    if checked is None:
        return None
    if "served" not in checked:
        raise InputError.of("checked", "another dataset", "a result of check_targets")
    served = checked["served"].values
    posture: ArrayLike | None = checked["q"].values[int(served.argmax())] if served.any() else None
    return posture
