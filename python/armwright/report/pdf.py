"""A report's page as PDF."""

from __future__ import annotations

import logging

from armwright.errors import InputError


def why_no_pdf() -> str:
    """What is missing to make one, and how to get it; "" where nothing is."""
    try:
        import weasyprint  # type: ignore[import-untyped, unused-ignore]  # noqa: F401
    except ImportError:
        return "no weasyprint in this environment; it comes with pip install 'armwright[pdf]'"
    except OSError:  # a library of the system
        return "weasyprint finds no pango; apt-get install libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0"
    return ""


def need_pdf(key: str = "pdf") -> None:
    """Refuses, before any work, what needs a library that is not there."""
    got, _, wanted = why_no_pdf().partition("; ")
    if got:
        raise InputError.of(key, got, f"it ({wanted}), or no PDF")


def to_pdf(page: str) -> bytes:
    """The same page as PDF (A4); it fetches nothing, as the page names nothing to be fetched. Needs weasyprint, and the
    system's pango."""
    need_pdf()
    import weasyprint

    logging.getLogger("weasyprint").setLevel(logging.ERROR)  # it tells what of the page's style is for screens
    made: bytes = weasyprint.HTML(string=page).write_pdf()
    return made
