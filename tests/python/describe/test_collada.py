# ruff: noqa: E501  messages and tables stand whole
from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from armwright.describe.mesh import check_closed, read_mesh
from armwright.errors import InputError

DAE = """<?xml version="1.0" encoding="utf-8"?>
<COLLADA xmlns="http://www.collada.org/2005/11/COLLADASchema" version="1.4.1">
 <asset><unit meter="0.001" name="mm"/><up_axis>{up}</up_axis></asset>
 <library_geometries><geometry id="g"><mesh>
  <source id="p"><float_array id="a" count="12">0 0 0 1000 0 0 0 1000 0 0 0 500</float_array>
   <technique_common><accessor source="#a" count="4" stride="3"/></technique_common></source>
  <vertices id="v"><input semantic="POSITION" source="#p"/></vertices>
  {faces}
 </mesh></geometry></library_geometries>
 <library_visual_scenes><visual_scene id="s"><node id="n"><translate>0 0 1000</translate>
  <instance_geometry url="#g"/></node></visual_scene></library_visual_scenes>
</COLLADA>"""
TRIANGLES = """<triangles count="4"><input semantic="VERTEX" source="#v" offset="0"/><input semantic="NORMAL" source="#p" offset="1"/>
<p>0 0 2 0 1 0 0 0 1 0 3 0 0 0 3 0 2 0 1 0 2 0 3 0</p></triangles>"""
POLYLIST = """<polylist count="4"><input semantic="VERTEX" source="#v" offset="0"/><vcount>3 3 3 3</vcount>
<p>0 2 1 0 1 3 0 3 2 1 2 3</p></polylist>"""
POLYGONS = """<polygons count="4"><input semantic="VERTEX" source="#v" offset="0"/><p>0 2 1</p><p>0 1 3</p><p>0 3 2</p><p>1 2 3</p></polygons>"""


@pytest.mark.parametrize("faces", [TRIANGLES, POLYLIST, POLYGONS])
def test_faces(tmp_path: Path, faces: str) -> None:
    path = tmp_path / "a.dae"
    path.write_text(DAE.format(up="Z_UP", faces=faces))
    points, triangles = check_closed("path", "a", *read_mesh("path", path))
    assert points.min(axis=0) == pytest.approx((0, 0, 1))
    assert points.max(axis=0) == pytest.approx((1, 1, 1.5))
    assert len(triangles) == 4


def test_up_axis(tmp_path: Path) -> None:
    path = tmp_path / "a.dae"
    path.write_text(DAE.format(up="Y_UP", faces=TRIANGLES))
    points, _ = read_mesh("path", path)
    assert points.max(axis=0) == pytest.approx((1, 0 - 1, 1)), "y of the file is up, its z comes towards the reader"
    assert np.ptp(points, axis=0) == pytest.approx((1, 0.5, 1))


@pytest.mark.parametrize("faces", ["<triangles/>", "<triangles><p>0 1 2</p></triangles>", TRIANGLES.replace("#v", "#x"),
                                   POLYLIST.replace("3 3 3 3", "3 3 3 9"), TRIANGLES.replace("1 0 2", "1 0 x")])  # fmt: skip
def test_broken_files(tmp_path: Path, faces: str) -> None:
    path = tmp_path / "a.dae"
    path.write_text(DAE.format(up="Z_UP", faces=faces))
    with pytest.raises(InputError, match=r"^path: got a\.dae"):
        read_mesh("path", path)


def test_corners_out_of_range(tmp_path: Path) -> None:
    path = tmp_path / "a.dae"
    path.write_text(DAE.format(up="Z_UP", faces=POLYLIST.replace("1 2 3</p>", "1 2 77</p>")))
    with pytest.raises(InputError, match=r"^path: got a\.dae"):
        read_mesh("path", path)
