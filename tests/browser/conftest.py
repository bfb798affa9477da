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


@pytest.fixture(scope="session")
def opened(browsers: dict[bool, Browser]) -> Opened:
    """Opens the page in a window of a size, in light or dark, with or without WebGL.

    With ``anew=False`` the page stays as the last test left it, if it was opened alike.
    """

    def open_page(
        width: int = 1280,
        height: int = 900,
        *,
        dark: bool = False,
        webgl: bool = True,
        address: str = "",
        anew: bool = True,
    ) -> Browser:
        if webgl not in browsers:
            browsers[webgl] = Browser(webgl=webgl)
        browser = browsers[webgl]
        if anew or browser.opened != (width, height, dark, address):
            browser.open(width, height, dark=dark, address=address)
        return browser

    return open_page
