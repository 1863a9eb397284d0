"""A drawing for CAD: DXF R2010 in millimetres, named layers, dimensions and words."""

from __future__ import annotations

import os
import re
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from armwright.report.packages import package
from armwright.results.whole_file import whole_file

Array = NDArray[np.float64]
MM = 1000.0  # a metre
_TEXTS_A_SIDE = 70  # heights of text along a drawing's greatest extent
_STYLE, _CONTROLS = "WORDS", re.compile(r"[\x00-\x1f\x7f-\x9f\u2028\u2029]")


class Layer(NamedTuple):
    """``colour``: an index of the DXF palette (7: black on white, white on black)."""

    colour: int
    linetype: str = "Continuous"
    weight: int = 25  # hundredths of a mm


COMMON_LAYERS = {"BASE": Layer(7, weight=35), "TRACK": Layer(8), "DIMENSIONS": Layer(8, weight=13),
                 "TEXT": Layer(7, weight=13)}  # fmt: skip


class Drawing:
    """Lines, outlines, dimensions and words on layers. Coordinates are given in m and drawn in mm."""

    def __init__(self, path: str | os.PathLike[str], layers: Mapping[str, Layer], low: Array, high: Array):
        """``low``, ``high``: what will be drawn, (2,) m; text is as large as reads beside it."""
        self._document = package("ezdxf", path).new("R2010", setup=["linetypes"], units=4)  # 4: mm
        self._space = self._document.modelspace()
        span = float(np.max(high - low)) or 1.0
        self.text = float(f"{MM * span / _TEXTS_A_SIDE:.1g}") / MM
        """Height of text, m."""
        header = self._document.header
        header["$MEASUREMENT"], header["$LTSCALE"] = 1, self.text * MM / 4
        self._document.styles.add(_STYLE, font="DejaVuSans.ttf")
        for name, layer in {**COMMON_LAYERS, **layers}.items():
            self._document.layers.add(name, color=layer.colour, linetype=layer.linetype, lineweight=layer.weight)
        high_mm = self.text * MM
        self._document.dimstyles.new("LENGTHS", dxfattribs={
            "dimtxsty": _STYLE, "dimtxt": high_mm, "dimasz": high_mm * 0.8, "dimexe": high_mm / 2, "dimtad": 1,
            "dimexo": high_mm / 3, "dimgap": high_mm / 3, "dimdec": 0, "dimrnd": 0, "dimtix": 1, "dimdsep": 46,
            "dimpost": "<> mm", "dimzin": 8,
        })  # fmt: skip

    def outline(self, points: Array, layer: str, *, closed: bool = True) -> None:
        """A polyline through points (n, 2)."""
        self._space.add_lwpolyline((np.asarray(points) * MM).tolist(), close=closed, dxfattribs={"layer": layer})

    def line(self, start: Array, end: Array, layer: str) -> None:
        self._space.add_line(_mm(start), _mm(end), dxfattribs={"layer": layer})

    def circle(self, centre: Array, radius: float, layer: str) -> None:
        self._space.add_circle(_mm(centre), radius * MM, dxfattribs={"layer": layer})

    def cross(self, at: Array, size: float, layer: str, *, turned: bool = False) -> None:
        """Two lines of length ``size``: upright and level, or (``turned``) both aslant."""
        for way in ((1, 1), (1, -1)) if turned else ((1, 0), (0, 1)):
            half = np.array(way) * size / 2 / float(np.hypot(*way))
            self.line(at - half, at + half, layer)

    def dimension(self, start: Array, end: Array, away: float, *, along: str = "") -> None:
        """A length between two points, its line ``away`` (m) to the left as one goes from start to end; ``along``:
        "x" or "y" for that part alone, of which ``away`` is then the coordinate of the line."""
        attributes = {"dimstyle": "LENGTHS", "dxfattribs": {"layer": "DIMENSIONS"}}
        if along:
            angle, base = (0, (start[0], away)) if along == "x" else (90, (away, start[1]))
            made = self._space.add_linear_dim(base=_mm(base), p1=_mm(start), p2=_mm(end), angle=angle, **attributes)
        else:
            made = self._space.add_aligned_dim(p1=_mm(start), p2=_mm(end), distance=away * MM, **attributes)
        made.render()

    def words(self, told: str, at: Array, *, layer: str = "TEXT", size: float = 1.0, centred: bool = False) -> None:
        """A line of text, its lower left corner (``centred``: its middle) at a point; ``size``: of the usual height."""
        align = package("ezdxf.enums", "").TextEntityAlignment
        attributes = {"layer": layer, "style": _STYLE, "height": size * self.text * MM}
        text = self._space.add_text(_line(told), dxfattribs=attributes)
        text.set_placement(_mm(at), align=align.MIDDLE_CENTER if centred else align.LEFT)

    def paragraph(self, lines: Sequence[str], at: Array, *, size: float = 1.0, above: bool = False) -> None:
        """Lines of text below a point, which is their upper left corner, or (``above``) over it, their lower left."""
        told = "\\P".join(_escaped(line) for line in lines)
        self._space.add_mtext(told, dxfattribs={
            "layer": "TEXT", "style": _STYLE, "char_height": self.text * MM * size, "insert": _mm(at),
            "attachment_point": 7 if above else 1,
        })  # fmt: skip

    def save(self, target: Path) -> Path:
        """Writes it whole or not at all; it opens on everything that is drawn."""
        package("ezdxf.zoom", target).extents(self._space)
        with whole_file(target) as part:
            self._document.saveas(part)
        return target


def _mm(point: Sequence[float] | Array) -> tuple[float, float]:
    return float(point[0]) * MM, float(point[1]) * MM


def _line(told: str) -> str:
    """As a TEXT has it: no control characters; "^" stands for itself; "%%", "\\U+" and "\\M+", which begin codes, with
    a space between."""
    plain = _CONTROLS.sub(" ", told).replace("%%", "% %").replace("%%", "% %").replace("^", "^ ")
    return re.sub(r"\\(?=[UM]\+)", r"\\ ", plain, flags=re.IGNORECASE)


def _escaped(told: str) -> str:
    """As an MTEXT has it: backslash and braces stand for themselves too."""
    return re.sub(r"([\\{}])", r"\\\1", _line(told))
