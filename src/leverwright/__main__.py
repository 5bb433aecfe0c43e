"""The program `leverwright`, and `python -m leverwright`: the command line, and the server that it may start."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Sequence
from pathlib import Path

from leverwright.cli import Refused
from leverwright.cli import main as run

__all__ = ["main"]

# The threads of the linear algebra beneath NumPy wait for one another by spinning. Matrices here are small: one thread
# is as fast on a quiet machine, and on a busy one ten times faster. It is read when NumPy is first imported, by a verb.
for _threads in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ.setdefault(_threads, "1")


def main(words: Sequence[str] | None = None) -> int:
    """Run the command with `words` (those typed, when None); the exit status."""
    return run(words, serve=_serve)


def _serve(file: Path, port: int, browser: bool, announce: Callable[[str], None]) -> None:
    """Serve the page of `file` until stopped; command line and server know nothing of each other."""
    from leverwright.server.run import ServeError, serve  # costs more than `check` may take

    try:
        serve(file, port, browser, announce)
    except ServeError as error:
        raise Refused(
            str(error), "a free port from 1024 to 65535", "leave --port away", key="--port"
        ) from error


if __name__ == "__main__":
    sys.exit(main())
