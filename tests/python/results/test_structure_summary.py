"""The words of results about springs: written for results of known numbers."""

import numpy as np

from armwright.results import summary
from cases.elastic_arms import elastic_arm


def test_sag_tells_the_worst_posture_and_its_causes():
    cell = elastic_arm()
    rows = np.array([[0, 1.4, 0, 0, 0, 0], [0, 0, 0, 0, 0, 0.0]])
    found = cell.sag(rows)
    text = summary(found)
    assert int(found.sag_size.values.argmax()) == 1
    assert f"sinks by up to {1000 * float(found.sag_size[1]):.3g} mm" in text
    main = int(found.cause_share.values[1].argmax())
    first = f"gives way: {found.cause.values[main]} {100 * float(found.cause_share[1, main]):.0f} %"
    assert first in text
    assert "not counted: axis 4: no bearing described, taken as rigid" in text


def test_maps_and_stiffness_name_the_main_cause():
    cell = elastic_arm()
    found = cell.sag_over_reach(0.4, directions=["down", "x"])
    text = summary(found)
    _, column = np.unravel_index(int(np.nanargmax(found.sag_greatest.values)), found.sag_greatest.shape)
    assert f"{float(found.distance[column]):.3g} m from axis 1" in text
    assert "gives way most: axis" in text
    stiff = cell.stiffness(np.zeros(6))
    text = summary(stiff)
    assert f"{float(stiff.frequency[0]):.4g} Hz" in text
    softest = "xyz"[int(stiff.stiffness_along.values.argmin())]
    assert f"softest along {softest}: {float(stiff.stiffness_along.min()) / 1000:.4g} N/mm" in text


def test_empty_results_have_words_too():
    cell = elastic_arm()
    assert "no postures" in summary(cell.sag(np.zeros((0, 6))))
    assert "no postures" in summary(cell.stiffness(np.zeros((0, 6))))
