from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest

from armwright.describe import file_docs, load_arm, load_cell, load_cycle, schema
from armwright.describe.problems import FileModel

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
    assert "| `ratio` | number |  | refused |" in page
    assert "| `speed` | quantity | rad/s; m/s if prismatic |" in page
    assert "| `gravity` | 3 quantities | m/s^2 | `[0, 0, -9.80665]` |" in page


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
