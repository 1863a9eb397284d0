"""The few lines say the study's answers."""

import numpy as np

from armwright.results import summary
from cases import sample_results as sample


def test_reach_map():
    words = summary(sample.reach_map())
    assert "reach_map of kiln loader" in words
    assert "8.214 ± 0.061" in words and "0.02 m kept" in words and "48 directions" in words


def test_payload_map():
    dataset = sample.payload_map()
    words = summary(dataset)
    mass = dataset.mass_greatest.values
    assert f"{np.nanmin(mass):.3g} kg" in words and f"{np.nanmax(mass):.3g} kg" in words
    assert "load centre (0, 0, 0.06) m" in words and "continuous torque" in words
    assert "axis 2 at" in words and "axis 1 at" not in words


def test_check_targets():
    words = summary(sample.check_targets())
    assert "served 5 of 7" in words and "kiln back: out of reach by 38 mm" in words
    assert "rack-left top" not in words


def test_outlines_and_clearance():
    assert "from axis 1: at most 1.41 m" in summary(sample.outlines())
    dataset = sample.clearance()
    assert f"least distance {dataset.distance.values.min():.3g} m, between forearm and post" in summary(dataset)


def test_nothing_reached():
    dataset = sample.payload_map(0.5)
    dataset["mass_greatest"].values[:] = np.nan
    assert "no position is reached" in summary(dataset)
