"""A text saved so that a crash, a full disk or another program cannot leave half of it.

The new content goes into a file without a name, is brought to the disk, read again and compared; then it
takes the old one's place in one step, and the folder is brought to the disk. Meanwhile a lock on the
folder, which leaves no file, keeps a second save out; the old content is compared with the revision that
was read when the lock is taken and again just before the exchange.

Works where folders can be opened and synchronised: Linux, macOS and their kin.
"""

from __future__ import annotations

import contextlib
import errno
import fcntl
import os
import secrets
import stat
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from leverwright.project.fault import ChangedOnDisk, SaveError
from leverwright.project.files import revision_of, shown_name
from leverwright.project.limits import LIMITS

__all__ = ["reason_of", "save_text"]

# s. Another save holds the folder for some hundredths of a second; longer means that something hangs.
_LONGEST_WAIT = 3.0
_WAIT_STEP = 0.01
# Names of our temporary files: 128 random bits, so that nobody can put a link there beforehand.
_TEMPORARY = ".leverwright-"
_TOKEN_BYTES = 16
# Where the system shows a process its open files; a nameless file gets its name from there.
_OPEN_FILES = "/proc/self/fd"
_KNOWS_NO_LINKS = (errno.EPERM, errno.EOPNOTSUPP, errno.ENOSYS)
_CANNOT_BE_NAMELESS = (errno.EOPNOTSUPP, errno.EISDIR, errno.EINVAL)
_REASONS = {
    errno.ENOSPC: "the disk is full",
    errno.EDQUOT: "your share of the disk is full",
    errno.EFBIG: "the file would be larger than is allowed here",
    errno.EROFS: "the disk is read-only",
    errno.EACCES: "you may not write in this folder",
    errno.EPERM: "you may not write this file",
    errno.EIO: "the disk reports an error",
    errno.ENOENT: "there is no such folder",
    errno.ENOTDIR: "there is no such folder",
    errno.ELOOP: "the name is a link that leads round in a circle",
    errno.ENAMETOOLONG: "the name is too long",
}


def save_text(path: str | os.PathLike[str], text: str, expected_revision: str | None) -> str:
    """Brings `text` to the disk in place of the revision that was read; the new revision.

    expected_revision  what `revision` said when the file was read; None: the file must not exist yet

    When it returns, the content and the folder's entry for it are on the disk. SaveError: the file has
    its old content, unless the sentence says that the new one is there and may be lost.
    """
    name = shown_name(path)
    data = _data(text, name)
    try:
        folder, base = _place(os.fsdecode(path), new=expected_revision is None)
        with _locked(folder, name) as handle:
            _sweep(handle)
            _Saving(handle, base, name, expected_revision).run(data)
    except OSError as error:
        raise _failed(name, error) from None
    except ValueError:
        raise SaveError(f"{name} was not saved: the name holds a zero character") from None
    return revision_of(data)


def _place(name: str, *, new: bool) -> tuple[str, str]:
    """Folder and name of the file itself. A link of the builder's is kept; a new file follows none."""
    if new:
        folder, base = os.path.split(name)
        return os.path.realpath(folder, strict=True), base
    return os.path.split(os.path.realpath(name, strict=True))


def _data(text: str, name: str) -> bytes:
    """The bytes to write; refused when they could not be read again."""
    try:
        data = text.encode()
    except UnicodeEncodeError:
        raise SaveError(f"{name} was not saved: half of a character pair stands in the text") from None
    if len(data) > LIMITS.file_bytes:
        raise SaveError(
            f"{name} was not saved: it has {len(data)} bytes, and at most {LIMITS.file_bytes} are read"
        )
    return data


@contextlib.contextmanager
def _locked(folder: str, name: str) -> Iterator[int]:
    """The folder, opened and locked; the lock goes with the process that holds it."""
    handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY | os.O_CLOEXEC)
    try:
        end = time.monotonic() + _LONGEST_WAIT
        while not _lock(handle):
            if time.monotonic() > end:
                raise SaveError(f"{name} was not saved: another program holds its folder locked; try again")
            time.sleep(_WAIT_STEP)
        yield handle
    finally:
        os.close(handle)


def _lock(handle: int) -> bool:
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        return False
    return True


def _sweep(folder: int) -> None:
    """Removes what a save that was killed has left: with the lock held, none of these is in use."""
    for name in os.listdir(folder):
        token = name.removeprefix(_TEMPORARY)
        if token != name and len(token) == 2 * _TOKEN_BYTES and set(token) <= set("0123456789abcdef"):
            with contextlib.suppress(OSError):
                os.unlink(name, dir_fd=folder)


