"""Files hold the same bits, appear whole, and bad ones are refused with what to do."""

import os

import numpy as np
import pytest
import xarray as xr

from armwright.errors import InputError
from armwright.results import make_dataset, open_result, to_netcdf
from cases import sample_results as sample

ALL = [sample.reach_map, sample.payload_map, sample.check_targets, sample.outlines, sample.clearance]


def _same_bits(a: xr.Dataset, b: xr.Dataset) -> None:
    assert list(a.variables) == list(b.variables) and set(a.coords) == set(b.coords)
    for name in a.variables:
        assert a[name].dims == b[name].dims and a[name].attrs == b[name].attrs, name
        if a[name].dtype.kind == "U":
            assert b[name].dtype.kind == "U" and a[name].values.tolist() == b[name].values.tolist()
        else:
            assert a[name].dtype == b[name].dtype, name
            assert a[name].values.tobytes() == b[name].values.tobytes(), name
    assert a.attrs == b.attrs
    assert {k: type(v) for k, v in a.attrs.items()} == {k: type(v) for k, v in b.attrs.items()}


@pytest.mark.parametrize("make", ALL)
def test_round_trip_keeps_every_bit(make, tmp_path):
    dataset = make()
    path = to_netcdf(dataset, tmp_path / "result.nc")
    _same_bits(dataset, open_result(path))
    assert os.listdir(tmp_path) == ["result.nc"]


@pytest.mark.parametrize("make", ALL)
def test_other_libraries_read_the_same(make, tmp_path):
    """netCDF4, over the reference library in C, and h5py: names, dims, bits, units; and that the file is netCDF-4."""
    netcdf4, h5py = pytest.importorskip("netCDF4"), pytest.importorskip("h5py")
    dataset = make()
    path = to_netcdf(dataset, tmp_path / "result.nc")
    with netcdf4.Dataset(path) as read, h5py.File(path) as plain:
        assert read.data_model == "NETCDF4" and read.study == dataset.attrs["study"]
        assert set(read.variables) == set(dataset.variables) <= set(plain)
        for name, variable in read.variables.items():
            variable.set_auto_maskandscale(False)
            wanted = dataset[name]
            assert variable.dimensions == wanted.dims and variable.units == wanted.attrs["units"], name
            assert variable.long_name == wanted.attrs["long_name"] == plain[name].attrs["long_name"], name
            if wanted.dtype.kind == "U":
                assert np.asarray(variable[...]).tolist() == wanted.values.tolist()
                assert plain[name].asstr()[...].tolist() == wanted.values.tolist()
            else:
                np.testing.assert_array_equal(np.asarray(variable[...]).astype(wanted.dtype), wanted.values)
                np.testing.assert_array_equal(plain[name][...].astype(wanted.dtype), wanted.values)


def test_odd_numbers_and_words_survive(tmp_path):
    odd = np.array([-0.0, 5e-324, np.nextafter(1, 2), -1e308, np.inf])
    dataset = make_dataset(
        "clearance",
        {"distance": odd, "point_a": np.zeros((5, 3)), "point_b": np.zeros((5, 3)),
         "name_a": ["", "ä", "左", "a b", "x" * 300], "name_b": [""] * 5},
        {}, {}, sample.DIGEST, "Töpferei",
    )
    _same_bits(dataset, open_result(to_netcdf(dataset, tmp_path / "odd.nc")))


def test_no_targets_at_all(tmp_path):
    dataset = make_dataset(
        "check_targets",
        {"served": np.zeros(0, bool), "reason": [], "q": np.zeros((0, 7)), "position": np.zeros((0, 3))},
        {"target": [], "joint": sample.JOINTS}, {}, sample.DIGEST, "x")
    _same_bits(dataset, open_result(to_netcdf(dataset, tmp_path / "none.nc")))


def test_replaces_whole_and_leaves_the_old_file_when_refused(tmp_path):
    path = to_netcdf(sample.reach_map(0.5), tmp_path / "r.nc")
    before = path.read_bytes()
    broken = sample.reach_map(0.5)
    broken.attrs.pop("spacing")
    with pytest.raises(InputError):
        to_netcdf(broken, path)
    assert path.read_bytes() == before
    to_netcdf(sample.check_targets(), path)
    assert open_result(path).attrs["study"] == "check_targets"


def test_a_write_that_fails_leaves_nothing_behind(tmp_path, monkeypatch):
    path = to_netcdf(sample.reach_map(0.5), tmp_path / "r.nc")
    before = path.read_bytes()

    def fails(self, part, **_):
        part.write_bytes(b"half")
        raise OSError("no space left")

    monkeypatch.setattr(xr.Dataset, "to_netcdf", fails)
    with pytest.raises(InputError, match="no space left"):
        to_netcdf(sample.reach_map(0.5), path)
    assert path.read_bytes() == before and os.listdir(tmp_path) == ["r.nc"]


def test_bad_paths_are_refused(tmp_path):
    dataset = sample.reach_map(0.5)
    with pytest.raises(InputError, match="not of a folder"):
        to_netcdf(dataset, tmp_path)
    with pytest.raises(InputError, match=r"make .* first"):
        to_netcdf(dataset, tmp_path / "no" / "r.nc")
    to_netcdf(dataset, tmp_path / "reach.nc")
    with pytest.raises(InputError, match=r"did you mean .*reach\.nc"):
        open_result(tmp_path / "raech.nc")


def test_files_that_are_no_results_are_refused(tmp_path):
    text = tmp_path / "text.nc"
    text.write_text("no netCDF")
    with pytest.raises(InputError, match="run the study again"):
        open_result(text)
    whole = to_netcdf(sample.reach_map(), tmp_path / "whole.nc").read_bytes()
    half = tmp_path / "half.nc"
    half.write_bytes(whole[: len(whole) // 2])
    with pytest.raises(InputError, match="run the study again"):
        open_result(half)
    other = tmp_path / "other.nc"
    xr.Dataset({"a": ("b", [1.0])}).to_netcdf(other, engine="h5netcdf")
    with pytest.raises(InputError, match="made by armwright") as caught:
        open_result(other)
    assert caught.value.problems[0].file == str(other)


def test_a_result_that_another_version_stored_says_to_run_the_study_again(tmp_path):
    """One whose variable had another name, stored by a version that the file tells."""
    path = to_netcdf(sample.reach_map(0.5), tmp_path / "old.nc")
    with xr.open_dataset(path, engine="h5netcdf") as stored:
        old = stored.load().rename(clearance="distance").assign_attrs(armwright_version="0.0.7")
    old.to_netcdf(path, engine="h5netcdf")
    with pytest.raises(InputError, match=r"armwright_version: got 0\.0\.7, .*run the study again") as caught:
        open_result(path)
    assert {problem.file for problem in caught.value.problems} == {str(path)}
