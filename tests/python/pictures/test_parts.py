from __future__ import annotations

import matplotlib.pyplot as plt
import pytest

from armwright import pictures
from armwright.errors import InputError
from cases import sample_results as sample


def test_weakest_first_and_what_is_not_known_below() -> None:
    ax = pictures.part_safeties(sample.part_loads())
    names = [text.get_text() for text in ax.get_yticklabels()]
    assert names == ["bolt 2, weakest of 2", "axis 1: bearing", "track: motor", "axis 2: bearing"]
    unknown = [text for text in ax.texts if text.get_text() == "not looked at"]
    assert [text.get_gid() for text in unknown] == ["unknown axis 2: bearing"] and unknown[0].xy[1] == 3
    marks = {(round(float(x), 6), float(y)) for line in ax.lines for x, y in zip(*line.get_data(), strict=False)}
    assert {(0.8, 0.0), (1.3, 0.0), (1.1, 0.0), (round(3.2 / 3, 6), 1.0), (2.0, 2.0)} <= marks
    assert "least safety" in ax.get_xlabel()
    plt.close(ax.figure.canvas.figure)


def test_most() -> None:
    ax = pictures.part_safeties(sample.part_loads(), most=1)
    assert [text.get_text() for text in ax.get_yticklabels()] == ["bolt 2, weakest of 2", "axis 2: bearing"]
    assert "2 stronger parts left out" in next(text.get_text() for text in ax.texts if text.get_gid() == "note")
    plt.close(ax.figure.canvas.figure)


def test_beyond_the_axis_is_drawn_at_its_end() -> None:
    dataset = sample.part_loads()
    dataset["safety"][1] = 1e9
    ax = pictures.part_safeties(dataset)
    assert max(float(x) for line in ax.lines for x in line.get_xdata()) <= 100
    plt.close(ax.figure.canvas.figure)


@pytest.mark.parametrize("most", [0, -1, 2.5, True, "3"])
def test_wrong_most(most: object) -> None:
    with pytest.raises(InputError, match="most: got"):
        pictures.part_safeties(sample.part_loads(), most=most)  # type: ignore[arg-type]


def test_another_result() -> None:
    with pytest.raises(InputError, match="a result of part_loads"):
        pictures.part_safeties(sample.reach_map(0.3))
