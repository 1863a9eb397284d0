"""Writes a page of HTML, whole or not at all."""

from __future__ import annotations

import os
from pathlib import Path

from armwright.results.whole_file import file_path, whole_file


def page_path(path: str | os.PathLike[str]) -> Path:
    """Refuses, before any work, a path that no page can be written to."""
    return file_path(path, ".html", ".htm")


def write_page(text: str, target: Path) -> Path:
    """Writes the text; what stood there stays until all of it is written."""
    with whole_file(target) as part:
        part.write_text(text, encoding="utf-8")
    return target
