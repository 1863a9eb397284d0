"""XML read safely: no entities, no document types, no network, a size limit."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from armwright.describe.toml_text import size_of
from armwright.describe.wrong import shown
from armwright.errors import InputError, Problem


def read_xml(key: str, path: Path, limit: int) -> Any:
    """The root element of a file; elements know their line (``sourceline``)."""
    from lxml import etree  # type: ignore[import-untyped]

    file = str(path)
    try:
        size = size_of(path)
        data = path.read_bytes() if size <= limit else b""
    except OSError as error:
        raise InputError.of(key, error.strerror or str(error), "a file that can be read", file=file) from None
    if size > limit:
        raise InputError.of(key, f"{size} bytes", f"a file of at most {limit} bytes", file=file)
    # Entities are refused before the parser sees them: libxml2 expands those in attributes. Files in wide encodings,
    # where the words would not be found, are refused too.
    if b"\0" in data[:4096]:
        raise InputError.of(key, "a text that is not UTF-8", "XML in UTF-8", file=file)
    lower = data.lower()
    for mark in (b"<!doctype", b"<!entity"):
        place = lower.find(mark)
        if place >= 0:
            line = data.count(b"\n", 0, place) + 1
            expected = "no document type and no entities (they can blow up a small file without limit)"
            raise InputError([Problem(key, mark.decode().upper(), expected, file=file, line=line)])
    parser = etree.XMLParser(
        resolve_entities=False, no_network=True, load_dtd=False, dtd_validation=False, huge_tree=False,
        remove_comments=True, remove_pis=True,
    )  # fmt: skip
    try:
        root = etree.fromstring(data, parser)
    except (etree.XMLSyntaxError, ValueError) as error:
        known: int | None = getattr(error, "lineno", None)
        raise InputError([Problem(key, shown(str(error), 120), "well-formed XML", file=file, line=known)]) from None
    if root.getroottree().docinfo.doctype:
        raise InputError.of(key, "a document type", "no document type and no entities", file=file)
    return root
