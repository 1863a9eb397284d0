"""Of studies over rows of loading: what is told beside the figures, and in which case an extreme stands."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from armwright.studies.run import Arrays


@dataclass
class Told:
    """What was left out because something is not told, and what to mind; in words."""

    missing: list[str] = field(default_factory=list)
    warnings: list[str] = field(default_factory=list)

    @property
    def attributes(self) -> dict[str, str]:
        """As attributes of a result, one a line, each once."""
        each = {"missing": self.missing, "warnings": self.warnings}
        return {name: "\n".join(dict.fromkeys(lines)) for name, lines in each.items()}


def placed(rows: Any, extremes: Mapping[str, Any]) -> Arrays:
    """Case and time of the rows in which extremes stand; a row of -1: nowhere."""
    out: Arrays = {}
    for name, found in extremes.items():
        at = np.atleast_1d(np.asarray(found, np.int64))
        out[f"{name}_case"] = np.where(at < 0, -1, np.asarray(rows.case, np.int64)[at])
        out[f"{name}_time"] = np.where(at < 0, np.nan, np.asarray(rows.time)[at])
    return out
