"""Writes a page of HTML, whole or not at all."""

from __future__ import annotations

import os
import uuid
from pathlib import Path

from armwright.errors import InputError


def page_path(path: str | os.PathLike[str]) -> Path:
    """Refuses, before any work, a path that no page can be written to."""
    target = Path(path)
    if target.suffix.lower() not in (".html", ".htm"):
        raise InputError.of("path", str(target), "a name that ends in .html", f"{target.stem}.html")
    if not target.parent.is_dir():
        raise InputError.of("path", str(target), f"a file in a folder that exists: make {target.parent} first")
    return target


def write_page(text: str, target: Path) -> Path:
    """Writes the text; what stood there stays until all of it is written."""
    part = target.with_name(f".{target.name}.{uuid.uuid4().hex}.part")
    try:
        part.write_text(text, encoding="utf-8")
        part.replace(target)
    except OSError as error:
        part.unlink(missing_ok=True)
        raise InputError.of("path", str(target), f"a folder that can be written to ({error})") from error
    return target
