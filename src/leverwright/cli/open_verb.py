"""`open`: the page of one vehicle, served on this machine until Ctrl-C."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from pathlib import Path

from leverwright.cli.around import FINE, Around
from leverwright.cli.options import add_file
from leverwright.cli.refusal import Refused
from leverwright.quantity import quoted

__all__ = ["arguments", "run"]

_PORTS = 65535


def arguments(parser: argparse.ArgumentParser, words: Sequence[str]) -> None:  # noqa: ARG001  # as every verb
    """The file, and where its page is served."""
    parser.description = (
        f"{parser.description}\n\nPrints one line, the page's address, which works once and on this machine only.\n"
        "Ends at Ctrl-C. A FILE that is not there yet is begun on the page and written when you save."
    )
    add_file(parser)
    parser.add_argument("--port", metavar="N", default="0", help="port of this machine (any that is free)")
    parser.add_argument("--no-browser", action="store_true", help="print the address only")


def run(options: argparse.Namespace, around: Around) -> int:
    """Serve until stopped."""
    port = _port(options.port)
    try:
        around.serve(Path(options.file), port, not options.no_browser, around.out.announce)
    except KeyboardInterrupt:
        around.notes.line("The page is closed.")
    return FINE


def _port(typed: str) -> int:
    if typed.isascii() and typed.isdecimal() and len(typed) <= len(str(_PORTS)) and int(typed) <= _PORTS:
        return int(typed)
    raise Refused(
        f"{quoted(typed)} is no port", f"a whole number from 0 to {_PORTS}", "leave --port away", key="--port"
    )
