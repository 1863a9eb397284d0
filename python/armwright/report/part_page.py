"""The page that says what each part bears: one file that opens anywhere, and prints."""

from __future__ import annotations

import base64
import io
import math
import os
from collections.abc import Iterable, Iterator
from importlib import resources
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np
import xarray as xr

from armwright import pictures
from armwright.errors import InputError
from armwright.pictures.page_file import page_path, write_page
from armwright.report.cautions import cautions
from armwright.results import check_dataset
from armwright.results.part_summary import Least, least_safeties, where
from armwright.results.part_variables import GROUPS, SITUATIONS
from armwright.results.units import UnitSystem, shown, shown_small
from armwright.results.words import LONG_LIFE

if TYPE_CHECKING:
    from matplotlib.axes import Axes

_HOUR = 3600.0
_SLIGHT = 0.05  # N, N m; less is none
_NO_LIFE = "none told: see To mind"
_PICTURES = {"joint_wrenches": "bearing", "base_loads": "bolt", "track_loads": "block"}
_THIN = "\u202f"  # between thousands, narrow and without a break
_NOTES = {"bearing": "Radial load, axial load and tilting moment are those of the row with the least static safety, "
                     "side by side; the greatest of each over all rows may be greater."}  # fmt: skip
_OTHERS = (*_PICTURES, "bearings", "link_stress")


class Picture(NamedTuple):
    """A picture within the page, and what it shows in words, for those who cannot see it."""

    source: str
    words: str


class Line(NamedTuple):
    """A figure's line of a table; ``cells``: one a situation, (value, safety)."""

    part: str
    quantity: str
    cells: tuple[tuple[str, str], ...]
    bears: str
    wanted: str
    verdict: str
    where: str


class Section(NamedTuple):
    """A group of parts."""

    title: str
    anchor: str
    lines: tuple[Line, ...]
    pictures: tuple[Picture, ...]
    note: str


def part_page(
    part_loads: xr.Dataset, others: Iterable[xr.Dataset] = (), *, path: str | os.PathLike[str],
    units: UnitSystem = "si",
) -> Path:  # fmt: skip
    """Writes what each bearing, link, bolt, block, rail, feed and drive bears at rest, in the cycle and in its worst
    stop, and what was not looked at, as a single HTML file; gives its path.

    ``others``: results of joint_wrenches, bearings, base_loads, track_loads of the same cell, for pictures. The file
    needs nothing beside it and no network. ``units``: "si", or "us" for inches, pounds and psi.

    >>> borne = cell.part_loads(rows=cell.load_rows(stops=False))
    >>> report.part_page(borne, path="bears.html").name
    'bears.html'
    """
    target = page_path(path)
    return write_page(render(part_loads, others, units), target)


def render(part_loads: xr.Dataset, others: Iterable[xr.Dataset] = (), units: UnitSystem = "si") -> str:
    """The page's text."""
    import jinja2

    shown("m", units)  # refuses unknown units
    if check_dataset(part_loads).name != "part_loads":
        raise InputError.of("dataset", f"a result of {part_loads.attrs['study']}", "a result of part_loads")
    least = least_safeties(part_loads)
    drawn = _drawn(part_loads, others, units)
    attrs = part_loads.attrs
    environment = jinja2.Environment(autoescape=True, undefined=jinja2.StrictUndefined, trim_blocks=True,
                                     lstrip_blocks=True)  # fmt: skip
    template = (resources.files("armwright.report") / "templates" / "part_page.html").read_text(encoding="utf-8")
    return environment.from_string(template).render(
        arm=attrs["arm_name"], cell=attrs.get("cell_name", ""), answers=list(_answers(part_loads, least)),
        situations=[SITUATIONS[str(key)] for key in part_loads["situation"].values],
        overview=_picture(pictures.part_safeties(part_loads), "Least safety of each part over what is wanted of it"),
        sections=[_section(part_loads, least, code, drawn, units) for code in _codes(part_loads)],
        missing=attrs["missing"].splitlines(), warnings=attrs["warnings"].splitlines(),
        assumptions=str(attrs.get("assumptions", "")).splitlines(), cautions=[attrs["caution"], *cautions],
        version=attrs["armwright_version"], digest=attrs["inputs_digest"],
    )  # fmt: skip


def _answers(dataset: xr.Dataset, least: list[Least]) -> Iterator[str]:
    """The answer in a few lines: what is too little, what was not looked at, what is weakest, what lasts shortest."""
    judged = [one for one in least if not math.isnan(one.wanted)]
    known = [one for one in judged if not math.isnan(one.safety)]
    weak = sorted((one for one in known if one.share < 1), key=lambda one: one.share)
    if weak:
        yield f"{len(weak)} of {len(known)} figures that could be judged are less than wanted: " + "; ".join(
            f"{_name(dataset, one)}, {one.safety:.2f} of {one.wanted:g}" for one in weak
        ) + "."  # fmt: skip
    elif known:
        one = min(known, key=lambda one: one.share)
        yield (f"All {len(known)} figures that could be judged are as wanted; the weakest: {_name(dataset, one)}, "
               f"safety {one.safety:.2f} of {one.wanted:g}.")  # fmt: skip
    lost = list(dict.fromkeys(str(dataset["part"].values[one.figure]) for one in judged if math.isnan(one.safety)))
    yield f"Not looked at, for want of data: {'; '.join(lost)}." if lost else "Every part that is told could be judged."
    lives = dataset["value"].values[dataset["quantity"].values == "life"]
    finite = lives[np.isfinite(lives)]
    if finite.size:
        shortest = int(np.argmin(np.where(np.isfinite(lives), lives, np.inf).min(axis=1)))
        name = dataset["part"].values[dataset["quantity"].values == "life"][shortest]
        percent = 100 * float(dataset.attrs["reliability"])
        yield f"Shortest life of bearings and blocks at {percent:g} %: {_life(finite.min())} of this duty ({name})."
    absent = [words for key, words in SITUATIONS.items() if key not in dataset["situation"].values]
    if absent:
        yield f"Nothing was looked at {' nor '.join(absent)}."


