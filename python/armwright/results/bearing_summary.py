"""Results about bearings in a few lines of plain words."""

from __future__ import annotations

import numpy as np
import xarray as xr

from armwright.results.words import life, notes, safety_against


def bearings_lines(dataset: xr.Dataset) -> list[str]:
    """A bearing a line, the weakest first; then what is missing and what is outside the standards."""
    order = np.argsort(dataset.safety.values / dataset.wanted_static.values, kind="stable")
    lines = [_line(dataset.isel(bearing=int(i))) for i in order]
    spans = zip(dataset.joint.values, dataset.span.values, dataset.needed_span.values, strict=True)
    for joint, span, needed in spans:
        if np.isfinite(needed) and needed > span:
            lines.append(f"{joint}: the pair needs a span of {1000 * needed:.0f} mm instead of {1000 * span:.0f} mm")
        elif np.isinf(needed):
            lines.append(f"{joint}: no span of the pair is enough")
    lines += notes("not looked at", dataset.attrs["missing"]) + notes("to mind", dataset.attrs["flags"])
    return [*lines, str(dataset.attrs["caution"])]


def _line(one: xr.Dataset) -> str:
    safety, lasts = float(one.safety), float(one.modified_life)
    text = f"{one.bearing.item()}: "
    if np.isnan(safety):
        text += "static safety not known"
    elif np.isinf(safety):
        text += "nothing presses on it"
    else:
        text += f"static {safety_against(safety, one.wanted_static)} ({one.worst_case.item()})"
    if np.isfinite(lasts):
        share = 100 * one.attrs["reliability"]
        text += f"; life {life(lasts)} at {share:g} % reliability" + ("" if one.life_valid else ", NOT VALID")
    elif np.isnan(lasts):
        text += "; no life is told"
    return text
