"""A person at the page: the program served on loopback, Debian's chromium in front of it."""

from __future__ import annotations

import importlib
import os
import re
import shutil
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any, NoReturn

import pytest

from tests.browser.person import Person

if TYPE_CHECKING:
    from playwright.sync_api import Browser, ViewportSize

BUILT = Path(__file__).parents[2] / "src/leverwright/server/static/index.html"
# Chromium's own errands fail in a closed network, many at a time; none is part of the page.
FLAGS = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)
SCREENS: dict[str, ViewportSize] = {
    "desktop": {"width": 1280, "height": 860},
    "phone": {"width": 360, "height": 740},
}


def lacking(sentence: str) -> NoReturn:
    """Skip with a sentence; fail where browser tests are required."""
    if os.environ.get("LEVERWRIGHT_BROWSER_REQUIRED") == "1":
        pytest.fail(f"browser tests are required here, but {sentence}")
    pytest.skip(sentence)


# Not for the session: while it lives its event loop counts as running, and the server's tests start loops of their own.
@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    """Chromium, started once a file."""
    path = shutil.which("chromium")
    if path is None:
        lacking("there is no chromium: apt-get install chromium")
    if not BUILT.exists():
        lacking("the page is not built: pip install . does it, or npm ci && npm run build in web/")
    try:
        sync_api = importlib.import_module("playwright.sync_api")
    except ImportError:
        lacking("there is no playwright: pip install '.[test]'")
    with sync_api.sync_playwright() as play:
        chromium = play.chromium.launch(executable_path=path, args=list(FLAGS))
        yield chromium
        chromium.close()


@contextmanager
def served(file: Path) -> Iterator[str]:
    """The address of the page of `file`, good once."""
    command = [sys.executable, "-m", "leverwright", "open", str(file), "--no-browser"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as program:
        assert program.stdout is not None
        try:
            found = re.search(r"http://\S+", program.stdout.readline())
            assert found, "the program printed no address"
            yield found.group(0)
        finally:
            program.terminate()
            program.wait(10)


@pytest.fixture(params=["desktop", "phone"])
def size(request: pytest.FixtureRequest) -> str:
    """Both sizes of screen that a workshop has."""
    return str(request.param)


SitDown = Callable[..., Person]


@pytest.fixture
def sit_down(browser: Browser, tmp_path: Path) -> Iterator[SitDown]:
    """Opens a vehicle for a person; afterwards nothing was refused, asked outside or gone wrong."""
    people: list[Person] = []
    with ExitStack() as stack:

        def sit(text: str | None, size: str = "desktop", **options: Any) -> Person:
            file = tmp_path / "vehicle.toml"
            if text is not None:
                file.write_text(text, encoding="utf-8")
            address = stack.enter_context(served(file))
            context = browser.new_context(viewport=SCREENS[size], has_touch=size == "phone", **options)
            stack.callback(context.close)
            people.append(Person(context, address, file))
            return people[-1]

        yield sit
        for person in people:
            person.page.wait_for_timeout(50)
            assert person.troubles == []
