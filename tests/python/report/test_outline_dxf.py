"""Outlines as DXF, read back by ezdxf: the curves to the last bit that mm keep, the dimensions as the data are."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from armwright.errors import InputError
from armwright.report import outlines_to_dxf
from armwright.report.outline_dxf import curves_of
from cases import sample_results as sample
from cases.dxf_files import lengths, outlines_on, read_dxf, words

pytest.importorskip("ezdxf")


def test_curves_and_dimensions(tmp_path: Path) -> None:
    dataset = sample.outlines()
    space = read_dxf(outlines_to_dxf(dataset, tmp_path / "o.dxf"))
    section, plan = dataset["section"].values, dataset["plan"].values
    ((told, closed),) = outlines_on(space, "PLAN TOOL POINT")
    assert closed
    np.testing.assert_allclose(told, 1000 * plan[:-1], atol=1e-9)
    ring, arc = outlines_on(space, "SECTION TOOL POINT")
    assert ring[1] and not arc[1] and len(ring[0]) + len(arc[0]) == len(section) - 2
    (axis,) = {line.dxf.start.x for line in space.query('LINE[layer=="AXIS 1"]')}
    np.testing.assert_allclose(arc[0] - [axis, 0], 1000 * section[-121:], atol=1e-9)
    assert f"in the section axis 1 stands at x = {axis:.0f} mm" in " ".join(words(space))
    far, (low, high) = np.nanmax(section[:, 0]), (np.nanmin(section[:, 1]), np.nanmax(section[:, 1]))
    wanted = [far, high - low, high, -low, *np.ptp(plan, axis=0)]
    assert sorted(lengths(space)) == pytest.approx(sorted(1000 * value for value in wanted))
    # Nothing of the section touches the plan.
    assert max(ring[0][:, 0].max(), arc[0][:, 0].max()) < told[:, 0].min()
    assert any("first use" in line for line in words(space)) and any(sample.ARM in line for line in words(space))


def test_curves_that_end_on_axis_1_are_closed_along_it() -> None:
    dataset = sample.outlines()
    half = np.array([[0, -1.0], [1.0, 0.0], [1.0, 0.0], [0, 1.0]])
    dataset = dataset.drop_vars(["section", "wrist_section"])
    dataset["section"] = sample.outlines()["section"].isel(section_point=slice(0, 4)).copy(data=half)
    ((points, closed),) = curves_of(dataset, "section")
    assert closed and points.tolist() == [[0, -1], [1, 0], [0, 1]]
    assert curves_of(dataset, "wrist_section") == []


def test_the_way_of_the_base(tmp_path: Path) -> None:
    dataset = sample.outlines()
    dataset.attrs["track_span"] = [-0.5, 0.25, 0.1, 1.5, 0.25, 0.1]
    space = read_dxf(outlines_to_dxf(dataset, tmp_path / "o.dxf"))
    assert any(length == pytest.approx(2000) for length in lengths(space))
    ends = [(line.dxf.start.x, line.dxf.end.x) for line in space.query('LINE[layer=="TRACK"]')]
    assert (-500, 1500) in ends


def test_what_has_no_outline(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="a result of reach_map, expected a result of outlines; of a map write GLB"):
        outlines_to_dxf(sample.reach_map(0.5), tmp_path / "o.dxf")
    empty = sample.outlines()
    empty["plan"].values[:] = np.nan
    with pytest.raises(InputError, match="no position is reached"):
        outlines_to_dxf(empty, tmp_path / "o.dxf")
    with pytest.raises(InputError, match=r"ends in .dxf"):
        outlines_to_dxf(sample.outlines(), tmp_path / "o.dwg")
    assert list(tmp_path.iterdir()) == []
