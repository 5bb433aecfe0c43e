"""A project file read from the disk: refused at once when it is no ordinary file, too large, or not UTF-8."""

from __future__ import annotations

import errno
import os
import stat

from leverwright.project.fault import Fault, ProjectError
from leverwright.project.limits import LIMITS
from leverwright.quantity import quoted

__all__ = ["read_file", "read_with_revision", "revision_of", "shown_name"]

_ALLOWED = "an ordinary text file in UTF-8"
_REASONS = {
    errno.ENOENT: ("there is no such file", "check the name and the folder"),
    errno.ENOTDIR: ("there is no such folder", "check the folder"),
    errno.ELOOP: ("a link that leads round in a circle", "name the file itself"),
    errno.EACCES: ("a file that you may not read", "change its permissions"),
    errno.ENAMETOOLONG: ("a name that is too long", "give a shorter name"),
}
_KINDS = (
    (stat.S_ISDIR, "a folder"),
    (stat.S_ISFIFO, "a pipe"),
    (stat.S_ISSOCK, "a socket"),
    (stat.S_ISCHR, "a device"),
    (stat.S_ISBLK, "a device"),
)


def read_file(path: str | os.PathLike[str]) -> str:
    """The text of a file; ProjectError when it is none."""
    return _decoded(_bytes_of(os.fsdecode(path)), shown_name(path))


def read_with_revision(path: str | os.PathLike[str]) -> tuple[str, str]:
    """The text of a file with its revision, for saving over it later."""
    data = _bytes_of(os.fsdecode(path))
    return _decoded(data, shown_name(path)), revision_of(data)


def shown_name(path: str | os.PathLike[str]) -> str:
    """A file's name for messages: bytes that are no text are shown as such."""
    return os.fsdecode(path).encode(errors="backslashreplace").decode()


def revision_of(data: bytes) -> str:
    """SHA-256 of a file's bytes."""
    import hashlib  # only for saving: its library takes 5 ms of each start

    return hashlib.sha256(data).hexdigest()


def _bytes_of(name: str) -> bytes:
    try:
        # Looked at before it is opened: opening some devices does something, opening a pipe may wait.
        _check_kind(os.stat(name).st_mode, name)  # noqa: PTH116  one call for all kinds
        handle = os.open(name, os.O_RDONLY | os.O_NONBLOCK | os.O_NOCTTY | os.O_CLOEXEC)
        with os.fdopen(handle, "rb") as file:
            _check_kind(os.fstat(handle).st_mode, name)  # it may have been exchanged meanwhile
            data = file.read(LIMITS.file_bytes + 1)
    except OSError as error:
        found, do = _REASONS.get(
            error.errno or 0, (f"an error: {error.strerror}", "try again, or copy the file")
        )
        if error.errno == errno.ENOENT and os.path.islink(name):  # noqa: PTH114  works for bytes of any kind
            found, do = "a link that leads to no file", "name a file that exists"
        raise ProjectError(Fault(shown_name(name), None, None, found, _ALLOWED, do)) from None
    except ValueError:
        fault = Fault(
            shown_name(name), None, None, "a name with a zero character", _ALLOWED, "check the name"
        )
        raise ProjectError(fault) from None
    if len(data) > LIMITS.file_bytes:
        found, allowed = f"more than {LIMITS.file_bytes} bytes", f"at most {LIMITS.file_bytes} bytes"
        raise ProjectError(Fault(shown_name(name), None, None, found, allowed, "keep one vehicle in a file"))
    return data


def _check_kind(mode: int, name: str) -> None:
    for is_kind, kind in _KINDS:
        if is_kind(mode):
            raise ProjectError(Fault(shown_name(name), None, None, kind, _ALLOWED, "name the file itself"))


def _decoded(data: bytes, name: str) -> str:
    """The text; a mark at its start that says UTF-8 stays in it, one that says UTF-16 is refused."""
    try:
        return data.decode()
    except UnicodeDecodeError as error:
        if data.startswith((b"\xff\xfe", b"\xfe\xff")):
            found = "a file in UTF-16"
        else:
            line = data.count(b"\n", 0, error.start) + 1
            found = f"bytes in line {line} that are not UTF-8 ({quoted(str(data[error.start : error.start + 1]))})"
        raise ProjectError(Fault(name, None, None, found, _ALLOWED, "save it as UTF-8")) from None
