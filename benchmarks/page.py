"""The page under a hand: a hole dragged, a wheel moved, in headless Chromium against our own server."""

import os
import shutil
import statistics
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from playwright.sync_api import Page, sync_playwright

from benchmarks.clock import Row

__all__ = ["BROWSER", "open_page", "page_rows"]

ROOT = Path(__file__).resolve().parents[1]
BROWSER = (
    os.environ.get("LEVERWRIGHT_BROWSER") or shutil.which("chromium") or shutil.which("chromium-browser")
)
FLAGS = [
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync",
]  # fmt: skip
MOVES = 80

# Notes when each pointer event was made, when the frame after an answer was painted, and what the socket sent.
_WATCH = """
window.bench = { moved: 0, painted: [], frames: [], sent: 0 }
const painted = (done) => requestAnimationFrame(() => {
  const after = new MessageChannel()
  after.port1.onmessage = () => done(performance.now())
  after.port2.postMessage(0)
})
addEventListener('pointermove', (event) => {
  bench.moved = event.timeStamp
  painted((now) => bench.frames.push(now - event.timeStamp))
}, true)
const Socket = window.WebSocket
window.WebSocket = class extends Socket {
  constructor(...given) {
    super(...given)
    this.addEventListener('message', () => {
      const from = bench.moved
      painted((now) => bench.painted.push(now - from))
    })
  }
  send(data) { bench.sent += 1; super.send(data) }
}
"""


@contextmanager
def open_page(file: Path, width: int = 1280, height: int = 900) -> Iterator[Page]:
    """The page of `file`, served by this Python's leverwright and shown in headless Chromium."""
    server = subprocess.Popen(
        [sys.executable, "-m", "leverwright", "open", str(file), "--no-browser"],
        stdout=subprocess.PIPE,
        text=True,
    )
    try:
        if server.stdout is None:
            raise RuntimeError("the server has no output")
        address = server.stdout.readline().split()[-1]
        with sync_playwright() as playwright:
            browser = playwright.chromium.launch(executable_path=BROWSER, args=FLAGS)
            page = browser.new_page(viewport={"width": width, "height": height})
            page.add_init_script(_WATCH)
            page.goto(address)
            page.locator("[data-point]").first.wait_for()
            yield page
            browser.close()
    finally:
        server.terminate()
        server.wait(10)


def page_rows(example: Path) -> list[Row]:
    """A hole dragged and a wheel moved, beside an empty round trip."""
    with tempfile.TemporaryDirectory() as folder:
        copy = Path(shutil.copy(example, folder))
        with open_page(copy) as page:
            trip = _round_trip(page)
            dragged = _dragged(page)
            moved, sent = _wheel_moved(page)
    return [
        Row(
            f"page: hole dragged, pointer event to answers painted, p95 of {MOVES}",
            dragged, 33e-3, "empty round trip, median", trip,
        ),
        Row(f"page: wheel moved, pointer event to next frame, p95; messages sent: {sent}", moved, 33e-3),
    ]  # fmt: skip


def _p95(times: list[float]) -> float:
    return statistics.quantiles(times, n=20)[-1] * 1e-3


def _round_trip(page: Page) -> float:
    times: list[float] = page.evaluate(
        """async () => {
          const times = []
          for (let i = 0; i < 40; i += 1) {
            const begin = performance.now()
            await (await fetch('/assets/icon.svg')).text()
            times.push(performance.now() - begin)
          }
          return times
        }"""
    )
    return statistics.median(times) * 1e-3


def _dragged(page: Page) -> float:
    box = page.locator("[data-point]:not(.fixed) .dot").last.bounding_box()
    if box is None:
        raise RuntimeError("no hole to drag")
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + 6, y)
    page.wait_for_timeout(500)
    page.evaluate("bench.painted = []")
    for count in range(MOVES):
        page.mouse.move(x + 6 + count % 7, y + count % 5)
        page.wait_for_function("count => bench.painted.length > count", arg=count, timeout=5000)
    times: list[float] = page.evaluate("bench.painted")
    page.mouse.up()
    page.wait_for_timeout(500)
    return _p95(times)


def _wheel_moved(page: Page) -> tuple[float, int]:
    slider = page.locator('input[type="range"]').first.bounding_box()
    if slider is None:
        raise RuntimeError("no wheel control")
    y = slider["y"] + slider["height"] / 2
    at = slider["x"] + slider["width"] * 0.35
    page.mouse.move(at, y)
    page.mouse.down()
    page.wait_for_timeout(2000)  # the edit above asks for its remedies once, after rest
    page.evaluate("bench.frames = []; bench.sent = 0")
    for count in range(MOVES):
        page.mouse.move(at + count, y)
        page.wait_for_function("count => bench.frames.length > count", arg=count, timeout=5000)
    page.mouse.up()
    times: list[float] = page.evaluate("bench.frames")
    sent: int = page.evaluate("bench.sent")
    return _p95(times), sent
