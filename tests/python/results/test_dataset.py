"""What make_dataset labels, and what it refuses."""

import numpy as np
import pytest
import xarray as xr

from armwright.errors import InputError
from armwright.results import STUDIES, check_dataset, make_dataset, table
from cases import sample_results as sample

ALL = [sample.reach_map, sample.payload_map, sample.check_targets, sample.outlines, sample.clearance]


@pytest.mark.parametrize("make", ALL)
def test_every_variable_has_its_unit_and_long_name(make):
    dataset = make()
    what = STUDIES[dataset.attrs["study"]]
    for name in dataset.variables:
        assert dataset[name].attrs["units"] == what.find(name).unit
        assert dataset[name].attrs["long_name"] == what.find(name).long_name
    assert dataset.attrs["inputs_digest"] == sample.DIGEST
    assert dataset.attrs["armwright_version"]
    check_dataset(dataset)


def _arguments(**changes):
    dataset = sample.outlines()
    arguments = {
        "study": "outlines",
        "variables": {name: dataset[name].values for name in dataset.data_vars},
        "coords": {"joint": dataset.joint.values},
        "attrs": {}, "inputs_digest": sample.DIGEST, "arm_name": "x",
    }
    for name, value in changes.items():
        arguments[name] = {**arguments[name], **value} if isinstance(value, dict) else value
    return arguments


@pytest.mark.parametrize(("changes", "words"), [
    ({"variables": {"sektion": np.zeros((3, 2))}}, "did you mean section"),
    ({"study": "reach-map"}, "did you mean reach_map"),
    ({"variables": {"section": np.zeros(3)}}, "dims (section_point, rz)"),
    ({"variables": {"section": np.zeros((3, 2), bool)}}, "an array of float"),
    ({"variables": {"section": np.full((3, 2), np.inf)}}, "infinite"),
    ({"variables": {"joint_lower": np.full(7, np.nan)}}, "finite numbers"),
    ({"variables": {"joint_lower": np.zeros(5)}}, "7, as joint has"),
    ({"attrs": {"spacings": 0.1}}, "did you mean spacing"),
    ({"attrs": {"base_position": (0.0, 1.0)}}, "3 float of unit m"),
    ({"attrs": {"base_position": (0.0, 1.0, np.nan)}}, "3 float of unit m"),
    ({"inputs_digest": "today"}, "SHA-256"),
])
def test_what_is_not_in_the_table_is_refused(changes, words):
    with pytest.raises(InputError, match=words.replace("(", r"\(").replace(")", r"\)")):
        make_dataset(**_arguments(**changes))


def test_all_problems_are_told_at_once():
    with pytest.raises(InputError) as caught:
        make_dataset(**_arguments(variables={"sektion": np.zeros(2), "plann": np.zeros(2)}))
    assert len(caught.value.problems) == 2


def test_missing_variable_and_attribute_are_named():
    dataset = sample.payload_map(0.5).drop_vars("mass_greatest")
    del dataset.attrs["load_centre"]
    with pytest.raises(InputError) as caught:
        check_dataset(dataset)
    assert "mass_greatest" in str(caught.value) and "load_centre" in str(caught.value)


def test_bounds_hold_and_rounding_is_let_pass():
    dataset = sample.reach_map(0.5)
    dataset["reach_index"].values[0, 0, 0] = 1 + 1e-12
    check_dataset(dataset)
    dataset["reach_index"].values[0, 0, 0] = 1.01
    with pytest.raises(InputError, match="at most 1"):
        check_dataset(dataset)


def test_a_changed_unit_is_refused():
    dataset = sample.reach_map(0.5)
    dataset["clearance"].attrs["units"] = "mm"
    with pytest.raises(InputError, match="units"):
        check_dataset(dataset)


def test_coordinates_must_grow():
    dataset = sample.reach_map(0.5)
    with pytest.raises(InputError, match="growing order"):
        check_dataset(dataset.isel(x=slice(None, None, -1)))


def test_batches_of_any_depth_and_none():
    for shape in [(), (3,), (2, 3)]:
        dataset = make_dataset(
            "clearance",
            {"distance": np.zeros(shape), "point_a": np.zeros((*shape, 3)), "point_b": np.zeros((*shape, 3)),
             "name_a": np.full(shape, "a"), "name_b": np.full(shape, "b")},
            {}, {}, sample.DIGEST, "x")
        assert dataset.distance.shape == shape


def test_joint_names_may_come_as_an_attribute():
    whole = sample.payload_map(0.5)
    made = make_dataset(
        "payload_map", dict(whole.data_vars), {n: whole[n] for n in whole.coords if n != "joint_names"},
        {**{n: whole.attrs[n] for n in ("load_centre", "attitude", "limit")}, "joint_names": list(sample.JOINTS)},
        sample.DIGEST, "x")
    assert tuple(made.joint_names.values) == sample.JOINTS


def test_not_a_result():
    with pytest.raises(InputError, match="made by armwright"):
        check_dataset(xr.Dataset())
    with pytest.raises(InputError, match=r"xarray\.Dataset"):
        check_dataset("no data set")


def test_table_names_everything():
    for study, what in STUDIES.items():
        words = table(study)
        assert all(f"`{item.name}`" in words for item in what.coords + what.variables + what.attributes)


def test_html_shows_name_unit_and_attributes():
    html = sample.reach_map(0.5)._repr_html_()
    assert "reach_index" in html and "reachable_volume" in html and "reach index: share" in html
