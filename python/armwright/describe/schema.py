"""JSON schemas of the files, for editors that complete and check while one types. They ship in ``schemas/``.

``python -m armwright.describe.schema`` writes them anew; a test holds them to the models. With ``--docs`` it prints
docs/files.md, which is made from them.

Beside what the standard has, a quantity's node names its SI unit as ``x-si-unit``.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Any

from armwright.describe.arm_file import ArmFile
from armwright.describe.cell_file import CellFile, TargetsFile
from armwright.describe.cycle_file import CycleFile
from armwright.describe.parts_file import PartsFile
from armwright.describe.problems import FileModel

FOLDER = Path(__file__).parent / "schemas"
MODELS: dict[str, type[FileModel]] = {"arm": ArmFile, "cell": CellFile, "targets": TargetsFile, "parts": PartsFile,
                                      "cycle": CycleFile}  # fmt: skip


def schema(kind: str) -> dict[str, Any]:
    """The JSON schema (draft 2020-12) of a file kind: a key of MODELS."""
    made = MODELS[kind].model_json_schema()
    _tidy(made)
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **made, "title": f"armwright {kind} file"}


def _tidy(node: Any) -> None:
    """Takes out what only pydantic cares about: class names as titles, and null for keys that may be left out."""
    if isinstance(node, list):
        for item in node:
            _tidy(item)
    elif isinstance(node, dict):
        if isinstance(node.get("title"), str):
            del node["title"]
        if node.get("default", 0) is None:
            del node["default"]
        whole = node.get("allOf")
        if isinstance(whole, list) and len(whole) == 1:  # how pydantic before 2.10 puts words beside a reference
            del node["allOf"]
            node.update(whole[0])
        options = node.get("anyOf")
        if isinstance(options, list) and {"type": "null"} in options:
            options.remove({"type": "null"})
            if len(options) == 1:
                del node["anyOf"]
                for key, value in options[0].items():
                    node.setdefault(key, value)
        for item in node.values():
            _tidy(item)


def text(kind: str) -> str:
    """The schema as it stands in its file."""
    return json.dumps(schema(kind), indent=2, ensure_ascii=False, sort_keys=True) + "\n"


def write() -> None:
    """Writes the schemas of all kinds of files."""
    FOLDER.mkdir(exist_ok=True)
    for kind in MODELS:
        (FOLDER / f"{kind}.schema.json").write_text(text(kind), encoding="utf-8")


if __name__ == "__main__":
    if "--docs" in sys.argv[1:]:
        from armwright.describe.file_docs import markdown

        print(markdown(), end="")
    else:
        write()
