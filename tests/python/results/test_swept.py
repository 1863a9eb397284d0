"""Data sets of one study, joined over designs."""

from __future__ import annotations

import numpy as np
import pytest

from armwright.errors import InputError
from armwright.results import check_dataset
from armwright.results.dataset import find_study
from armwright.results.swept import common, coord_name, joined, number_coords
from cases import sample_results as sample


def swept(datasets, dims, **attrs):
    made = joined(datasets, dims, find_study("check_targets"))
    numbers = {name: ("kg", f"design number {name}") for name in dims}
    columns = {name: np.arange(float(length)) for name, length in dims.items()}
    made = made.assign_coords(number_coords(numbers, columns, {name: name for name in dims}))
    made.attrs |= common(datasets) | {
        "study": "sweep", "swept_study": "check_targets", "plan": "factorial", "designs": len(datasets),
    } | attrs  # fmt: skip
    return made


def test_variables_get_the_dims_of_the_designs_in_order():
    first = sample.check_targets()
    others = [first.assign(payload=first["payload"].copy(data=first["payload"].values + k)) for k in range(6)]
    made = swept(others, {"a": 2, "b": 3})
    check_dataset(made)
    assert made["payload"].dims == ("a", "b", "target")
    for a in range(2):
        for b in range(3):
            assert np.array_equal(made["payload"].sel(a=a, b=b), first["payload"] + 3 * a + b, equal_nan=True)
    assert made["target"].equals(first["target"]) and made.attrs["arm_name"] == first.attrs["arm_name"]


def test_a_variable_that_the_study_does_not_know_is_refused():
    made = swept([sample.check_targets()] * 2, {"a": 2})
    with pytest.raises(InputError, match=r"payloads.*payload"):
        check_dataset(made.rename(payload="payloads"))
    with pytest.raises(InputError, match="plan"):
        check_dataset(made.assign_attrs(plan="some"))


def test_what_is_not_of_one_shape_is_refused():
    first = sample.check_targets()
    for other in (first.isel(target=slice(0, 3)), first.assign_coords(target=[f"{n}!" for n in first.target.values])):
        with pytest.raises(InputError, match="differ along target"):
            joined([first, other], {"a": 2}, find_study("check_targets"))


def test_names_for_files():
    assert coord_name("arm.links[a/b].mass") == "arm.links[a|b].mass"
