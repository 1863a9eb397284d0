"""The shares of causes are the data set's, in order, and what is left over is told."""

import numpy as np
import pytest

from armwright import pictures
from armwright.errors import InputError
from cases import sample_results as sample
from cases.true_cells import POSTURE, unsure_cell


@pytest.fixture(scope="module")
def dataset():
    return unsure_cell().tool_error(np.array([POSTURE, 0.5 * POSTURE]))


def bars(ax):
    return {patch.get_gid(): patch.get_width() for patch in ax.patches if patch.get_gid()}


@pytest.mark.parametrize(("of", "by"), [("position", "worst"), ("attitude", "rss")])
def test_bars_are_the_shares_of_the_worst_posture(dataset, of, by):
    ax = pictures.error_shares(dataset, of=of, by=by, most=5)
    worst = int(np.argmax(dataset[f"{of}_{by}"].values))
    shares = dataset[f"{of}_share_{by}"].isel(posture=worst).to_series().sort_values(ascending=False)
    drawn = bars(ax)
    assert len(drawn) == 6 and list(drawn)[-1] == f"{(shares > 0).sum() - 5} others"
    np.testing.assert_allclose(sorted(list(drawn.values())[:5], reverse=True), 100 * shares.to_numpy()[:5])
    assert sum(drawn.values()) == pytest.approx(100)
    note = next(text for text in ax.texts if text.get_gid() == "note").get_text()
    value = float(dataset[f"{of}_{by}"].isel(posture=worst))
    assert f"{1000 * value if of == 'position' else np.degrees(value):.3g}" in note.replace("°", "")


def test_another_posture_and_us_units(dataset):
    ax = pictures.error_shares(dataset, posture=1, units="us")
    note = next(text for text in ax.texts if text.get_gid() == "note").get_text()
    assert f"{float(dataset.position_worst[1]) / 0.0254:.3g} in" in note
    assert "not told and not counted" in note


def test_what_cannot_be_drawn_is_refused(dataset):
    with pytest.raises(InputError, match="tool_error"):
        pictures.error_shares(sample.reach_map())
    for wrong in ({"of": "speed"}, {"by": "best"}, {"posture": 7}):
        with pytest.raises(InputError, match=next(iter(wrong))):
            pictures.error_shares(dataset, **wrong)
