"""Which designs are looked at: every combination of levels, or a latin hypercube between bounds."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import product
from typing import Any

import numpy as np

from armwright.describe import CellDescription
from armwright.describe.described import Described
from armwright.describe.design_numbers import design_number, design_part, with_numbers
from armwright.describe.wrong import shown
from armwright.errors import InputError
from armwright.studies import run

most_designs = 1_000_000
FACTORIAL, HYPERCUBE = "factorial", "latin hypercube"


@dataclass(frozen=True)
class Plan:
    """Designs to be looked at. ``values``: of each design its numbers, by name; ``columns``: of each number its levels
    (factorial) or its value in every design, as they are told; ``units`` and ``dims`` (name and length of what the
    designs are laid out over)."""

    values: tuple[dict[str, Any], ...]
    columns: dict[str, Any]
    units: dict[str, str]
    dims: dict[str, int]


def plan_of(cell: CellDescription, numbers: Any, design: Any, samples: Any, seed: Any) -> Plan:
    """The plan that a sweep is asked for."""
    if not isinstance(numbers, Mapping) or not numbers:
        raise InputError.of("numbers", shown(numbers), 'design numbers and their values, as {"tool.mass": [1, 2, 3]}')
    if design == FACTORIAL:
        return _factorial(cell, numbers, samples)
    if design == HYPERCUBE:
        return _hypercube(cell, numbers, samples, seed)
    raise InputError.of("design", shown(design), f'"{FACTORIAL}" or "{HYPERCUBE}"')


def _factorial(cell: CellDescription, numbers: Mapping[str, Any], samples: Any) -> Plan:
    columns: dict[str, Any] = {}
    levels: dict[str, list[Any]] = {}
    units: dict[str, str] = {}
    for path, told in numbers.items():
        values: list[Any] = _list(path, told)
        if samples is not None:
            count = run.whole("samples", samples, 2, most_designs)
            if len(values) != 2:
                raise InputError.of(path, f"{len(values)} values", "two, a lower and an upper one, with samples")
            lower, upper = (_number(cell, path, value) for value in values)
            values = list(np.linspace(lower, upper, count))
        if isinstance(values[0], Described):
            names = [getattr(value, "name", "") for value in values]
            levels[path], columns[path], units[path] = values, np.array(names, np.str_), "1"
        else:
            levels[path] = sorted(_number(cell, path, value) for value in values)
            columns[path], units[path] = np.array(levels[path]), _unit(cell, path, levels[path][0])
        if len(set(columns[path].tolist())) != len(values):
            raise InputError.of(path, "two values alike", "each value once (of parts, each name once)")
    count = int(np.prod([len(each) for each in levels.values()], dtype=object))
    if count > most_designs:
        raise InputError.of("numbers", f"{count:,} designs", f"at most {most_designs:,}")
    every = tuple(dict(zip(levels, combination, strict=True)) for combination in product(*levels.values()))
    return Plan(every, columns, units, {path: len(each) for path, each in levels.items()})


def _hypercube(cell: CellDescription, numbers: Mapping[str, Any], samples: Any, seed: Any) -> Plan:
    count = run.whole("samples", samples, 1, most_designs)
    bounds = []
    for path, told in numbers.items():
        values = _list(path, told)
        if len(values) != 2:
            raise InputError.of(path, f"{len(values)} values", "two: a lower and an upper one")
        lower, upper = (_number(cell, path, value) for value in values)
        if not lower < upper:
            raise InputError.of(path, f"{lower:g} to {upper:g}", "a lower value, then a higher one")
        bounds.append((lower, upper))
    lowest, highest = np.array(bounds).T
    rows = lowest + (highest - lowest) * unit_samples("latin hypercube", len(bounds), count, seed)
    columns = {path: rows[:, k] for k, path in enumerate(numbers)}
    units = {path: _unit(cell, path, bounds[k][0]) for k, path in enumerate(numbers)}
    every = tuple(dict(zip(numbers, map(float, row), strict=True)) for row in rows)
    return Plan(every, columns, units, {"design": count})


def unit_samples(kind: str, numbers: int, count: int, seed: Any) -> Any:
    """Points (count, numbers) of the unit cube: of a latin hypercube, or of a scrambled Sobol sequence."""
    from scipy.stats import qmc  # type: ignore[import-untyped, unused-ignore]

    rng = np.random.default_rng(run.whole("seed", seed, 0, 2**63 - 1))
    make = qmc.LatinHypercube if kind == HYPERCUBE else qmc.Sobol
    try:
        engine = make(d=numbers, rng=rng)
    except TypeError:  # scipy before 1.15
        engine = make(d=numbers, seed=rng)
    return engine.random(count)


def _list(path: str, told: Any) -> list[Any]:
    if isinstance(told, str | Mapping) or not hasattr(told, "__iter__") or not (values := list(told)):
        raise InputError.of(str(path), shown(told), "a list of values, or (lower, upper)")
    return values


def _number(cell: CellDescription, path: str, value: Any) -> float:
    """The value in SI, as the description reads it: text with a unit, pint or a number."""
    if isinstance(value, int | float | np.integer | np.floating) and not isinstance(value, bool):
        design_part(cell, path)  # refuses a name that there is not
        return float(value)
    return design_number(with_numbers(cell, {path: value}), path).value


def _unit(cell: CellDescription, path: str, value: float) -> str:
    """The unit of a number that may not have been told yet."""
    try:
        return design_number(cell, path).unit
    except InputError:
        return design_number(with_numbers(cell, {path: value}), path).unit
