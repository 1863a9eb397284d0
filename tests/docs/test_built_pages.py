"""The pages that Sphinx builds: no warning, no link into nowhere, nothing fetched from elsewhere, nothing left out."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import unquote, urlsplit

import pytest
from lxml import html

import armwright as aw
from armwright import pictures, report, results

ROOT = Path(__file__).parents[2]
# What a browser fetches by itself, by element and attribute; a link that is clicked is not among them.
FETCHED = {"script": "src", "link": "href", "img": "src", "iframe": "src", "source": "src", "object": "data"}


def build(source: Path, target: Path) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "sphinx", "-W", "--keep-going", "-q", "-b", "html", str(source), str(target)]
    return subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)


@pytest.fixture(scope="session")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    pytest.importorskip("sphinx", reason="Sphinx is not installed (pip install .[docs])")
    if "ARMWRIGHT_PAGES" in os.environ:  # built a step before, and refused there if there was a warning
        return ROOT / os.environ["ARMWRIGHT_PAGES"]
    target = tmp_path_factory.mktemp("docs")
    done = build(ROOT / "docs", target)
    assert done.returncode == 0 and done.stderr.strip() == "", done.stderr
    return target


def pages(folder: Path) -> dict[Path, html.HtmlElement]:
    return {path: html.parse(str(path)).getroot() for path in sorted(folder.rglob("*.html"))}


def remote(folder: Path) -> Iterator[str]:
    """What a page, or a style sheet beside it, would have fetched from elsewhere."""
    for path, page in pages(folder).items():
        for tag, attribute in FETCHED.items():
            for element in page.iter(tag):
                address = urlsplit(element.get(attribute) or "")
                if address.netloc or address.scheme not in ("", "data"):
                    yield f"{path.relative_to(folder)}: {tag} {address.geturl()}"
        styles = " ".join(element.text or "" for element in page.iter("style"))
        yield from (f"{path.relative_to(folder)}: {found}" for found in foreign(styles))
    for path in sorted(folder.rglob("*.css")):
        yield from (f"{path.relative_to(folder)}: {found}" for found in foreign(path.read_text(encoding="utf-8")))


def foreign(style: str) -> list[str]:
    return re.findall(r"""(?:url\(\s*["']?|@import\s+["'])(?:https?:)?//[^"')\s]*""", style)


def astray(folder: Path) -> Iterator[str]:
    """Links of a page to a page, or to a place in one, that is not there."""
    read = pages(folder)
    places = {path: {e.get("id") for e in page.iter()} for path, page in read.items()}
    for path, page in read.items():
        for element in page.iter("a"):
            address = urlsplit(element.get("href") or "#")
            if address.scheme or address.netloc:
                continue
            target = (path.parent / unquote(address.path)).resolve() if address.path else path.resolve()
            place = unquote(address.fragment)
            if not target.exists() or (place and target in places and place not in places[target]):
                yield f"{path.relative_to(folder)}: {element.get('href')}"


def test_every_link_leads_somewhere(built: Path) -> None:
    assert list(astray(built.resolve())) == []


def test_nothing_is_fetched_from_elsewhere(built: Path) -> None:
    assert list(remote(built)) == []


def test_every_picture_says_what_is_on_it(built: Path) -> None:
    drawn = [(path.name, image) for path, page in pages(built).items() for image in page.iter("img")]
    told = [(name, image.get("src")) for name, image in drawn if len((image.get("alt") or "").split()) > 3]
    assert drawn and len(told) == len(drawn), [name for name, _ in drawn]


def test_formulas_are_drawn_by_the_browser_alone(built: Path) -> None:
    page = (built / "methods.html").read_text(encoding="utf-8")
    assert page.count("<math") > 20 and "MathJax" not in page


def test_words_of_the_glossary_lead_to_it_once_a_page(built: Path) -> None:
    read = pages(built)
    explained = {term.get("id") for term in read[built / "glossary.html"].iter("dt")}
    for name in ("start", "methods", "limits", "cautions"):
        links = [word.getparent().get("href") for word in read[built / f"{name}.html"].iter("span")
                 if "word" in (word.get("class") or "").split()]  # fmt: skip
        assert len(links) > 8 and len(set(links)) == len(links), name
        assert {link.removeprefix("glossary.html#") for link in links} <= explained


def test_all_that_is_public_is_in_the_reference(built: Path) -> None:
    ids = {e.get("id") for page in pages(built / "reference").values() for e in page.iter()}
    wanted = {f"armwright.{name}" for name in aw.__all__ if name != "ask"}
    wanted |= {f"armwright.designs.ask.{name}" for name in aw.ask.__all__}
    wanted |= {f"armwright.pictures.{name}" for name in pictures.__all__ if name != "UnitSystem"}
    wanted |= {f"armwright.report.{name}" for name in report.__all__}
    wanted |= {f"armwright.results.{name}" for name in results.__all__ if name != "STUDIES"}
    wanted |= {f"armwright.Cell.{name}" for name in dir(aw.Cell) if not name.startswith("_")}
    wanted |= {f"armwright.Arm.{name}" for name in dir(aw.Arm) if not name.startswith("_")}
    assert sorted(wanted - ids) == []


def test_faults_are_found(tmp_path: Path) -> None:
    (tmp_path / "a.html").write_text(
        '<html><body><script src="https://elsewhere/x.js"></script><a href="b.html">b</a><a href="#lost">c</a>'
        '<a href="https://elsewhere/">d</a><style>@import "//elsewhere/y.css"</style></body></html>', encoding="utf-8",
    )  # fmt: skip
    (tmp_path / "z.css").write_text("@font-face { src: url('https://elsewhere/f.woff') }", encoding="utf-8")
    assert list(astray(tmp_path.resolve())) == ["a.html: b.html", "a.html: #lost"]
    assert len(list(remote(tmp_path))) == 3


def test_a_warning_is_an_error(tmp_path: Path) -> None:
    (tmp_path / "conf.py").write_text('extensions = ["myst_parser"]\n', encoding="utf-8")
    (tmp_path / "index.md").write_text("# A page\n\n[lost](gone.md)\n", encoding="utf-8")
    done = build(tmp_path, tmp_path / "out")
    assert done.returncode != 0 and "gone.md" in done.stderr
