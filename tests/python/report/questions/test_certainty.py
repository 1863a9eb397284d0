"""What the section on certainty says is what uncertainty holds."""

from __future__ import annotations

import numpy as np

from armwright.report.questions.certainty import CERTAINTY
from cases.reported import column, numbers, of, small_cell, table


def test_bands_and_causes() -> None:
    sure = small_cell().uncertainty(tolerances={"tool.mass": "20 %", "load.mass": "10 %"}, samples=8)
    section = CERTAINTY.section(of({"uncertainty": sure}))
    bands = table(section, "bands")
    assert column(bands, "answer") == list(sure["answer"].values)
    assert np.allclose(numbers(bands, "from, sampled"), sure["sampled_low"].values, equal_nan=True)
    assert np.allclose(numbers(bands, "median"), sure["sampled_middle"].values, equal_nan=True)
    causes = table(section, "tolerances")
    amounts = dict(zip(sure["number"].values, sure["number_tolerance"].values, strict=True))
    assert numbers(causes, "tolerance, either way") == [
        amounts[name] for name in column(causes, "number of the design")
    ]
    assert any("samples" in line for line in section.assumptions) and section.pictures
