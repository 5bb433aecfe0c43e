"""`open`: the page of one vehicle, served on this machine until Ctrl-C."""

from __future__ import annotations

import argparse
import os
from collections.abc import Sequence
from pathlib import Path

from leverwright.cli.around import FINE, Around
from leverwright.cli.options import add_file
from leverwright.cli.refusal import Refused, refused_fault
from leverwright.project import ProjectError
from leverwright.project.files import read_file
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
    _check_file(options.file)
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


def _check_file(file: str) -> None:
    """Refuses at once what is no project file; one that is not there needs a folder to come into."""
    if os.path.lexists(file):
        try:
            read_file(file)
        except ProjectError as error:
            raise refused_fault(error.fault) from error
    elif not Path(file).parent.is_dir():
        refused = Refused(
            f"there is no folder {quoted(str(Path(file).parent))}", "a folder that is there", "make it first"
        )
        refused.file = file
        raise refused
