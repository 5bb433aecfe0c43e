"""The photographs of a vehicle: pictures in a folder beside its file, each under a name of our own.

`cart.toml` has `cart-photos/side-1a2b3c4d.jpg`. A picture is written into a file without a name, brought to the
disk and then named, so that whatever stops the program leaves either the whole picture or nothing. Nothing that
anybody sends chooses a path: a picture is asked for by a name that must stand in the folder's own list.
"""

from __future__ import annotations

import contextlib
import fcntl
import os
import re
import secrets
import stat
from collections.abc import Iterator
from pathlib import Path

from leverwright.project.fault import SaveError
from leverwright.project.saving import reason_of

__all__ = ["PICTURES", "picture_names", "read_picture", "remove_picture", "store_picture"]

# Pictures of one vehicle: two views, again and again, from several places. More fills a disk unseen.
PICTURES = 40
_PICTURE_BYTES = 24_000_000  # ours are a quarter of it; a larger file of such a name is not ours
_NAME = re.compile(r"(?:side|front)-[0-9a-f]{8}\.jpg")
_TEMPORARY = re.compile(r"\.leverwright-[0-9a-f]{32}")
_OPEN_FILES = "/proc/self/fd"
_FOLDER = os.O_RDONLY | os.O_DIRECTORY | os.O_NOFOLLOW | os.O_CLOEXEC
_NEW = os.O_RDWR | os.O_CLOEXEC | os.O_NOFOLLOW


def picture_names(path: Path) -> tuple[str, ...]:
    """Names of the pictures that belong to the project file at `path`, sorted."""
    try:
        with _opened(path) as folder:
            return _names(folder)
    except OSError:
        return ()


def read_picture(path: Path, name: str) -> bytes | None:
    """A picture by a name of `picture_names`; None for any other, and for what is no ordinary file."""
    try:
        with _opened(path) as folder:
            known = {each: each for each in _names(folder)}
            if name not in known:
                return None
            handle = os.open(
                known[name], os.O_RDONLY | os.O_NOFOLLOW | os.O_NONBLOCK | os.O_CLOEXEC, dir_fd=folder
            )
            with os.fdopen(handle, "rb") as file:
                if not stat.S_ISREG(os.fstat(handle).st_mode):
                    return None
                data = file.read(_PICTURE_BYTES + 1)
    except OSError:
        return None
    return data if len(data) <= _PICTURE_BYTES else None


def store_picture(path: Path, view: str, data: bytes) -> str:
    """Bring a picture to the disk; its name. SaveError: there is no more on the disk than before."""
    if view not in ("side", "front"):
        raise SaveError("the photograph was not stored: it is neither of the side nor of the front")
    try:
        made = _make(path)
        try:
            with _opened(path) as folder:
                return _store(folder, view, data)
        finally:
            if made:  # unless a picture lies in it
                with contextlib.suppress(OSError):
                    _place(path).rmdir()
    except OSError as error:
        raise SaveError(f"the photograph was not stored: {reason_of(error)}") from None


def remove_picture(path: Path, name: str) -> bool:
    """Take a picture of `picture_names` off the disk, and the folder with the last one; False: there is none such."""
    try:
        with _opened(path) as folder:
            known = {each: each for each in _names(folder)}
            if name not in known:
                return False
            os.unlink(known[name], dir_fd=folder)
            os.fsync(folder)
        with contextlib.suppress(OSError):  # others are left in it
            _place(path).rmdir()
    except FileNotFoundError:
        return False
    except OSError as error:
        raise SaveError(f"the photograph was not removed: {reason_of(error)}") from None
    return True


def _place(path: Path) -> Path:
    """The folder beside the file itself; a link of the builder's is followed as in saving."""
    file = Path(os.path.realpath(path))
    return file.with_name(f"{file.stem}-photos")


def _make(path: Path) -> bool:
    """Whether the folder had to be made."""
    place = _place(path)
    try:
        place.mkdir()
    except FileExistsError:
        return False
    parent = os.open(place.parent, os.O_RDONLY | os.O_DIRECTORY | os.O_CLOEXEC)
    try:
        os.fsync(parent)
    finally:
        os.close(parent)
    return True


@contextlib.contextmanager
def _opened(path: Path) -> Iterator[int]:
    """The folder itself: a link in its place is not followed."""
    handle = os.open(_place(path), _FOLDER)
    try:
        yield handle
    finally:
        os.close(handle)


def _names(folder: int) -> tuple[str, ...]:
    return tuple(sorted(name for name in os.listdir(folder) if _NAME.fullmatch(name)))


def _store(folder: int, view: str, data: bytes) -> str:
    with contextlib.suppress(BlockingIOError):  # another program stores here: what it writes is no leftover
        fcntl.flock(folder, fcntl.LOCK_EX | fcntl.LOCK_NB)
        _sweep(folder)
    if len(_names(folder)) >= PICTURES:
        raise SaveError(f"the photograph was not stored: there are {PICTURES} already; remove one first")
    temporary = f".leverwright-{secrets.token_hex(16)}"
    handle, named = _nameless(folder, temporary)
    try:
        _write(handle, data)
        name = f"{view}-{secrets.token_hex(4)}.jpg"
        source = (temporary, folder) if named else (f"{_OPEN_FILES}/{handle}", None)
        # Fails when the name is taken, by a picture or by a planted link.
        os.link(source[0], name, src_dir_fd=source[1], dst_dir_fd=folder, follow_symlinks=not named)
    finally:
        os.close(handle)
        if named:
            os.unlink(temporary, dir_fd=folder)
    os.fsync(folder)
    return name


def _nameless(folder: int, temporary: str) -> tuple[int, bool]:
    """A new file in the folder: without a name where the disk can do that, else with one."""
    flag = getattr(os, "O_TMPFILE", 0)
    if flag and Path(_OPEN_FILES).exists():
        with contextlib.suppress(OSError):
            return os.open(".", os.O_RDWR | os.O_CLOEXEC | flag, 0o666, dir_fd=folder), False
    return os.open(temporary, _NEW | os.O_CREAT | os.O_EXCL, 0o666, dir_fd=folder), True


def _write(handle: int, data: bytes) -> None:
    rest = memoryview(data)
    while rest:
        rest = rest[os.write(handle, rest) :]
    os.fsync(handle)
    os.lseek(handle, 0, os.SEEK_SET)
    with os.fdopen(os.dup(handle), "rb") as file:
        if file.read() != data:
            raise SaveError("the photograph was not stored: what was written could not be read back")


def _sweep(folder: int) -> None:
    """What a program that was killed has left, on a disk that knows no nameless files."""
    for name in os.listdir(folder):
        if _TEMPORARY.fullmatch(name):
            with contextlib.suppress(OSError):
                os.unlink(name, dir_fd=folder)
