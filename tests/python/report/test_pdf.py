"""The page as PDF: pages of A4, all the text in it; and a clear word where it cannot be made."""

from __future__ import annotations

import builtins
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from armwright.errors import InputError
from armwright.report import pdf
from armwright.report.gather import document
from armwright.report.html import render
from cases import sample_results as sample


def test_the_text_stands_in_it(tmp_path: Path) -> None:
    pytest.importorskip("weasyprint")
    made = pdf.to_pdf(render(document([sample.part_loads()])))
    assert made.startswith(b"%PDF-")
    if shutil.which("pdftotext") is None:
        pytest.skip("no pdftotext (Debian: poppler-utils) on this machine to read the PDF with")
    (tmp_path / "a.pdf").write_bytes(made)
    text = subprocess.run(
        ["pdftotext", "-layout", "a.pdf", "-"], cwd=tmp_path, capture_output=True, text=True, check=True
    )
    plain = " ".join(text.stdout.split())
    for words in ("What does each part have to bear", "Bearings of the joints", "TOO LITTLE", "20 000 h", "Cautions"):
        assert words in plain.replace("\u202f", " ").replace("\xa0", " "), words
    size = subprocess.run(["pdfinfo", "a.pdf"], cwd=tmp_path, capture_output=True, text=True, check=True).stdout
    assert "(A4)" in size


def test_without_weasyprint(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "weasyprint", None)  # as if it were not installed
    assert pdf.why_no_pdf().endswith("pip install 'armwright[pdf]'")
    with pytest.raises(InputError, match=r"pdf: got no weasyprint.*armwright\[pdf\].*or no PDF"):
        pdf.to_pdf("<p>")


def test_without_pango(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delitem(sys.modules, "weasyprint", raising=False)
    plain = builtins.__import__

    def refusing(name: str, *more: Any, **others: Any) -> Any:
        if name == "weasyprint":
            raise OSError("cannot load library 'libpango-1.0-0'")
        return plain(name, *more, **others)

    monkeypatch.setattr(builtins, "__import__", refusing)
    with pytest.raises(InputError, match=r"pdf: got weasyprint finds no pango, expected it \(apt-get install"):
        pdf.need_pdf()
