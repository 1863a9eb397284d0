"""A report's page as PDF."""

from __future__ import annotations

import importlib.util
import logging

from armwright.errors import InputError


def need_pdf(key: str = "pdf") -> None:
    """Refuses, before any work, what needs a library that is not there."""
    if importlib.util.find_spec("weasyprint") is None:
        raise InputError.of(key, "no weasyprint in this environment", "it: pip install 'armwright[pdf]'; or no PDF")


def to_pdf(page: str) -> bytes:
    """The same page as PDF (A4); it fetches nothing, as the page names nothing to be fetched. Needs weasyprint, and the
    system's pango."""
    need_pdf()
    try:
        import weasyprint  # type: ignore[import-untyped, unused-ignore]
    except OSError as error:  # a library of the system
        wanted = "pango: apt-get install libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0; or no PDF"
        raise InputError.of("pdf", f"weasyprint that cannot be loaded ({error})", wanted) from None
    logging.getLogger("weasyprint").setLevel(logging.ERROR)  # it tells what of the page's style is for screens
    made: bytes = weasyprint.HTML(string=page).write_pdf()
    return made

