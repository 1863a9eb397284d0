"""The boundary curves are the result's own points, with dimensions and the range of each axis."""

import numpy as np
import pytest

from armwright.errors import InputError
from armwright.pictures import axis_ranges, outline_plan, outline_section, outlines
from cases import sample_results as sample


@pytest.mark.parametrize(("draw", "names"), [
    (outline_section, ("section", "wrist_section")), (outline_plan, ("plan", "wrist_plan"))])
def test_curves_and_legend(draw, names):
    dataset = sample.outlines()
    ax = draw(dataset)
    lines = {line.get_gid(): line for line in ax.lines}
    for name in names:
        assert np.array_equal(lines[name].get_xydata(), dataset[name].values, equal_nan=True)
    assert lines[names[0]].get_linestyle() != lines[names[1]].get_linestyle()
    assert [text.get_text() for text in ax.get_legend().get_texts()] == ["tool point", "wrist centre"]


def test_dimensions_are_the_extremes():
    dataset = sample.outlines()
    reach, high, low = (float(v) for v in (np.nanmax(dataset.section[:, 0]), np.nanmax(dataset.section[:, 1]),
                                           np.nanmin(dataset.section[:, 1])))
    written = [text.get_text() for text in outline_section(dataset).texts]
    assert {f"{reach:.2f} m", f"{high:.2f} m", f"{-low:.2f} m"} <= set(written)
    inches = [text.get_text() for text in outline_section(dataset, units="us").texts]
    assert f"{reach / 0.0254:.1f} in" in inches


def test_the_range_of_each_axis_is_listed():
    ax = axis_ranges(sample.outlines())
    assert [label.get_text() for label in ax.get_yticklabels()] == list(sample.JOINTS)
    written = [text.get_text() for text in ax.texts]
    assert {"−165°", "165°", "−60°", "80°", "−350°", "0 m to 2 m, slides"} <= set(written)
    assert ax.get_xlabel() == "joint angle (°)"
    assert len(ax.patches) == 6


def test_joints_without_limits_say_so():
    dataset = sample.outlines()
    dataset["joint_upper"].values[3] = np.inf
    ax = axis_ranges(dataset)
    ax.figure.draw_without_rendering()
    assert "no limit" in [text.get_text() for text in ax.texts]


def test_three_together(ax):
    made = outlines(sample.outlines())
    assert len(made) == 3 and len({a.figure for a in made}) == 1
    given = ax.figure.subplots(1, 3)
    assert all(a is b for a, b in zip(outlines(sample.outlines(), axes=given), given, strict=True))
    with pytest.raises(InputError, match="three axes"):
        outlines(sample.outlines(), axes=given[:2])


def test_nothing_reached_still_draws():
    dataset = sample.outlines()
    for name in ("section", "plan", "wrist_section", "wrist_plan"):
        dataset[name].values[:] = np.nan
    outlines(dataset)[0].figure.draw_without_rendering()


def test_other_results_are_refused():
    for draw in (outlines, outline_section, outline_plan, axis_ranges):
        with pytest.raises(InputError, match="a result of outlines"):
            draw(sample.check_targets())
