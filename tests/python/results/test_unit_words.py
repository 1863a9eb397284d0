"""Factors: inch and pound are exact (yard and pound agreement, 1959); the rest NIST SP 811, appendix B."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from armwright.errors import InputError
from armwright.results.summary import summary
from armwright.results.unit_words import in_units, names_in
from cases import sample_results as sample


@pytest.mark.parametrize(("metric", "american"), [
    ("out of reach by 42 mm", "out of reach by 1.65 in"),
    ("12.5 kg wanted and 11.4 kg held (axis 2, continuous)", "27.56 lb wanted and 25.13 lb held (axis 2, continuous)"),
    ("from 0.254 to 2.54 m, then 3 of 11", "from 10 to 100 in, then 3 of 11"),
    ("load centre (0, 0, 0.12) m from the tool frame", "load centre (0, 0, 4.72) in from the tool frame"),
    ("reachable volume 1.20 ± 0.02 m³", "reachable volume 42.38 ± 0.706 ft³"),
    ("tilts with 1000 N·m, presses with −4448.22 N", "tilts with 737.56 lbf·ft, presses with −1000 lbf"),
    ("stress 6.894757 MPa of 100 kPa", "stress 1000 psi of 14.5 psi"),
    ("at 3 m/s², 0.5 m/s, 2 m/s^2 any way", "at 118 in/s², 19.7 in/s, 78.7 in/s² any way"),
    ("1.609344 km", "1 mi"), ("90 °, 5 s, 16 A, 750 W, 12 J, 40 %", "90 °, 5 s, 16 A, 750 W, 12 J, 40 %"),
    ("0 mm", "0 in"), ("1e-06 m", "0.0000394 in"), ("12,700 mm and 1\u202f016 m", "500 in and 40000 in"),
    ("175126.8 N/m", "1000 lbf/in"), ("M12 mm2 x 3 m/s/s 5 mmx", "M12 mm2 x 3 m/s/s 5 mmx"), ("", ""),
])  # fmt: skip
def test_quantities_in_sentences(metric: str, american: str) -> None:
    assert in_units(metric, "us") == american
    assert in_units(metric, "si") == metric


def test_names_stay_as_they_are() -> None:
    text = "board 80 mm: out of reach by 80 mm; tube 30 mm and board 80 mm b held"
    told = in_units(text, "us", ["board 80 mm", "board 80 mm b", "tube 30 mm", "other 5 mm"])
    assert told == "board 80 mm: out of reach by 3.15 in; tube 30 mm and board 80 mm b held"


def test_unknown_system() -> None:
    with pytest.raises(InputError, match='expected "si" or "us"'):
        in_units("1 m", "metric")  # type: ignore[arg-type]


@given(value=st.floats(1e-3, 1e6), digits=st.integers(1, 5))
def test_rounding_changes_less_than_the_last_figure_told(value: float, digits: int) -> None:
    written = f"{value:.{digits}g}"
    if "e" in written:
        written = f"{float(written):.0f}"
    found = re.fullmatch(r"([\d.]+) lb", in_units(f"{written} kg", "us"))
    assert found is not None
    assert float(found[1]) * 0.45359237 == pytest.approx(float(written), rel=5e-3)


def test_a_summary_in_either() -> None:
    result = sample.payload_map()
    metric, american = summary(result), summary(result, "us")
    assert " kg" in metric and " lb" not in metric
    assert " lb" in american and " kg" not in american
    assert result.armwright.summary("us") == american
    assert sample.payload_map().attrs["arm_name"] in names_in(result)
    with pytest.raises(InputError, match='expected "si" or "us"'):
        summary(result, "metric")  # type: ignore[arg-type]
