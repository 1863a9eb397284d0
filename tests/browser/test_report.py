"""The report's page in a browser: nothing is fetched, nothing told on the console, no barrier (axe-core) in light and
dark, and on a phone no more to the side than its width."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest

from armwright.report.gather import document
from armwright.report.html import render
from cases import sample_results as sample
from cases.reported import driven_results

FOLD = "open => document.querySelectorAll('details').forEach(each => { each.open = open; })"
WIDE = """() => [...document.querySelectorAll("body *")]
  .filter((each) => each.getBoundingClientRect().right > innerWidth + 1 && !each.parentElement.closest(".scroll"))
  .map((each) => each.outerHTML.slice(0, 200))"""


@pytest.fixture(scope="module")
def page(tmp_path_factory: pytest.TempPathFactory) -> str:
    results = [sample.check_targets(), sample.payload_map(0.5), sample.part_loads(), *driven_results().values()]
    path = tmp_path_factory.mktemp("report") / "report.html"
    path.write_text(render(document(results, scene=sample.scene())), encoding="utf-8")
    return path.as_uri()


@pytest.fixture(params=[("light", 1280), ("dark", 1280), ("light", 390)], ids=["light", "dark", "phone"])
def shown(browser: Any, page: str, request: pytest.FixtureRequest) -> Iterator[Any]:
    scheme, width = request.param
    context = browser.new_context(viewport={"width": width, "height": 800}, color_scheme=scheme, offline=True)
    opened, told, asked = context.new_page(), [], []
    opened.on("console", lambda message: told.append(message.text))
    opened.on("request", lambda wanted: asked.append(wanted.url))
    opened.goto(page)
    yield opened
    context.close()
    assert told == [] and [url for url in asked if not url.startswith(("file:", "data:"))] == []


def test_no_barrier_and_nothing_beside_the_page(shown: Any) -> None:
    axe = pytest.importorskip("axe_playwright_python.sync_playwright", reason="no axe-core to look for barriers with")
    assert shown.locator("details").count() > 3
    shown.evaluate(FOLD, True)
    assert shown.evaluate(WIDE) == []
    assert shown.evaluate("document.documentElement.scrollWidth <= innerWidth")
    found = axe.Axe().run(shown).response["violations"]
    assert [(each["id"], [node["html"][:200] for node in each["nodes"]]) for each in found] == []


def test_rows_fold_out_and_links_lead_to_their_section(shown: Any) -> None:
    folded = shown.locator("details tbody tr")
    assert not folded.first.is_visible()
    shown.locator("summary").first.click()
    assert folded.first.is_visible()
    shown.locator("nav a").nth(1).click()
    name = shown.evaluate("location.hash.slice(1)")
    assert abs(shown.evaluate("name => document.getElementById(name).getBoundingClientRect().top", name)) < 5


def test_print_leaves_out_what_is_folded(shown: Any) -> None:
    shown.evaluate(FOLD, True)
    shown.emulate_media(media="print")
    assert not shown.locator("details").first.is_visible()
    assert shown.locator("nav").is_visible()
