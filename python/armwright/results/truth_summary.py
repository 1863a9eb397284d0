"""The result about how true the tool stands in a few lines of plain words."""

from __future__ import annotations

import numpy as np
import xarray as xr

from armwright.results.words import notes


def tool_error_lines(dataset: xr.Dataset) -> list[str]:
    """The worst posture of all, its greatest causes, and what is missing."""
    missing = notes("not looked at", dataset.attrs["missing"])
    worst = dataset.position_worst.values.ravel()
    if not worst.size:
        return ["no postures", *missing]
    if np.isnan(worst).all():
        return ["no cause of error is told, so that nothing is known", *missing]
    at = int(np.nanargmax(worst))
    name = f' at "{dataset.target.values.ravel()[at]}"' if "target" in dataset else ""
    least = "at least " if missing else ""
    bound = "" if dataset.position_worst_exact.values.ravel()[at] else " (a bound)"
    lines = [f"tool point off by {least}{1000 * worst[at]:.3g} mm at worst{bound}, "
             f"{1000 * dataset.position_rss.values.ravel()[at]:.3g} mm as root sum of squares{name}"]  # fmt: skip
    turn = dataset.attitude_worst.values.ravel()
    most = int(np.nanargmax(turn))
    lines.append(f"tool turned by {least}{np.degrees(turn[most]):.3g} deg at worst, "
                 f"{np.degrees(dataset.attitude_rss.values.ravel()[most]):.3g} deg as root sum of squares")  # fmt: skip
    shares = dataset.position_share_worst.values.reshape(len(worst), -1)[at]
    if np.isfinite(shares).any():
        first = np.argsort(-shares, kind="stable")[:3]
        told = ", ".join(f"{dataset.cause.values[k]} {100 * shares[k]:.0f} %" for k in first if shares[k] > 0)
        lines.append(f"greatest shares of the worst: {told}")
    return lines + missing
