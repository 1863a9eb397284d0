from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Annotated, Any

import pytest
from pydantic import TypeAdapter

from armwright.describe import file_docs, load_arm, load_cell, load_cycle, schema
from armwright.describe.problems import FileModel
from armwright.describe.toml_text import parse

PAGE = Path(__file__).parents[3] / "docs" / "files.md"


def test_the_page_is_current() -> None:
    current = "run python -m armwright.describe.schema --docs > docs/files.md"
    assert PAGE.read_text(encoding="utf-8") == file_docs.markdown(), current


def tables_of(model: type[FileModel]) -> dict[str, dict[str, Any]]:
    made = model.model_json_schema()
    return {"": made, **made.get("$defs", {})}


@pytest.mark.parametrize("kind", schema.MODELS)
def test_every_key_is_on_the_page_with_its_meaning(kind: str) -> None:
    """Against pydantic's own schema, before it is tidied."""
    rows = [line for line in file_docs.markdown().splitlines() if line.startswith("| `")]
    for table in tables_of(schema.MODELS[kind]).values():
        for key, told in table["properties"].items():
            assert any(row.startswith(f"| `{key}` |") and told["description"] in row for row in rows), key


def test_every_link_has_its_heading() -> None:
    page = file_docs.markdown()
    headings = {line.lstrip("# ").lower().replace(" ", "-") for line in page.splitlines() if line.startswith("#")}
    links = set(re.findall(r"\]\(#([^)]*)\)", page))
    assert links and links <= headings


def test_quantities_name_their_unit() -> None:
    page = file_docs.markdown()
    assert "| `mass` | quantity | kg | refused |" in page
    assert "| `range` | 2 quantities | rad; m if prismatic | refused |" in page
    assert "| `ratio` | number | none | refused |" in page
    assert "| `speed` | quantity | rad/s; m/s if prismatic |" in page
    assert "| `gravity` | 3 quantities | m/s^2 | `[0, 0, -9.80665]` |" in page


def rows_of(page: str) -> list[list[str]]:
    """Key, value, unit, default, meaning, example of every row of the page's tables."""
    lines = (line for line in page.splitlines() if line.startswith("| `"))
    return [[cell.strip() for cell in line.strip("|").split(" | ")] for line in lines]


def test_every_key_has_an_example_that_toml_takes_and_numbers_a_unit() -> None:
    rows = rows_of(file_docs.markdown())
    assert len(rows) > 350 and {len(row) for row in rows} == {6}
    for key, value, unit, _, _, example in rows:
        (read,) = parse(f"key = {example.strip('`')}", key).values()
        assert read not in ("", [], {}), key
        assert bool(unit) == (value == "number" or "quantit" in value), f"{key}: {value} in {unit}"


@pytest.mark.parametrize("kind", schema.MODELS)
def test_the_example_of_every_key_fits_the_schema(kind: str) -> None:
    """Against jsonschema: a table's example holds what that table cannot be without."""
    jsonschema = pytest.importorskip("jsonschema")
    made = schema.schema(kind)
    tables = {name: table for kind in schema.MODELS for name, table in schema.schema(kind)["$defs"].items()}
    for table in (made, *made["$defs"].values()):
        for key, told in table["properties"].items():
            validator = jsonschema.Draft202012Validator({**told, "$defs": made["$defs"]})
            example = json.loads(json.dumps(file_docs.example_of(told, tables)))
            assert list(validator.iter_errors(example)) == [], key


def test_the_example_of_every_quantity_is_one_of_its_kind() -> None:
    """By each field's own reader, so that no length stands as the example of a mass."""
    models = {model.__name__: model for model in every_model(FileModel)}
    tables = {name: table for kind in schema.MODELS for name, table in schema.schema(kind)["$defs"].items()}
    read = 0
    for name in tables:
        for key, field in models[name].model_fields.items():
            example = file_docs.example_of(tables[name]["properties"][field.alias or key], tables)
            if "x-si-unit" in tables[name]["properties"][field.alias or key] and field.annotation is not Any:
                TypeAdapter(Annotated[(field.annotation, "as told", *field.metadata)]).validate_python(example)
                read += 1
    assert read > 130


def every_model(model: type[FileModel]) -> Iterator[type[FileModel]]:
    for inner in model.__subclasses__():
        yield inner
        yield from every_model(inner)


def test_the_examples_are_read(tmp_path: Path) -> None:
    blocks = re.findall(r"```toml\n# (\S+)\n(.*?)```", file_docs.markdown(), re.DOTALL)
    assert [name for name, _ in blocks] == [
        "arm.toml", "cell.toml", "targets.toml", "parts.toml", "driven.toml", "borne.toml",
        "standing.toml", "cycle.toml",
    ]  # fmt: skip
    for name, text in blocks:
        (tmp_path / name).write_text(text, encoding="utf-8")
    arm = load_arm(tmp_path / "arm.toml")
    assert arm.joints[1].torque_peak == pytest.approx(7.2 * 101 * 0.8)
    cell = load_cell(tmp_path / "cell.toml")
    assert [target.name for target in cell.targets] == ["rack, shelf 2"]
    assert cell.fixtures[0].clearance == pytest.approx(0.02)
    driven = load_arm(tmp_path / "driven.toml")
    assert driven.joints[0].drive is not None and driven.joints[0].drive.ratio == 120
    assert len(driven.assumptions) > 5
    borne = load_cell(tmp_path / "standing.toml")
    assert borne.track is not None and borne.track.pinion_radius == pytest.approx(0.02) and borne.base is not None
    assert borne.arm.joints[0].bearing is not None and borne.arm.structure_line(0)[1][0] == 0.6
    cycle = load_cycle(tmp_path / "cycle.toml", cell)
    assert cycle.period == 30 and len(cycle.moves) == 6
