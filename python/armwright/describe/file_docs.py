"""docs/files.md: every table and key of the description files, from their JSON schemas.

``python -m armwright.describe.schema --docs`` prints it; a test holds the page to the schemas.
"""

from __future__ import annotations

import json
from importlib.resources import files
from typing import Any

from armwright.describe.schema import MODELS, schema

# What a table is called on the page, where that is not plain from its name in the schema.
_TITLES = {
    "DhFile": "DH row", "ArmRefFile": "arm of a cell", "UrdfFile": "URDF",
    "HoldingMotorFile": "short motor of a joint", "CellBaseFile": "base of a cell", "BoltPatternFile": "bolts",
    "RailBeamFile": "rail beam", "LiftingEyeFile": "lifting eye", "ServiceVolumeFile": "service volume",
    "CycleLimitsFile": "limits of a cycle",
}  # fmt: skip
# Tables whose keys others take over whole; the largest that fits is named instead of its keys.
_BASES = ("FixtureFile", "ShapeFile", "LinkFile", "PoseFile")

# What an example of a table shows, where that is not what the table cannot be without.
_SHOWN = {
    "PoseFile": ("position",), "ShapeFile": ("kind", "size"), "FixtureFile": ("kind", "size", "position"),
    "TargetFile": ("name", "position", "direction"), "LinkFile": ("name", "mass", "centre"),
    "DhFile": ("d", "a", "alpha"), "FrictionFile": ("coulomb",),
    "StructureFile": ("section", "outer", "wall", "material"),
    "BoltPatternFile": ("circle_diameter", "count", "size"), "CellBaseFile": ("bolts",),
    "CycleLimitsFile": ("tool_speed",), "StageFile": ("kind", "ratio"), "BearingFile": ("kind", "static_rating"),
    "MoveFile": ("kind", "to"), "FeedFile": ("kind", "module"), "CounterbalanceFile": ("kind", "link_a", "link_b"),
    "JointFile": ("axis", "range", "link"),
    "RailBeamFile": ("span", "section", "outer", "wall", "material"),
}  # fmt: skip


def markdown() -> str:
    """The text of docs/files.md."""
    schemas = {kind: schema(kind) for kind in MODELS}
    tables = {name: table for made in schemas.values() for name, table in made["$defs"].items()}
    users = {name: [kind for kind, made in schemas.items() if name in made["$defs"]] for name in tables}
    parts = [(files("armwright.describe") / "file_docs.md").read_text(encoding="utf-8")]
    for kind, made in schemas.items():
        parts.append(_section(f"## {kind} file", made, tables))
        parts += [_section(f"### {_title(name)}", tables[name], tables) for name in users if users[name] == [kind]]
    parts.append("## Tables of several files\n")
    parts += [_section(f"### {_title(name)}", tables[name], tables) for name in users if len(users[name]) > 1]
    return "\n".join(parts)


def _section(heading: str, table: dict[str, Any], tables: dict[str, dict[str, Any]]) -> str:
    """A table's heading, meaning and keys; keys that another table has too are named by that table."""
    keys, meaning = table["properties"], " ".join(table["description"].split())
    rows = [heading, "", meaning, ""]
    base = next((b for b in _BASES if tables[b] is not table and _holds(keys, tables[b]["properties"])), None)
    if base is not None:
        keys = {name: told for name, told in keys.items() if name not in tables[base]["properties"]}
        rows += [f"All keys of {_link(base)}{', and:' if keys else '.'}", ""]
    if keys:
        rows += ["| key | value | SI unit | without it | meaning | example |", "|---|---|---|---|---|---|"]
        needed = table.get("required", ())
        rows += [_row(name, told, name in needed, tables) for name, told in keys.items()] + [""]
    return "\n".join(rows)


def _holds(keys: dict[str, Any], others: dict[str, Any]) -> bool:
    return all(keys.get(name) == told for name, told in others.items())


def _row(name: str, told: dict[str, Any], needed: bool, tables: dict[str, dict[str, Any]]) -> str:
    example = f"`{_toml(example_of(told, tables))}`"
    default = told.get("default")
    without = "refused" if needed else "" if default in (None, []) else f"`{_toml(default)}`"
    value = _value(told)
    unit = told.get("x-si-unit", "none" if value == "number" else "")
    cells = (f"`{name}`", value, unit, without, told["description"], example)
    return "| " + " | ".join(cell.replace("|", "\\|") for cell in cells) + " |"


def example_of(told: dict[str, Any], tables: dict[str, dict[str, Any]]) -> Any:
    """What may stand there: the schema's own example; else a choice, or a table with what it cannot be without."""
    if "examples" in told:
        return told["examples"][0]
    if "enum" in told:
        return told["enum"][0]
    if "anyOf" in told:
        return example_of(told["anyOf"][-1], tables)
    if told.get("type") == "array":
        return [example_of(told["items"], tables)]
    name = told["$ref"].rpartition("/")[2]
    keys = _SHOWN.get(name) or tables[name]["required"]
    return {key: example_of(tables[name]["properties"][key], tables) for key in keys}


def _value(node: dict[str, Any]) -> str:  # noqa: PLR0911  a line a kind
    """In words, what may stand there."""
    if "$ref" in node:
        return _link(node["$ref"].rpartition("/")[2])
    if "enum" in node:
        return ", ".join(f"`{_toml(choice)}`" for choice in node["enum"])
    if "anyOf" in node:
        if any(option.get("items", {}).get("type") == "array" and "x-si-unit" in node for option in node["anyOf"]):
            return "quantity or list of: 2 quantities"
        lengths = [option["minItems"] for option in node["anyOf"] if "minItems" in option]
        if lengths and {"type": "string"} in node["anyOf"]:  # a list, or the same in one text
            return f"{lengths[0]} {'quantities' if 'x-si-unit' in node else 'numbers'}"
        return " or ".join(dict.fromkeys(_value(option) for option in node["anyOf"]))
    if node.get("type") == "array":
        inner = _value(node["items"]) if "items" in node else "text"
        return f"{node['minItems']} of: {inner}" if "minItems" in node else f"list of: {inner}"
    if node.get("type") == "string":
        return "quantity" if "x-si-unit" in node else "text"
    if node.get("type") == "object":
        return "table of: quantity, by name"
    return "true or false" if node.get("type") == "boolean" else "number"


def _toml(value: Any) -> str:
    """A value as TOML has it."""
    if isinstance(value, list | tuple):
        return "[" + ", ".join(map(_toml, value)) + "]"
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{_key(key)} = {_toml(item)}" for key, item in value.items()) + " }"
    return json.dumps(int(value) if isinstance(value, float) and value.is_integer() else value, ensure_ascii=False)


def _key(name: str) -> str:
    return name if name.isidentifier() else json.dumps(name, ensure_ascii=False)


def _title(name: str) -> str:
    return _TITLES.get(name, name.removesuffix("File").lower())


def _link(name: str) -> str:
    title = _title(name)
    return f"[{title}](#{title.lower().replace(' ', '-')})"
