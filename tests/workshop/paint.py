"""How much the page loads, when it first paints, how fast solids follow a slider: no test.

``python -m tests.workshop.paint`` prints tables. Times are of the browser's own trace, in ms, its
software rendering aside; of solids alone, they are processor times in Node.js. They vary with the
machine and what else it does, so the least and the median of some tries are told. ``--before
COMMIT`` counts the bytes at a commit, too.
"""

from __future__ import annotations

import argparse
import gzip
import os
import subprocess
from collections.abc import Iterator, Mapping
from statistics import median
from typing import Any

from scadgen.hinge.automatic import given_values
from scadgen.hinge.family import all_families
from tests.browser.browser import Browser
from tests.support import ROOT
from tests.workshop.answers import answers

GALLERY = ROOT / "gallery"
#: Drawings of each form whose processor time is measured.
DRAWINGS = 15
#: What the browser reads, in this order; of the rest one file for each form that is chosen.
LOADED = {
    "to paint": ("index.html", "page.css", "page.js"),
    "to draw": ("kernel.js", "viewer.js", "fleets.js"),
    "all forms": ("forms/*.js",),
}
#: The page's files of any time; pictures are left out.
PAGE = (
    "index.html",
    "page.css",
    "page.js",
    "viewer.js",
    "kernel.js",
    "fleets.js",
    "forms",
    "models",
)

PAINTS = """
const entries = performance.getEntriesByType('paint');
const paints = Object.fromEntries(entries.map(entry => [entry.name, entry.startTime]));
const shown = performance.getEntriesByName('shown')[0];
return {...paints, solid: shown ? shown.startTime : null};
"""
#: Moves the slider of each field once to and fro; gives the times to the solids and to the picture.
SLIDES = """
const done = arguments[arguments.length - 1];
const next = name => new Promise(found => {
  const watch = new PerformanceObserver(list => {
    const mark = list.getEntriesByName(name).at(-1);
    if (mark) { watch.disconnect(); found(mark.startTime); }
  });
  watch.observe({type: 'mark'});
});
(async () => {
  const times = [];
  for (const slider of document.querySelectorAll('.field input[type=range]')) {
    if (slider.hidden) continue;
    for (const step of [1, -1]) {
      const before = slider.value;
      step > 0 ? slider.stepUp() : slider.stepDown();
      if (slider.value === before) continue;
      const solids = next('solids'), start = performance.now();
      slider.dispatchEvent(new Event('input', {bubbles: true}));
      times.push(await solids - start);
      await new Promise(rest => setTimeout(rest, 400));
    }
  }
  done(times);
})();
"""


def main() -> None:
    """Print the tables."""
    parser = argparse.ArgumentParser(prog="python -m tests.workshop.paint", description=__doc__)
    parser.add_argument("--before", metavar="COMMIT", help="a commit to count the bytes of, too")
    parser.add_argument("--tries", type=int, default=7, help="how often the page is opened")
    given = parser.parse_args()
    print("| the page loads | bytes | packed |\n|---|---:|---:|")
    for what, patterns in LOADED.items():
        data = [path.read_bytes() for one in patterns for path in GALLERY.glob(one)]
        packed = sum(len(gzip.compress(each)) for each in data)
        print(f"| {what} | {sum(map(len, data)):,} | {packed:,} |")
    for commit in filter(None, (given.before, "HEAD")):
        print(f"| the page without pictures at {commit} | {_bytes_at(commit):,} | |")
    print("\n| solids, processor time | least (ms) | median (ms) |\n|---|---:|---:|")
    for name, cls in all_families().items():
        (spent,) = answers(("effort", name, given_values(cls()), cls.fit, DRAWINGS))
        print(f"| `{name}` | {min(spent):.0f} | {median(spent):.0f} |")
    browser = Browser()
    try:
        browser.driver.set_script_timeout(300)
        print(f"\n| load {os.getloadavg()[0]:.1f} | least (ms) | median (ms) |\n|---|---:|---:|")
        for name, times in _paints(browser, given.tries).items():
            print(f"| {name} | {min(times):.0f} | {median(times):.0f} |")
        for name, times in _slides(browser):
            print(f"| `{name}`: slider to solid | {min(times):.0f} | {median(times):.0f} |")
    finally:
        browser.driver.quit()


def _bytes_at(commit: str) -> int:
    listed = ["git", "ls-tree", "-r", "-l", commit, *(f"gallery/{name}" for name in PAGE)]
    told = subprocess.run(listed, cwd=ROOT, capture_output=True, text=True, check=True)
    return sum(int(line.split()[3]) for line in told.stdout.splitlines())


def _paints(browser: Browser, tries: int) -> Mapping[str, list[float]]:
    found: dict[str, list[float]] = {}
    for _ in range(tries):
        browser.open()
        browser.drawn()
        told: dict[str, Any] = browser.run(PAINTS)
        for name, time in told.items():
            found.setdefault(name.replace("-", " "), []).append(float(time))
    return found


def _slides(browser: Browser) -> Iterator[tuple[str, list[float]]]:
    for name in all_families():
        browser.open(address=f"#form={name}")
        browser.drawn()
        yield name, browser.driver.execute_async_script(SLIDES)


if __name__ == "__main__":
    main()
