"""A real browser for the tests, and what a person does in it."""

from __future__ import annotations

import base64
import io
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

from PIL import Image
from selenium import webdriver
from selenium.webdriver import ActionChains
from selenium.webdriver.chrome.service import Service
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys
from selenium.webdriver.remote.webelement import WebElement
from selenium.webdriver.support.ui import Select, WebDriverWait

from tests.support import ROOT

PAGE = (ROOT / "gallery" / "index.html").as_uri()
PATIENCE = 30  # s
QUIET = (
    "headless",
    "no-sandbox",
    "disable-gpu",
    "disable-quic",
    "no-first-run",
    "disable-background-networking",
    "disable-component-update",
    "disable-sync",
)
#: Drawn by the processor, where smooth edges are half of the work; no test looks at them.
SOFTWARE = ("use-angle=swiftshader", "enable-unsafe-swiftshader", "webgl-antialiasing-mode=none")

#: Where the viewer is on the page, once it is in the window and has drawn.
PLACE = """
const canvas = document.getElementById('canvas');
canvas.scrollIntoView({block: 'nearest', behavior: 'instant'});
return new Promise(done => requestAnimationFrame(() => setTimeout(() => {
  const {x, y, width, height} = canvas.getBoundingClientRect();
  done({x: x + scrollX, y: y + scrollY, width, height});
})));
"""

T = TypeVar("T")


