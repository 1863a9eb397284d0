"""One browser for all tests of pages: Debian's Chromium, driven by Playwright, with the network cut off."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from typing import Any

import pytest

BROWSER = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome", "chrome"))), None)
# Without a graphics card: all is drawn by the processor, as on most machines that run tests.
_FLAGS = ("--no-sandbox", "--use-gl=angle", "--use-angle=swiftshader", "--enable-unsafe-swiftshader",
          "--host-resolver-rules=MAP * ~NOTFOUND", "--disable-background-networking")


def _started(*flags: str) -> Iterator[Any]:
    if BROWSER is None:
        pytest.skip("no Chromium on this machine to open the page with")
    playwright = pytest.importorskip("playwright.sync_api", reason="no playwright to drive the browser with")
    with playwright.sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=BROWSER, args=[*_FLAGS, *flags])
        yield browser
        browser.close()


@pytest.fixture(scope="session")
def browser() -> Iterator[Any]:
    yield from _started()


@pytest.fixture(scope="module")
def opened(browser: Any, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Callable[..., Any]]:
    """Opens a page's text from disk: opened(text, hash, scheme=, size=, touch=, graphics=). In the end nothing must
    have been told on any console, and nothing asked for but the files themselves."""
    contexts, told, asked = [], [], []

    def run(text: str, hash_: str = "", *, scheme: str = "light", size: tuple[int, int] = (1280, 800),
            touch: bool = False, graphics: bool = True) -> Any:  # fmt: skip
        path = tmp_path_factory.mktemp("page") / "cell.html"
        path.write_text(text, encoding="utf-8")
        context = browser.new_context(
            viewport={"width": size[0], "height": size[1]}, color_scheme=scheme, has_touch=touch, is_mobile=touch,
            offline=True,
        )  # fmt: skip
        contexts.append(context)
        if not graphics:
            context.add_init_script("HTMLCanvasElement.prototype.getContext = () => null")
        page = context.new_page()
        page.set_default_timeout(240_000)  # under a load of twenty it may be slow
        page.on("console", lambda message: told.append(message.text) if graphics else None)
        page.on("pageerror", lambda error: told.append(str(error)))
        page.on("request", lambda request: asked.append(request.url))
        page.goto(path.as_uri() + hash_)
        page.wait_for_selector("body[data-ready]", state="attached")
        return page

    yield run
    for context in contexts:
        context.close()
    assert told == []
    assert [url for url in asked if not url.startswith(("file:", "data:"))] == []
