"""One run of the command: every way that it can end, as an exit status and at most one sentence."""

from __future__ import annotations

import errno
import os
import sys
import traceback
from collections.abc import Sequence

from leverwright.cli.arguments import parse, verb_module, version
from leverwright.cli.around import BAD_INPUT, FINE, OWN_FAULT, Around, Serve
from leverwright.cli.refusal import Refused
from leverwright.cli.terminal import Terminal

__all__ = ["main"]

_FROM_KEYBOARD = 130  # 128 + SIGINT, as shells count
_NOBODY_READS = 141  # 128 + SIGPIPE


def main(words: Sequence[str] | None, *, serve: Serve) -> int:
    """Run the command with `words` (those typed, when None); the exit status."""
    typed = sys.argv[1:] if words is None else list(words)
    notes = Terminal(sys.stderr)
    try:
        status = _run(typed, Around(Terminal(sys.stdout), notes, serve))
        _hand_over()
    except BrokenPipeError:
        _leave_output()
        return _NOBODY_READS
    except OSError as error:  # what reads and writes files words its own; this is the output
        _leave_output()
        notes.line(f"the answer could not be written: {error.strerror or error}", "stop")
        return BAD_INPUT
    except KeyboardInterrupt:
        notes.line("stopped")
        return _FROM_KEYBOARD
    except Exception:  # noqa: BLE001  # the one place that must not let status 1 stand for a bug
        notes.line("a fault of leverwright itself, not of your file; please report what follows", "stop")
        for row in traceback.format_exc().splitlines():
            notes.row(row)
        return OWN_FAULT
    return status


def _run(words: Sequence[str], around: Around) -> int:
    try:
        options = parse(words)
        if options.version:
            around.out.row(f"leverwright {version()}")
            return FINE
        return verb_module(options.verb).run(options, around)
    except SystemExit:  # argparse has shown the help that was asked for
        return FINE
    except Refused as refused:
        if "--json" in words:
            around.out.raw(refused.document)
        else:
            around.notes.line(refused.sentence, "stop")
        return BAD_INPUT


def _hand_over() -> None:
    """Everything written is handed over; OSError where it has no place."""
    if sys.stdout is None:
        raise OSError(errno.EBADF, "no output is open")
    sys.stdout.flush()


def _leave_output() -> None:
    """Let the interpreter's last flush go nowhere, so that it does not complain again."""
    if sys.stdout is None:
        return
    nowhere = os.open(os.devnull, os.O_WRONLY)
    try:
        os.dup2(nowhere, sys.stdout.fileno())
    except (OSError, ValueError):  # no such stream: nothing to leave
        return
    finally:
        os.close(nowhere)