class Browser:
    """Chromium with the gallery's page in it; ``webgl`` off as on a machine that has none."""

    def __init__(self, *, webgl: bool = True) -> None:
        options = webdriver.ChromeOptions()
        for flag in (*QUIET, *(SOFTWARE if webgl else ("disable-3d-apis",))):
            options.add_argument(f"--{flag}")
        options.binary_location = shutil.which("chromium") or ""
        options.set_capability("goog:loggingPrefs", {"browser": "ALL", "performance": "ALL"})
        service = Service(shutil.which("chromedriver"))
        self.driver = webdriver.Chrome(options=options, service=service)
        self.opened: tuple[int, int, bool, str] | None = None

    def open(
        self, width: int = 1280, height: int = 900, *, dark: bool = False, address: str = ""
    ) -> None:
        """Load the page anew in a window of a size in CSS pixels, with what follows its address."""
        size = {"width": width, "height": height, "deviceScaleFactor": 1, "mobile": width < 600}
        self._command("Emulation.setDeviceMetricsOverride", size)
        self.darken(dark)
        self.driver.get("about:blank")
        self.driver.get(PAGE + address)
        self.opened = (width, height, dark, address)

    def darken(self, dark: bool) -> None:
        """What the person likes, dark or light; a page that is open follows."""
        scheme = {"name": "prefers-color-scheme", "value": "dark" if dark else "light"}
        self._command("Emulation.setEmulatedMedia", {"features": [scheme]})

    def downloads(self, folder: Path) -> None:
        """Files that the page gives go into a folder."""
        values = {"behavior": "allow", "downloadPath": str(folder)}
        self._command("Browser.setDownloadBehavior", values)

    def network(self, there: bool) -> None:
        """Without a network, or with one."""
        speed = -1 if there else 0
        values = {"latency": 0, "downloadThroughput": speed, "uploadThroughput": speed}
        self._command("Network.emulateNetworkConditions", {"offline": not there, **values})

    def _command(self, name: str, values: dict[str, Any]) -> Any:
        return self.driver.execute_cdp_cmd(name, values)

    def run(self, script: str, *values: Any) -> Any:
        """What a script gives."""
        return self.driver.execute_script(script, *values)

    def log(self, kind: str) -> list[dict[str, Any]]:
        """What the browser has logged since it was last asked."""
        return list(self.driver.get_log(kind))  # type: ignore[no-untyped-call]

    def find(self, selector: str) -> WebElement:
        """The first element that a CSS selector finds."""
        return self.driver.find_element(By.CSS_SELECTOR, selector)

    def all(self, selector: str) -> list[WebElement]:
        """All elements that a CSS selector finds."""
        return self.driver.find_elements(By.CSS_SELECTOR, selector)

    def press(self, *keys: str) -> None:
        """Press keys where the focus is."""
        ActionChains(self.driver).send_keys(*keys).perform()

    def replace(self, text: str) -> None:
        """Type a text in place of all that is where the focus is."""
        keys = ActionChains(self.driver).key_down(Keys.CONTROL).send_keys("a").key_up(Keys.CONTROL)
        keys.send_keys(text).perform()

    def until(self, condition: Callable[[], T]) -> T:
        """Wait until something holds, and give it. Raises TimeoutException."""
        return WebDriverWait(self.driver, PATIENCE, 0.05).until(lambda _: condition())

    def comes(self, expression: str, *values: Any) -> None:
        """Wait until an expression of the page holds."""
        self.until(lambda: self.run(f"return Boolean({expression})", *values))

    @property
    def state(self) -> dict[str, str]:
        """What the stage says of itself."""
        return dict(self.run("return {...document.getElementById('stage').dataset}"))

    def choose(self, name: str) -> None:
        """Take a form from the strip and wait until it is drawn."""
        self.find(f"#forms a[data-name={name}]").click()
        current = "document.querySelector('#forms a[aria-current]')"
        self.comes(f"{current}.dataset.name === arguments[0]", name)
        self.drawn()

    def first_seen(self, name: str) -> None:
        """Take a form, on a page that others have used, and look at it as at first: whole."""
        self.choose(name)
        self.pick("cut", "")

    def drawn(self) -> None:
        """Wait until the hinge is drawn at the angle that is set, and its ranges are tried."""
        stage, angle = (f"document.getElementById('{name}')" for name in ("stage", "angle"))
        at = f"Number({stage}.dataset.drawn) === Number({angle}.value)"
        self.comes(f"{stage}.dataset.ready && {at}")

    @property
    def angle(self) -> str:
        """Where the slider of the opening stands."""
        return self.find("#angle").get_attribute("value") or ""

    def slide(self, key: str, times: int) -> None:
        """Press a key on the slider of the opening."""
        self.find("#angle").send_keys(key * times)
        self.drawn()

    def enter(self, name: str, text: str) -> None:
        """Type a value into a field."""
        field = self.find(f"#field-{name}")
        self.run("arguments[0].scrollIntoView({block: 'center'})", field)
        field.send_keys(Keys.CONTROL, "a", Keys.NULL, text)

    def pick(self, name: str, value: str) -> None:
        """Choose from a list."""
        Select(self.find(f"#{name}")).select_by_value(value)

    def point(self, name: str, value: float) -> None:
        """Draw a slider to a value."""
        self.run(
            "const s = document.getElementById(arguments[0]); s.value = arguments[1];"
            "s.dispatchEvent(new Event('input', {bubbles: true}))",
            name,
            value,
        )

    def pdf(self, page: Path) -> bytes:
        """A page as it prints on the paper that it asks for."""
        self.opened = None
        self.driver.get(page.as_uri())
        printed = self._command("Page.printToPDF", {"preferCSSPageSize": True})
        return base64.b64decode(printed["data"])

    def picture(self) -> Image.Image:
        """What the viewer shows, after it has drawn."""
        told = {"optimizeForSpeed": True, "clip": {**self.run(PLACE), "scale": 1}}
        shown = self._command("Page.captureScreenshot", told)["data"]
        return Image.open(io.BytesIO(base64.b64decode(shown))).convert("RGB")

    def focused(self) -> str:
        """The id, or else the class and words, of what has the focus."""
        return str(
            self.run(
                "const e = document.activeElement;"
                "return e.id || `${e.className}: ${e.getAttribute('aria-label') ?? e.textContent}`"
            )
        )
