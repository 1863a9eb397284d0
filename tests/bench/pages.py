"""Parts of docs/performance.md that programs write, each between its own marks."""

from __future__ import annotations

import re
from pathlib import Path

PAGE = Path(__file__).resolve().parents[2] / "docs" / "performance.md"


def with_part(text: str, name: str, part: str) -> str:
    """The page with ``part`` in the place called ``name``."""
    begin, end = f"<!-- {name}: by tests/bench -->\n", f"<!-- end of {name} -->\n"
    if begin not in text or end not in text:
        raise ValueError(f"the page has no place for {name}")
    return re.sub(re.escape(begin) + ".*?" + re.escape(end), lambda _: begin + part + end, text, flags=re.DOTALL)


def put(name: str, part: str) -> None:
    PAGE.write_text(with_part(PAGE.read_text(encoding="utf-8"), name, part), encoding="utf-8")
