"""Tables of results, read back by pandas, Python's csv and openpyxl."""

from __future__ import annotations

import csv
from pathlib import Path

import numpy as np
import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from armwright.errors import InputError
from armwright.report.document import Column, Table
from armwright.report.result_files import to_csv, to_xlsx
from armwright.report.table_files import write_xlsx
from armwright.results import make_dataset
from cases import sample_results as sample

openpyxl = pytest.importorskip("openpyxl")


def test_csv_holds_every_number(tmp_path: Path) -> None:
    dataset = sample.reach_map(0.25)
    paths = to_csv(dataset, tmp_path / "reach.csv")
    assert [path.name for path in paths] == ["reach.csv", "reach-columns.csv", "reach-about.csv"]
    assert sorted(tmp_path.iterdir()) == sorted(paths)
    read = pd.read_csv(paths[0], float_precision="round_trip")
    assert list(read)[:4] == ["x (m)", "y (m)", "z (m)", "reach index"]
    back = read.set_index(["x (m)", "y (m)", "z (m)"])["clearance (m)"].to_xarray()
    np.testing.assert_allclose(back.values, dataset["clearance"].values, rtol=1e-14)


def test_in_us_units(tmp_path: Path) -> None:
    read = pd.read_csv(to_csv(sample.payload_map(0.5), tmp_path / "p.csv", units="us")[0])
    inch, pound = 0.0254, 0.45359237  # exact by definition
    np.testing.assert_allclose(read["x (in)"] * inch, np.repeat(sample.grid(0.5)["x"], 7 * 7), atol=1e-12)
    held = sample.payload_map(0.5)["mass_greatest"].values.ravel()
    np.testing.assert_allclose(read["mass greatest (lb)"] * pound, held)


def test_a_workbook_of_a_sheet_a_table(tmp_path: Path) -> None:
    book = openpyxl.load_workbook(to_xlsx(sample.check_targets(), tmp_path / "t.xlsx"))
    assert book.sheetnames == ["target", "target joint", "joint", "columns", "about"]
    rows = list(book["target"].iter_rows(min_row=3, values_only=True))
    heads = dict(zip(rows[0], zip(*rows[1:], strict=True), strict=True))
    assert list(heads["target"]) == list(sample.TARGETS)
    assert list(heads["position z (m)"]) == [row[2] for row in sample.TARGETS.values()]
    assert list(heads["payload (kg)"]) == [7.2 if row[3] else None for row in sample.TARGETS.values()]
    assert list(tmp_path.iterdir()) == [tmp_path / "t.xlsx"]


# Names as descriptions may have them: no control characters.
NAMES = st.text(st.characters(codec="utf-8", exclude_categories=("Cc", "Cs", "Zl", "Zp")), min_size=1, max_size=20)


@settings(max_examples=20, deadline=None)
@given(
    names=st.lists(NAMES | st.sampled_from(["=1+1", '"', "a,b", "/etc", "+1", "@x", "1e5", "true"]), min_size=1,
                   max_size=4),
    numbers=st.lists(st.floats(-1e300, 1e300) | st.just(np.inf), min_size=4, max_size=4),
)  # fmt: skip
def test_names_and_numbers_of_any_kind(
    tmp_path_factory: pytest.TempPathFactory, names: list[str], numbers: list[float]
) -> None:
    folder = tmp_path_factory.mktemp("odd")
    count = len(names)
    dataset = make_dataset(
        "clearance",
        {"distance": np.array(numbers[:count]), "point_a": np.zeros((count, 3)), "point_b": np.zeros((count, 3)),
         "name_a": names, "name_b": [""] * count}, {}, {}, sample.DIGEST, "Töpferei")  # fmt: skip
    with to_csv(dataset, folder / "a.csv")[0].open(encoding="utf-8", newline="") as stream:
        rows = list(csv.DictReader(stream))
    sheet = openpyxl.load_workbook(to_xlsx(dataset, folder / "a.xlsx"))["posture"]
    heads = [cell.value for cell in sheet[3]]
    in_book = [dict(zip(heads, (cell.value for cell in row), strict=True)) for row in sheet.iter_rows(min_row=4)]
    for k, (name, value) in enumerate(zip(names, numbers, strict=False)):
        assert rows[k]["name a"] == name and in_book[k]["name a"] == name
        for told in (rows[k]["distance (m)"], in_book[k]["distance (m)"]):
            assert told == "nothing to come near" if np.isinf(value) else float(told) == pytest.approx(value, rel=1e-15)


def test_more_than_a_sheet_holds(tmp_path: Path) -> None:
    long = Table("long", "Long", (Column("a", "m"),), ((1.0,),) * 2**20)
    with pytest.raises(InputError, match=r"1048576 rows of long, expected at most 1048573 rows.*write CSV"):
        write_xlsx([long], tmp_path / "a.xlsx")
    words = Table("words", "Words", (Column("a"),), (("x" * 40_000,),))
    cell = openpyxl.load_workbook(write_xlsx([words], tmp_path / "b.xlsx"))["words"]["A4"].value
    assert len(cell) == 32767 and cell.endswith("x ... (cut)")
    assert [path.name for path in tmp_path.iterdir()] == ["b.xlsx"]


def test_paths(tmp_path: Path) -> None:
    with pytest.raises(InputError, match=r"ends in .csv .did you mean .*a.csv"):
        to_csv(sample.clearance(), tmp_path / "a.txt")
    with pytest.raises(InputError, match=r"ends in .xlsx"):
        to_xlsx(sample.clearance(), tmp_path / "a.xls")
