import numpy as np
import pytest

from armwright import pictures
from armwright.errors import InputError
from cases import sample_results as sample
from cases.reported import small_results


def marks(ax, gid):
    return next(line.get_xdata() for line in ax.lines if line.get_gid() == gid)


@pytest.mark.parametrize("units", ["si", "us"])
def test_marks_stand_at_their_shares_of_the_way(units):
    result = small_results()["switches"]
    ax = pictures.switches(result, units=units)
    for k, joint in enumerate(result["joint"].values):
        lower, upper = result["hard_stop"].values[k]
        for name in ("hard_stop", "limit_switch", "soft_limit"):
            share = (result[name].values[k] - lower) / (upper - lower)
            assert np.allclose(marks(ax, f"{name} {joint}"), share, equal_nan=True)
    told = " ".join(text.get_text() for text in ax.texts)
    assert ("59.1 in" in told) == (units == "us") and ("1.5 m" in told) == (units == "si")


def test_axes_without_ends_and_without_a_stop(ax):
    result = small_results()["switches"].copy(deep=True)
    result["hard_stop"][1] = np.nan
    result["soft_limit"][2] = np.nan
    assert pictures.switches(result, ax=ax) is ax
    told = [text.get_text() for text in ax.texts]
    assert "no ends" in told and "does not stop within its range" in told


def test_other_results_are_refused():
    with pytest.raises(InputError, match="a result of switches"):
        pictures.switches(sample.check_targets())
