"""Results for a report are checked, one of each study; postures and lines as words."""

from __future__ import annotations

import numpy as np
import pytest

from armwright.errors import InputError
from armwright.report.found import found, lines_of, posture_words
from cases import sample_results as sample


def test_by_study_with_names() -> None:
    made = found([sample.check_targets(), sample.payload_map(0.5)], absent={"track": ["no track"]})
    assert made.get("check_targets") is not None and made.get("stop") is None
    assert [result.attrs["study"] for result in made.those("payload_map", "stop", "check_targets")] == [
        "payload_map", "check_targets"]  # fmt: skip
    assert set(map(str, sample.check_targets()["target"].values)) <= made.names
    assert made.absent == {"track": ("no track",)}


def test_refused() -> None:
    with pytest.raises(InputError, match="two results of check_targets"):
        found([sample.check_targets(), sample.check_targets()])
    with pytest.raises(InputError, match="results: got dict"):
        found([{}])  # type: ignore[list-item]
    with pytest.raises(InputError, match="units"):
        found([], units="metric")  # type: ignore[arg-type]


def test_words() -> None:
    assert posture_words(np.array([1.5, -np.pi / 6]), ["m", "rad"]) == "1.500 m, −30.0°"
    assert posture_words(np.array([-1e-9, -1e-9]), ["m", "rad"]) == "0.000 m, 0.0°"
    assert posture_words(np.array([np.nan, 0.0]), ["m", "rad"]) == ""
    one, other = sample.check_targets(), sample.payload_map(0.5)
    one.attrs["missing"], other.attrs["missing"] = "a\nb", "b\n\nc"
    assert lines_of([one, other], "missing") == ("a", "b", "c")
