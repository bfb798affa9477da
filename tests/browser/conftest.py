"""Browsers of the tests: started when first used, shared by all, ended with the run."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import pytest

from tests.browser.browser import Browser

Opened = Callable[..., Browser]


@pytest.fixture(scope="session")
def browsers() -> Iterator[dict[bool, Browser]]:
    started: dict[bool, Browser] = {}
    yield started
    for browser in started.values():
        browser.driver.quit()


@pytest.fixture
def opened(browsers: dict[bool, Browser]) -> Opened:
    """Opens the page in a window of a size, in light or dark, with or without WebGL."""

    def open_page(
        width: int = 1280,
        height: int = 900,
        *,
        dark: bool = False,
        webgl: bool = True,
        address: str = "",
    ) -> Browser:
        if webgl not in browsers:
            browsers[webgl] = Browser(webgl=webgl)
        browsers[webgl].open(width, height, dark=dark, address=address)
        return browsers[webgl]

    return open_page