@dataclass(frozen=True, slots=True)
class _Saving:
    """One save in a locked folder."""

    folder: int
    base: str
    name: str
    expected: str | None

    def run(self, data: bytes) -> None:
        """Writes, compares and exchanges."""
        old = self._old()
        temporary = _TEMPORARY + secrets.token_hex(_TOKEN_BYTES)
        handle, named = self._nameless(temporary)
        try:
            self._write(handle, data, old)
            if not named and old is not None:
                self._give_name(handle, temporary)
                named = True
            self._exchange(handle, temporary if named else None, old)
        finally:
            os.close(handle)
            if named:
                with contextlib.suppress(OSError):  # after the exchange it has no such name any more
                    os.unlink(temporary, dir_fd=self.folder)
        self._settle()

    def _old(self) -> os.stat_result | None:
        """The state of the file as it is; ChangedOnDisk when it is not the revision that was read."""
        try:
            found = os.stat(self.base, dir_fd=self.folder, follow_symlinks=False)
        except FileNotFoundError:
            if self.expected is None:
                return None
            raise ChangedOnDisk(
                f"{self.name} was not saved: the file has been removed since it was read"
            ) from None
        if self.expected is None:
            raise ChangedOnDisk(f"{self.name} was not saved: there is a file of this name already")
        if not stat.S_ISREG(found.st_mode):
            raise SaveError(f"{self.name} was not saved: it is no ordinary file")
        if found.st_nlink > 1:
            raise SaveError(
                f"{self.name} was not saved: the file has a second name (a hard link) that would be cut off"
            )
        if not os.access(self.base, os.W_OK, dir_fd=self.folder, effective_ids=True):
            raise SaveError(f"{self.name} was not saved: the file is write-protected")
        self._compare(found)
        return found

    def _compare(self, found: os.stat_result) -> None:
        """Is the file on the disk still the one that was read?"""
        handle = os.open(
            self.base, os.O_RDONLY | os.O_NOFOLLOW | os.O_NONBLOCK | os.O_CLOEXEC, dir_fd=self.folder
        )
        with os.fdopen(handle, "rb") as file:
            same = os.path.samestat(os.fstat(handle), found)
            if not same or revision_of(file.read(LIMITS.file_bytes + 1)) != self.expected:
                raise ChangedOnDisk(
                    f"{self.name} was not saved: another program has changed it since it was read"
                )

    def _nameless(self, temporary: str) -> tuple[int, bool]:
        """A new file in the folder: without a name where the disk can do that, else with one."""
        nameless = getattr(os, "O_TMPFILE", 0)
        if nameless and Path(_OPEN_FILES).exists():
            try:
                return os.open(".", os.O_RDWR | nameless | os.O_CLOEXEC, 0o666, dir_fd=self.folder), False
            except OSError as error:
                if error.errno not in _CANNOT_BE_NAMELESS:
                    raise
        flags = os.O_RDWR | os.O_CREAT | os.O_EXCL | os.O_NOFOLLOW | os.O_CLOEXEC
        return os.open(temporary, flags, 0o666, dir_fd=self.folder), True

    def _write(self, handle: int, data: bytes, old: os.stat_result | None) -> None:
        """Content, owner and mode onto the disk, and read back."""
        rest = memoryview(data)
        while rest:
            rest = rest[os.write(handle, rest) :]
        if old is not None:
            new = os.fstat(handle)
            if (new.st_uid, new.st_gid) != (old.st_uid, old.st_gid):
                self._keep_owner(handle, old)
            if stat.S_IMODE(new.st_mode) != stat.S_IMODE(old.st_mode):
                os.fchmod(handle, stat.S_IMODE(old.st_mode))
        os.fsync(handle)
        if os.pread(handle, len(data) + 1, 0) != data:
            raise SaveError(f"{self.name} was not saved: what was written could not be read back")

    def _keep_owner(self, handle: int, old: os.stat_result) -> None:
        try:
            os.fchown(handle, old.st_uid, old.st_gid)
        except PermissionError:
            raise SaveError(
                f"{self.name} was not saved: it belongs to another user, who would lose it"
            ) from None

    def _give_name(self, handle: int, name: str) -> None:
        """Puts a nameless file into the folder; fails when the name is taken."""
        os.link(f"{_OPEN_FILES}/{handle}", name, dst_dir_fd=self.folder, follow_symlinks=True)

    def _exchange(self, handle: int, temporary: str | None, old: os.stat_result | None) -> None:
        """The new file takes its name, in one step, after a second look at the old one."""
        if old is not None and temporary is not None:
            self._old()
            os.replace(temporary, self.base, src_dir_fd=self.folder, dst_dir_fd=self.folder)
            return
        try:
            if temporary is None:
                self._give_name(handle, self.base)
            else:
                os.link(
                    temporary,
                    self.base,
                    src_dir_fd=self.folder,
                    dst_dir_fd=self.folder,
                    follow_symlinks=False,
                )
        except FileExistsError:
            raise ChangedOnDisk(f"{self.name} was not saved: there is a file of this name already") from None
        except OSError as error:
            if temporary is None or error.errno not in _KNOWS_NO_LINKS:
                raise
            self._old()  # a disk such as a memory stick's: looked at again, then exchanged
            os.replace(temporary, self.base, src_dir_fd=self.folder, dst_dir_fd=self.folder)

    def _settle(self) -> None:
        """The folder's entry onto the disk. Never tried twice: after a failure the system forgets what it lost."""
        try:
            os.fsync(self.folder)
        except OSError as error:
            reason = reason_of(error)
            raise SaveError(
                f"{self.name} has its new content, but it may not be on the disk ({reason}): keep a copy elsewhere"
            ) from None


def _failed(name: str, error: OSError) -> SaveError:
    return SaveError(f"{name} was not saved: {reason_of(error)}; the file on the disk is as it was")


def reason_of(error: OSError) -> str:
    """Why the system would not write, as a clause."""
    return _REASONS.get(error.errno or 0, error.strerror or "the system refused it")
