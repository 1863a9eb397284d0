"""The results that a report is made of, and what stands beside them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

import numpy as np
import xarray as xr

from armwright.errors import InputError
from armwright.results import Scene, check_dataset
from armwright.results.unit_words import names_in
from armwright.results.units import UnitSystem, shown


@dataclass(frozen=True, eq=False)
class Found:
    """Results by their study, the first of each; the cell as it is drawn; the units that pictures are drawn in;
    ``absent``: by question, what was not asked and for want of what."""

    results: Mapping[str, xr.Dataset]
    scene: Scene | None = None
    units: UnitSystem = "si"
    absent: Mapping[str, tuple[str, ...]] = field(default_factory=dict)

    def get(self, study: str) -> xr.Dataset | None:
        """The result of a study, if there is one."""
        return self.results.get(study)

    def those(self, *studies: str) -> list[xr.Dataset]:
        """The results of these studies that there are, in that order."""
        return [self.results[study] for study in studies if study in self.results]

    @property
    def names(self) -> frozenset[str]:
        """All names in them."""
        return frozenset().union(*(names_in(result) for result in self.results.values()))


def found(
    results: Iterable[xr.Dataset],
    scene: Scene | None = None,
    units: UnitSystem = "si",
    absent: Mapping[str, Iterable[str]] | None = None,
) -> Found:
    """Checked results, by their study; two of one study are refused."""
    shown("m", units)  # refuses unknown units
    by_study: dict[str, xr.Dataset] = {}
    for result in results:
        if not isinstance(result, xr.Dataset):
            raise InputError.of("results", type(result).__name__, "results of studies, as a cell's methods give them")
        study = check_dataset(result).name
        if study in by_study:
            raise InputError.of("results", f"two results of {study}", "one of each study")
        by_study[study] = result
    return Found(by_study, scene, units, {key: tuple(lines) for key, lines in (absent or {}).items()})


def lines_of(results: Iterable[xr.Dataset], *attributes: str) -> tuple[str, ...]:
    """The lines of these attributes of all of them, each once."""
    lines = [line for result in results for name in attributes for line in str(result.attrs.get(name, "")).splitlines()]
    return tuple(dict.fromkeys(line for line in lines if line))


def posture_words(values: Any, units: Any) -> str:
    """A posture in the order of its joints: "1.05 m, −30°, 41°"; nothing where it is not known."""
    if np.isnan(values).any():
        return ""
    told = []
    for value, unit in zip(values, units, strict=True):
        number = value if unit == "m" else np.degrees(value)
        text = f"{round(number, 3) + 0.0:.3f} m" if unit == "m" else f"{round(number, 1) + 0.0:.1f}°"  # no −0
        told.append(text.replace("-", "−"))
    return ", ".join(told)
