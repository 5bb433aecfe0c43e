"""What every verb is given beside its options."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from leverwright.cli.terminal import Terminal

__all__ = ["BAD_INPUT", "FINE", "OWN_FAULT", "STOP", "Around", "Serve"]

FINE, STOP, BAD_INPUT, OWN_FAULT = 0, 1, 2, 3
"""Exit status: fine; a finding says stop; nothing usable was typed or named; a fault of the program."""

Serve = Callable[[Path, int, bool, Callable[[str], None]], None]
"""Serves the page of a file: file, port (0: any), open the browser, what is told the address."""


@dataclass(frozen=True, slots=True)
class Around:
    """Where answers go, where notes go, and how a page is served."""

    out: Terminal
    notes: Terminal
    serve: Serve
