"""Signs of life for work that takes over a second, on a terminal that somebody looks at."""

from __future__ import annotations

import threading
import time
from types import TracebackType
from typing import Self

from leverwright.cli.terminal import Terminal

__all__ = ["Progress"]

_PATIENCE = 1.0  # s before the first sign; less would flicker at every command
_BEAT = 0.2  # s between signs
_BAR = 24  # characters


class Progress:
    """A bar (or, before any share is known, the seconds) while the body of `with` runs."""

    def __init__(self, terminal: Terminal, doing: str) -> None:
        self._terminal = terminal
        self._state: tuple[str, float | None] = (doing, None)
        self._ended = threading.Event()
        self._thread = threading.Thread(target=self._beat, name="progress", daemon=True)

    def __enter__(self) -> Self:
        if self._terminal.watched:
            self._thread.start()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._ended.set()
        if self._thread.ident is not None:
            self._thread.join()

    def at(self, doing: str, share: float) -> None:
        """What is done now, and which share of the whole is behind (0 to 1)."""
        self._state = (doing, share)

    def _beat(self) -> None:
        began = time.monotonic()
        shown = False
        wait = _PATIENCE
        while not self._ended.wait(wait):
            doing, share = self._state
            self._terminal.progress(_row(doing, share, time.monotonic() - began))
            shown, wait = True, _BEAT
        if shown:
            self._terminal.progress("")


def _row(doing: str, share: float | None, seconds: float) -> str:
    if share is None:
        return f"{doing} ({seconds:.0f} s)"
    full = min(_BAR, max(0, round(share * _BAR)))
    return f"[{'#' * full}{'.' * (_BAR - full)}] {doing} ({seconds:.0f} s)"
