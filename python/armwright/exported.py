"""The cell as files for other programs, as its methods."""

from __future__ import annotations

import os
from pathlib import Path
from typing import TYPE_CHECKING

from numpy.typing import ArrayLike

if TYPE_CHECKING:  # xarray brings pandas, a second of waiting, so that results are imported where they are made
    import xarray as xr

    from armwright.results import Scene


class Exported:
    """What can be drawn as a scene. ``q``: the posture, by default all joints at zero (or mid-range); ``checked``: a
    result of check_targets, which tells of the work points whether they are served."""

    def scene(self, q: ArrayLike | None = None, checked: xr.Dataset | None = None) -> Scene:
        """See Cell.scene."""
        raise NotImplementedError

    def to_glb(
        self, path: str | os.PathLike[str], *, q: ArrayLike | None = None, checked: xr.Dataset | None = None
    ) -> Path:
        """Writes the posed cell as GLB, in metres, y up: see ``report.cell_to_glb``; ``q``, ``checked``: as for
        ``scene``. Gives the path.

        >>> cell.to_glb("cell.glb", q=q).name
        'cell.glb'
        """
        from armwright.report.glb import cell_to_glb

        return cell_to_glb(self.scene(q, checked), path)

    def to_dxf(
        self, path: str | os.PathLike[str], *, q: ArrayLike | None = None, checked: xr.Dataset | None = None,
        outlines: xr.Dataset | None = None,
    ) -> Path:  # fmt: skip
        """Writes the cell in plan as DXF, in mm: see ``report.plan_to_dxf``. ``outlines``: a result of that study,
        whose outline of the reach is drawn too; ``q``, ``checked``: as for ``scene``. Gives the path.

        >>> cell.to_dxf("plan.dxf").name
        'plan.dxf'
        """
        from armwright.report.plan_dxf import plan_to_dxf

        return plan_to_dxf(self.scene(q, checked), path, outlines=outlines)
