"""What stands on the data set does what the functions do, refusals included."""

import pytest

from armwright.errors import InputError
from armwright.results import open_result, summary
from cases import sample_results as sample

ALL = [sample.reach_map, sample.payload_map, sample.check_targets, sample.outlines, sample.clearance]


@pytest.mark.parametrize("make", ALL)
def test_summary(make):
    dataset = make()
    assert dataset.armwright.summary() == summary(dataset)


@pytest.mark.parametrize("make", ALL)
def test_to_netcdf_writes_what_is_read_again(make, tmp_path):
    dataset = make()
    path = dataset.armwright.to_netcdf(tmp_path / "a.nc")
    assert path == tmp_path / "a.nc" and open_result(path).identical(dataset)


def test_what_is_no_result_is_refused(tmp_path):
    broken = sample.reach_map()
    broken.attrs.pop("spacing")
    with pytest.raises(InputError, match="spacing"):
        broken.armwright.to_netcdf(tmp_path / "a.nc")
    assert not (tmp_path / "a.nc").exists()
