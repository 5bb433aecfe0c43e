"""A photograph as it may be stored: decoded and written anew by a child process with limits."""

from __future__ import annotations

import contextlib
import os
import subprocess
import sys
import threading
from pathlib import Path
from typing import IO

from leverwright.server.desk import Refusal
from leverwright.server.door import said
from leverwright.server.limits import PHOTO_BYTES, PHOTO_SECONDS
from leverwright.server.photo_child import REFUSED, Bare, NoPicture, bare_picture

__all__ = ["decoded"]

_CHILD = Path(__file__).with_name("photo_child.py")
_ALLOWED = "one JPEG or PNG picture of at most 12 MB and 24 million pixels"
# What the child needs of its surroundings: where its interpreter and Pillow lie.
_HANDED_ON = ("PATH", "PYTHONPATH", "PYTHONHOME", "VIRTUAL_ENV", "LD_LIBRARY_PATH", "SYSTEMROOT")


def decoded(data: bytes) -> Bare:
    """The pixels of `data` as a JPEG without anything beside them; Refusal in one sentence.

    Runs on a bench: it waits for the child, up to PHOTO_SECONDS.
    """
    status, heard = _asked(data)
    if status == REFUSED:
        found, _, do = heard.decode("utf-8", "replace").partition("\n")
        raise Refusal(said(found, _ALLOWED, do), 415)
    try:
        if status == 0:
            return bare_picture(heard)  # a child that was taken over could say anything
    except NoPicture:
        pass
    raise Refusal(
        said("a picture that takes too long or too much memory to decode", _ALLOWED, "save it anew as JPEG"),
        415,
    )


def _asked(data: bytes) -> tuple[int, bytes]:
    """Exit status of the child, and what it wrote."""
    kept = {name: os.environ[name] for name in _HANDED_ON if name in os.environ}
    with subprocess.Popen(  # noqa: S603  our own interpreter and file; nothing of a request is among its words
        [sys.executable, "-P", str(_CHILD)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        cwd=os.sep,
        env=kept,
        start_new_session=True,  # Ctrl-C is for the server alone
    ) as child:
        assert child.stdin is not None
        assert child.stdout is not None
        timer = threading.Timer(PHOTO_SECONDS, child.kill)
        feeder = threading.Thread(target=_feed, args=(child.stdin, data), daemon=True)
        timer.start()
        feeder.start()
        try:
            heard = child.stdout.read(PHOTO_BYTES + 1)
        finally:
            child.stdout.close()  # one that has more to say than any picture of ours ends by that
            status = child.wait()
            timer.cancel()
            feeder.join()
            timer.join()
    return (status, heard) if len(heard) <= PHOTO_BYTES else (-1, b"")


def _feed(pipe: IO[bytes], data: bytes) -> None:
    with contextlib.suppress(OSError), pipe:
        pipe.write(data)
