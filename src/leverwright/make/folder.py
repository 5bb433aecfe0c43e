"""A set of files written into a folder all together: a new folder, or one that is empty."""

from __future__ import annotations

import os
import secrets
from collections.abc import Mapping
from pathlib import Path

from leverwright.make.choices import MakeError
from leverwright.quantity import quoted

__all__ = ["write_set"]


def write_set(folder: str | os.PathLike[str], files: Mapping[str, bytes]) -> tuple[Path, ...]:
    """Write all files or none; their paths. `files` has plain names, never paths.

    They are written and flushed under a name that nobody can guess, and take their own names last: a
    crash leaves no sheet that looks whole and is not.
    """
    target = Path(folder)
    if target.is_dir():
        return _into_empty(target, files)
    if os.path.lexists(target):
        raise MakeError(
            found=f"{quoted(str(target))} is not a folder",
            allowed="a new folder, or an empty one",
            do="name another folder",
        )
    if not target.parent.is_dir():
        raise MakeError(
            found=f"no folder {quoted(str(target.parent))}",
            allowed="a new folder inside one that exists",
            do="make it first, or name another folder",
        )
    return _as_new(target, files)


def _as_new(target: Path, files: Mapping[str, bytes]) -> tuple[Path, ...]:
    """Fill a hidden folder beside it, then give that its name."""
    hidden = target.parent / f".{secrets.token_hex(8)}.part"
    try:
        hidden.mkdir()
        for name, content in files.items():
            _write(hidden / name, content)
        _flush_folder(hidden)
        hidden.rename(target)
        _flush_folder(target.parent)
    except OSError as error:
        _clear(hidden, files)
        raise _failed(target, error) from error
    return tuple(target / name for name in files)


def _into_empty(target: Path, files: Mapping[str, bytes]) -> tuple[Path, ...]:
    """Fill a hidden folder inside it, then move the files up."""
    hidden = target / f".{secrets.token_hex(8)}.part"
    moved: list[Path] = []
    try:
        if any(target.iterdir()):
            raise MakeError(
                found=f"the folder {quoted(str(target))} is not empty",
                allowed="a new folder, or an empty one",
                do="empty it, or name another: nothing is overwritten",
            )
        hidden.mkdir()
        for name, content in files.items():
            _write(hidden / name, content)
        for name in files:
            (hidden / name).rename(target / name)
            moved.append(target / name)
        hidden.rmdir()
        _flush_folder(target)
    except OSError as error:
        for path in moved:
            _remove(path)
        _clear(hidden, files)
        raise _failed(target, error) from error
    return tuple(moved)


def _write(path: Path, content: bytes) -> None:
    """A new file, flushed to the disk."""
    with path.open("xb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())


def _flush_folder(folder: Path) -> None:
    """The folder's entries to the disk, where the system has a way."""
    if os.name == "nt":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def _clear(hidden: Path, files: Mapping[str, bytes]) -> None:
    """Take away what was begun; what cannot be taken away stays hidden."""
    for name in files:
        _remove(hidden / name)
    try:
        hidden.rmdir()
    except OSError:
        return


def _remove(path: Path) -> None:
    try:
        path.unlink()
    except OSError:
        return


def _failed(target: Path, error: OSError) -> MakeError:
    return MakeError(
        found=f"the folder {quoted(str(target))} cannot be written ({error.strerror or 'unknown reason'})",
        allowed="a folder that you may write in, with room on the disk",
        do="name another folder; nothing was kept of this set",
    )
