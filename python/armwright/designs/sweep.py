"""A study, or answers, of many designs of a cell."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

import numpy as np
import xarray as xr

from armwright.describe.described import Described
from armwright.describe.wrong import shown
from armwright.designs.answer import Answer, Asked, take_answers
from armwright.designs.ask import usual
from armwright.designs.asking import ask_designs, check_travels
from armwright.designs.plan import HYPERCUBE, Plan, plan_of
from armwright.designs.studied import check_travels as check_study_travels
from armwright.designs.studied import study_designs
from armwright.errors import InputError
from armwright.results import check_dataset
from armwright.results.dataset import find_study, version
from armwright.results.swept import common, coord_name, joined, number_coords
from armwright.results.variables import STUDIES
from armwright.studies import run
from armwright.studies.piece_store import told_plainly
from armwright.studies.pieces import How

if TYPE_CHECKING:
    from armwright.cell import Cell

def sweep(
    cell: Cell, numbers: Any, answers: Any, study: Any, options: Any, design: Any, samples: Any, seed: Any, how: How
) -> xr.Dataset:
    """See Cell.sweep."""
    plan = plan_of(cell.description, numbers, design, samples, seed)
    attrs: dict[str, Any] = {"study": "sweep", "plan": design, "designs": len(plan.values)}
    if design == HYPERCUBE:
        attrs["seed"] = seed
    if study is None:
        if options is not None:
            raise InputError.of("options", shown(options), "none: they are for a study")
        asked = take_answers(answers, cell, usual)
        attrs |= _labels(cell, plan, [answer.name for answer in asked])
        request = {"plan": design, "answers": [answer.name for answer in asked]}
        check_travels(how, asked)
        with (
            how.opened("sweep", attrs["inputs_digest"], request) as work,
            run.reported(how.progress, "designs") as report,
        ):
            rows = ask_designs(work, "designs", cell.description, plan.values, asked, report)
        dataset = _answers_dataset(plan, asked, rows)
    else:
        if answers is not None:
            raise InputError.of("answers", "answers besides a study", "one of the two")
        name, own = _take_study(cell, study, options)
        check_study_travels(how, name, own)
        attrs |= _labels(cell, plan, [json.dumps(told_plainly([name, own]), sort_keys=True)])
        request = {"plan": design, "study": name, "options": own}
        with (
            how.opened("sweep", attrs["inputs_digest"], request) as work,
            run.reported(how.progress, "designs") as report,
        ):
            each = study_designs(work, cell.description, plan.values, name, own, report)
        inner = find_study(str(each[0].attrs["study"]))
        dataset = joined(each, _dims(plan), inner)
        attrs = dataset.attrs | common(each) | attrs
        attrs |= {"study": "sweep", "swept_study": inner.name}
    meanings = {path: (unit, f"design number {path}") for path, unit in plan.units.items()}
    over = {path: coord_name(path) if path in plan.dims else "design" for path in plan.units}
    dataset = dataset.assign_coords(number_coords(meanings, plan.columns, over))
    dataset.attrs = attrs
    check_dataset(dataset)
    return dataset


def _dims(plan: Plan) -> dict[str, int]:
    return {coord_name(name): length for name, length in plan.dims.items()}


def _take_study(cell: Cell, study: Any, options: Any) -> tuple[Any, dict[str, Any]]:
    told = {} if options is None else options
    if not isinstance(told, Mapping) or not all(isinstance(key, str) for key in told):
        raise InputError.of("options", shown(options), 'the study\'s own options, as {"spacing": 0.2}')
    names = [name for name in STUDIES if callable(getattr(cell, name, None)) and name != "sweep"]
    if isinstance(study, str):
        if study not in names:
            import difflib

            near = difflib.get_close_matches(study, names, 1)
            raise InputError.of("study", shown(study), "one of " + ", ".join(names), near[0] if near else "")
    elif not callable(study):
        raise InputError.of("study", shown(study), "the name of a study, or a function of a Cell that gives a data set")
    return study, dict(told)


def _answers_dataset(plan: Plan, answers: tuple[Answer, ...], rows: list[list[Asked]]) -> xr.Dataset:
    dims = _dims(plan)
    shape = (*dims.values(), len(answers))
    own = find_study("sweep")

    def laid_out(name: str, values: Any) -> xr.Variable:
        variable = own.find(name)
        assert variable is not None
        over = (*dims, "answer") if name in ("value", "reason", "where") else variable.dims
        size = shape if len(over) > 1 else (len(answers),)
        return xr.Variable(over, values.reshape(size), {"units": variable.unit, "long_name": variable.long_name})

    figures = {key: laid_out(key, np.array([[getattr(told, key) for told in row] for row in rows]))
               for key in ("value", "reason", "where")}  # fmt: skip
    coords = {
        "answer": np.array([answer.name for answer in answers]),
        "answer_unit": np.array([answer.unit for answer in answers]),
        "answer_better": np.array([answer.better for answer in answers]),
    }
    return xr.Dataset(figures, {key: laid_out(key, values) for key, values in coords.items()})


def _labels(cell: Cell, plan: Plan, also: list[str]) -> dict[str, Any]:
    """What went in: the cell, the designs, what was asked."""
    state = hashlib.sha256(cell.digest().encode())
    for values in plan.values:
        for path, value in values.items():
            state.update(f"|{path}={value.digest() if isinstance(value, Described) else value!r}".encode())
    state.update("|".join(also).encode())
    labels = cell._labels
    return {
        **labels["labels"], "arm_name": labels["arm_name"], "inputs_digest": state.hexdigest(),
        "armwright_version": version(),
    }  # fmt: skip
