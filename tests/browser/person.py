"""What a person does at the page, in the words of the page."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

LISTEN = """
document.addEventListener('securitypolicyviolation', (event) => {
  console.error('policy: ' + event.violatedDirective + ' ' + event.blockedURI + ' ' + event.sample)
})
"""


class Person:
    """One page, its file, and everything that went wrong while it was used."""

    def __init__(self, context: Any, address: str, file: Path) -> None:
        self.file = file
        self.troubles: list[str] = []
        self.sent: list[str] = []
        self._context = context
        self._origin = urlsplit(address).netloc
        self.page: Any = self._opened(address)

    def _opened(self, address: str) -> Any:
        page = self._context.new_page()
        page.add_init_script(LISTEN)
        page.on("console", self._heard)
        page.on("pageerror", lambda error: self.troubles.append(f"error: {error}"))
        page.on("request", self._asked)
        page.on("websocket", lambda socket: socket.on("framesent", self._sent))
        page.goto(address)
        page.get_by_role("status").first.wait_for()
        return page

    def reopens(self, address: str) -> None:
        """Closes the page without a word, and opens it again in the same browser."""
        self.page.close()
        self.page = self._opened(address)

    def _heard(self, message: Any) -> None:
        if message.type in {"error", "warning"}:
            self.troubles.append(f"{message.type}: {message.text}")

    def _asked(self, request: Any) -> None:
        parts = urlsplit(request.url)
        if parts.scheme != "blob" and parts.netloc != self._origin:
            self.troubles.append(f"asked outside: {request.url}")

    def _sent(self, frame: Any) -> None:
        self.sent.append(frame if isinstance(frame, str) else str(frame))

    # --- looking --------------------------------------------------------------------------------------------------

    def button(self, name: str) -> Any:
        return self.page.get_by_role("button", name=name, exact=True)

    def sees(self, text: str | re.Pattern[str]) -> None:
        self.page.get_by_text(text).first.wait_for(timeout=10_000)

    def number(self, label: str) -> str:
        """The large number under a label of the read-out."""
        term = self.page.locator(".readout dt", has_text=re.compile(f"^{re.escape(label)}$"))
        return str(term.locator("xpath=following-sibling::dd/span[1]").inner_text())

    def card(self, name: str) -> Any:
        return self.page.locator(f"#card-{name}")

    def open_card(self, name: str) -> Any:
        card = self.card(name)
        fold = card.locator("button.fold")
        if fold.get_attribute("aria-expanded") == "false":
            fold.click()
        return card

    def point(self, name: str) -> tuple[float, float]:
        """Where the middle of a point's handle is on the screen."""
        self.page.locator("svg[aria-label='Drawing of the vehicle']").scroll_into_view_if_needed()
        box = self.page.locator(f"[data-point='{name}'] .dot").bounding_box()
        assert box is not None
        return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2

    def state(self) -> str:
        """What the page says about saving."""
        return str(self.page.locator(".bar .state").inner_text()).strip()

    # --- doing ----------------------------------------------------------------------------------------------------

    def drag(self, start: tuple[float, float], step: tuple[float, float], *, drop: bool = True) -> None:
        mouse = self.page.mouse
        mouse.move(*start)
        mouse.down()
        for part in range(1, 11):
            mouse.move(start[0] + step[0] * part / 10, start[1] + step[1] * part / 10)
            self.page.wait_for_timeout(16)
        if drop:
            mouse.up()

    def types(self, label: str, text: str, within: Any = None) -> None:
        field = (within or self.page).get_by_label(label, exact=False).first
        field.fill(text)
        field.press("Enter")

    def rests(self) -> None:
        """Until the page has asked for remedies, its last message by itself."""
        for _ in range(100):
            if any('"remedies"' in message for message in self.sent):
                return
            self.page.wait_for_timeout(100)
        raise AssertionError("the page never asked for remedies")

    def text(self) -> str:
        return self.file.read_text(encoding="utf-8")