def _name(dataset: xr.Dataset, one: Least) -> str:
    part, quantity = (str(dataset[name].values[one.figure]) for name in ("part", "quantity"))
    return f"{part} ({quantity}, {SITUATIONS[str(dataset['situation'].values[one.situation])]})"


def _codes(dataset: xr.Dataset) -> list[int]:
    return sorted({int(code) for code in dataset["group"].values})


def _section(
    dataset: xr.Dataset, least: list[Least], code: int, drawn: dict[str, list[Picture]], units: UnitSystem
) -> Section:
    group = list(GROUPS)[code]
    lines, before = [], ""
    for i in np.flatnonzero(dataset["group"].values == code):
        part = str(dataset["part"].values[i])
        lines.append(_line(dataset, least[int(i)], "" if part == before else part, units))
        before = part
    title = GROUPS[group]
    return Section(title[0].upper() + title[1:], group.replace(" ", "-"), tuple(lines), tuple(drawn.get(group, ())),
                   _NOTES.get(group, ""))  # fmt: skip


def _line(dataset: xr.Dataset, one: Least, part: str, units: UnitSystem) -> Line:
    row = dataset.isel(figure=one.figure)
    unit, quantity = str(row["unit"].item()), str(row["quantity"].item())
    cells = tuple(
        (_NO_LIFE if unit == "s" and looked_at and math.isnan(value) else _value(value, unit, units),
         _safety(safety) if not math.isnan(one.wanted) else "")
        for value, safety, looked_at in zip(
            row["value"].values, row["safety"].values, row["looked_at"].values, strict=True
        )
    )  # fmt: skip
    bears = row["bears"].values[~np.isnan(row["bears"].values)]
    told = "" if not bears.size else _value(bears.min(), unit, units)
    wanted = "" if math.isnan(one.wanted) else f"{one.wanted:g}"
    return Line(part, quantity, cells, told, wanted, one.verdict, where(dataset, one))


def _value(value: float, unit: str, units: UnitSystem) -> str:
    if math.isnan(value):
        return ""
    if unit == "s":
        return _life(value)
    if unit == "1":
        return f"{100 * value:.0f} %"
    if math.isinf(value):
        return "no limit"
    how = shown_small(units) if unit == "m" else shown(unit, units)
    if unit in ("N", "N*m") and abs(value) < _SLIGHT:
        value = 0.0
    number, gap, name = how.number(value).partition(" ")
    return _thousands(int(number)) + gap + name if number.isdigit() else number + gap + name


def _thousands(number: float) -> str:
    """Whole; from five digits on in threes."""
    text = f"{number:,.0f}"
    return text.replace(",", _THIN) if abs(number) >= 1e4 else text.replace(",", "")


def _life(seconds: float) -> str:
    hours = seconds / _HOUR
    if hours > LONG_LIFE:
        return f"more than {_thousands(LONG_LIFE)} h"
    return f"{_thousands(hours)} h" if hours >= 100 else f"{hours:.3g} h"


def _safety(safety: float) -> str:
    return "" if math.isnan(safety) else "> 1000" if safety > 1000 else f"{safety:.3g}"


def _drawn(dataset: xr.Dataset, others: Iterable[xr.Dataset], units: UnitSystem) -> dict[str, list[Picture]]:
    """Pictures of the other results, by the group of parts that they show."""
    found: dict[str, xr.Dataset] = {}
    for other in others:
        name = check_dataset(other).name
        if name not in _OTHERS:
            raise InputError.of("others", f"a result of {name}", f"results of {', '.join(_OTHERS)}")
        found[name] = other
    drawn: dict[str, list[Picture]] = {}
    for name, group in _PICTURES.items():
        if name in found:
            each = [_picture(ax, words) for ax, words in _of_study(found[name], found.get("bearings"), units)]
            drawn[group] = each
    return drawn


def _of_study(result: xr.Dataset, bearings: xr.Dataset | None, units: UnitSystem) -> Iterator[tuple[Axes, str]]:
    study = str(result.attrs["study"])
    if study == "joint_wrenches":
        words = "Tilting moment against axial force of the joint that is tilted most, with its bearing's limit"
        yield pictures.wrenches(result, bearings=bearings, units=units), words
    elif study == "base_loads" and "bolt_position" in result:
        yield pictures.bolt_pattern(result, units=units), "The bolts from above, with the tension of each"
    elif study == "track_loads" and result.sizes["block"]:
        yield pictures.block_loads(result, units=units), "Loads of each block onto, off and across its rail"
        if "radial" in result:
            yield pictures.block_course(result, units=units), "Loads of the blocks over the cycle"


def _picture(ax: Axes, words: str) -> Picture:
    import matplotlib.pyplot as plt

    figure: Any = ax.figure.canvas.figure
    with io.BytesIO() as stream:
        figure.savefig(stream, format="png", dpi=110, metadata={"Software": None})
        text = base64.b64encode(stream.getvalue()).decode("ascii")
    plt.close(figure)  # or pyplot keeps it
    return Picture(f"data:image/png;base64,{text}", words)
