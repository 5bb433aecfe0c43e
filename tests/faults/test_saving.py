"""Saving while something goes wrong: crash, full disk, read-only folder, other programs, planted links."""

import errno
import fcntl
import os
import re
import resource
import signal
import stat
import subprocess
import sys
import threading
import traceback
from pathlib import Path

import pytest

from leverwright.project import ChangedOnDisk, Project, SaveError, saving
from leverwright.project.files import read_with_revision, revision_of
from leverwright.project.saving import save_text
from tests.project.vehicle_texts import FLAT

OLD = FLAT
NEW = FLAT.replace("load = 50", "load = 51")
# Calls by which a save reaches the system, in no particular order.
CALLS = (
    "open",
    "write",
    "pread",
    "fsync",
    "fchmod",
    "link",
    "replace",
    "unlink",
    "stat",
    "access",
    "listdir",
    "close",
)
NOBODY = 65534
AS_ROOT = pytest.mark.skipif(os.geteuid() != 0, reason="only root can become another user")


@pytest.fixture(params=["nameless", "named"])
def way(request, monkeypatch):
    """Both ways to the new content: a file without a name, and one with a name where there is no such thing."""
    if request.param == "named":
        monkeypatch.delattr(os, "O_TMPFILE")
    return request.param


@pytest.fixture
def cart(tmp_path):
    """A file with its revision."""
    path = tmp_path / "cart.toml"
    path.write_bytes(OLD.encode())
    return path


def _save(path, text=NEW, expected=OLD):
    return save_text(path, text, None if expected is None else revision_of(expected.encode()))


def _names(folder):
    return sorted(path.name for path in folder.iterdir())


def _in_child(do):
    """Runs `do` in a child; its exit status, or minus the signal that ended it."""
    child = os.fork()
    if not child:
        code = 99
        try:
            code = do() or 0
        except BaseException:  # noqa: BLE001  a child of a test must not go on as a test
            traceback.print_exc()
        finally:
            os._exit(code)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])


# --- what a save is ----------------------------------------------------------------------------------------------


def test_a_save_brings_the_new_content_and_its_revision(cart, way):
    assert _save(cart) == revision_of(NEW.encode()) == read_with_revision(cart)[1]
    assert cart.read_bytes() == NEW.encode()
    assert _names(cart.parent) == ["cart.toml"]


def test_a_project_saves_itself(cart):
    project = Project.read(cart)
    other = project.with_value(["wheels", "rear", "load"], 51)
    assert other.save(cart, project.revision) == other.revision
    assert Project.read(cart).wheels["rear"].load.value == 51


def test_a_new_file_is_made(tmp_path, way):
    path = tmp_path / "new.toml"
    assert _save(path, expected=None) == revision_of(NEW.encode())
    assert path.read_bytes() == NEW.encode()
    assert _names(tmp_path) == ["new.toml"]


@pytest.mark.parametrize(("mask", "mode"), [(0o027, 0o640), (0o022, 0o644), (0, 0o666)])
def test_a_new_file_has_the_mode_that_new_files_have(tmp_path, way, mask, mode):
    before = os.umask(mask)
    try:
        _save(tmp_path / "new.toml", expected=None)
    finally:
        os.umask(before)
    assert stat.S_IMODE((tmp_path / "new.toml").stat().st_mode) == mode


def test_a_new_file_overwrites_nothing(cart, way):
    with pytest.raises(ChangedOnDisk, match="already"):
        _save(cart, expected=None)
    assert cart.read_bytes() == OLD.encode()
    assert _names(cart.parent) == ["cart.toml"]


def test_a_new_file_overwrites_nothing_that_comes_up_meanwhile(tmp_path, way, monkeypatch):
    path = tmp_path / "new.toml"
    monkeypatch.setattr(saving._Saving, "_write", lambda *_: path.write_bytes(b"other"))
    with pytest.raises(ChangedOnDisk, match="already"):
        _save(path, expected=None)
    assert path.read_bytes() == b"other"
    assert _names(tmp_path) == ["new.toml"]


def test_content_is_on_the_disk_before_it_is_exchanged_and_the_folder_after(cart, way, monkeypatch):
    done = []

    def noted(name, original):
        def call(*args, **kwargs):
            if name != "fsync":
                done.append(name)
            else:
                done.append("sync folder" if stat.S_ISDIR(os.fstat(args[0]).st_mode) else "sync content")
            return original(*args, **kwargs)

        return call

    for name in ("write", "fsync", "replace", "pread"):
        monkeypatch.setattr(os, name, noted(name, getattr(os, name)))
    _save(cart)
    assert done == ["write", "sync content", "pread", "replace", "sync folder"]


def test_a_new_file_is_on_the_disk_too(tmp_path, way, monkeypatch):
    synced = []
    original = os.fsync
    monkeypatch.setattr(
        os, "fsync", lambda handle: synced.append(os.fstat(handle).st_mode) or original(handle)
    )
    _save(tmp_path / "new.toml", expected=None)
    assert [stat.S_ISDIR(mode) for mode in synced] == [False, True]


def test_a_disk_that_takes_little_at_a_time_gets_all(cart, way, monkeypatch):
    original = os.write
    monkeypatch.setattr(os, "write", lambda handle, data: original(handle, data[:7]))
    _save(cart)
    assert cart.read_bytes() == NEW.encode()


def test_mode_is_kept(cart, way):
    cart.chmod(0o604)
    _save(cart)
    assert stat.S_IMODE(cart.stat().st_mode) == 0o604


@AS_ROOT
def test_owner_is_kept(cart, way):
    os.chown(cart, 1234, 2345)
    cart.chmod(0o640)
    _save(cart)
    kept = cart.stat()
    assert (kept.st_uid, kept.st_gid, stat.S_IMODE(kept.st_mode)) == (1234, 2345, 0o640)


def test_a_link_is_kept_and_its_file_written(cart, tmp_path, way):
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    first, second = elsewhere / "first.toml", tmp_path / "second.toml"
    first.symlink_to("../cart.toml")
    second.symlink_to(first)
    _save(second)
    assert cart.read_bytes() == NEW.encode()
    assert not cart.is_symlink()
    assert (str(first.readlink()), second.readlink()) == ("../cart.toml", first)
    assert _names(elsewhere) == ["first.toml"]


def test_line_ends_and_a_byte_order_mark_are_kept(cart):
    text = "\ufeff" + NEW.replace("\n", "\r\n")
    _save(cart, text)
    assert cart.read_bytes() == text.encode()
    assert read_with_revision(cart)[0] == text


def test_a_name_relative_to_the_working_folder(cart, monkeypatch, way):
    monkeypatch.chdir(cart.parent)
    _save("cart.toml")
    assert cart.read_bytes() == NEW.encode()
    _save("other.toml", expected=None)
    assert _names(cart.parent) == ["cart.toml", "other.toml"]


# --- crash -------------------------------------------------------------------------------------------------------


def _killed_at(step, when, path, expected):
    """A child saves and is killed before or after its call number `step`; its exit status."""

    def child():
        left = [step]

        def deadly(original):
            def call(*args, **kwargs):
                left[0] -= 1
                if not left[0] and when == "before":
                    os.kill(os.getpid(), signal.SIGKILL)
                try:
                    return original(*args, **kwargs)
                finally:
                    if not left[0]:
                        os.kill(os.getpid(), signal.SIGKILL)

            return call

        for name in CALLS:
            setattr(os, name, deadly(getattr(os, name)))
        fcntl.flock = deadly(fcntl.flock)
        _save(path, expected=expected)

    return _in_child(child)


@pytest.mark.parametrize("when", ["before", "after"])
def test_killed_at_any_step_the_file_is_the_old_or_the_new_one(cart, way, when):
    contents = []
    for step in range(1, 100):
        cart.write_bytes(OLD.encode())
        status = _killed_at(step, when, cart, OLD)
        contents.append(cart.read_text())
        assert contents[-1] in (OLD, NEW)
        strays = [name for name in _names(cart.parent) if name != "cart.toml"]
        assert len(strays) <= 1
        assert all(re.fullmatch(r"\.leverwright-[0-9a-f]{32}", name) for name in strays)
        if status == 0:
            break
        assert status == -signal.SIGKILL
    else:
        pytest.fail("the save never came to its end")
    assert step > 12  # as many calls as a save has, so that something was killed
    assert contents[0] == OLD
    assert contents == sorted(contents, key=lambda text: text == NEW)  # once new, never old again
    assert _names(cart.parent) == ["cart.toml"]  # the last save swept what the killed ones left


@pytest.mark.parametrize("when", ["before", "after"])
def test_killed_while_a_file_is_made_it_is_whole_or_not_there(tmp_path, way, when):
    path = tmp_path / "new.toml"
    for step in range(1, 100):
        path.unlink(missing_ok=True)
        status = _killed_at(step, when, path, None)
        assert not path.exists() or path.read_text() == NEW
        if status == 0:
            break
    assert status == 0
    assert step > 8
    assert _names(tmp_path) == ["new.toml"]


def test_a_sweep_takes_only_what_a_save_has_left(cart):
    ours = cart.parent / (".leverwright-" + "0" * 32)
    others = [
        ".leverwright-",
        ".leverwright-" + "0" * 31,
        ".leverwright-" + "g" * 32,
        "leverwright-" + "0" * 32,
    ]
    for name in (ours.name, *others):
        (cart.parent / name).write_text("x")
    folder = cart.parent / (".leverwright-" + "1" * 32)
    folder.mkdir()
    _save(cart)
    assert _names(cart.parent) == sorted(["cart.toml", folder.name, *others])


# --- failing calls -----------------------------------------------------------------------------------------------


def _failing(monkeypatch, name, at, code):
    """Makes the call number `at` of os.NAME fail; the list of calls made so far."""
    original = getattr(os, name)
    made = []

    def call(*args, **kwargs):
        made.append(name)
        if len(made) == at:
            raise OSError(code, os.strerror(code))
        return original(*args, **kwargs)

    monkeypatch.setattr(os, name, call)
    return made


@pytest.mark.parametrize(
    "name", ["open", "write", "pread", "fchmod", "link", "replace", "stat", "fsync", "listdir", "access"]
)
@pytest.mark.parametrize(
    "code", [errno.ENOSPC, errno.EIO, errno.EDQUOT, errno.EROFS, errno.EACCES, errno.ENOMEM]
)
def test_a_call_that_fails_is_one_sentence_and_leaves_the_old_file(cart, way, name, code):
    cart.chmod(0o604)  # another mode than new files have
    for at in range(1, 10):
        cart.write_bytes(OLD.encode())
        with pytest.MonkeyPatch.context() as patch:
            made = _failing(patch, name, at, code)
            try:
                _save(cart)
            except SaveError as error:
                sentence = str(error)
            else:
                break
        assert len(made) >= at
        assert "\n" not in sentence
        assert _names(cart.parent) == ["cart.toml"]
        if name == "fsync" and at == 2:
            assert "may not be on the disk" in sentence
            assert cart.read_bytes() == NEW.encode()
        else:
            assert "was not saved" in sentence
            assert cart.read_bytes() == OLD.encode()
    assert len(made) < at
    assert cart.read_bytes() == NEW.encode()


def test_after_a_failed_sync_it_is_not_tried_again(cart, monkeypatch):
    made = _failing(monkeypatch, "fsync", 1, errno.EIO)
    with pytest.raises(SaveError, match="the disk reports an error"):
        _save(cart)
    assert made == ["fsync"]
    assert cart.read_bytes() == OLD.encode()


def test_what_reads_back_otherwise_does_not_replace(cart, way, monkeypatch):
    monkeypatch.setattr(os, "pread", lambda *_: b"other")
    with pytest.raises(SaveError, match="could not be read back"):
        _save(cart)
    assert cart.read_bytes() == OLD.encode()
    assert _names(cart.parent) == ["cart.toml"]


def test_a_disk_that_knows_no_nameless_files(cart, monkeypatch):
    original = os.open

    def call(path, flags, *args, **kwargs):
        if flags & os.O_TMPFILE == os.O_TMPFILE:
            raise OSError(errno.EOPNOTSUPP, "Operation not supported")
        return original(path, flags, *args, **kwargs)

    monkeypatch.setattr(os, "open", call)
    _save(cart)
    assert cart.read_bytes() == NEW.encode()
    assert _names(cart.parent) == ["cart.toml"]


@pytest.mark.parametrize("code", [errno.EPERM, errno.EOPNOTSUPP, errno.ENOSYS])
def test_a_disk_that_knows_no_second_names(tmp_path, monkeypatch, code):
    """As a memory stick's: a new file is made all the same, and overwrites nothing."""
    monkeypatch.delattr(os, "O_TMPFILE")
    _failing(monkeypatch, "link", 1, code)
    path = tmp_path / "new.toml"
    _save(path, expected=None)
    assert path.read_bytes() == NEW.encode()
    assert _names(tmp_path) == ["new.toml"]


def test_on_a_disk_without_second_names_nothing_is_overwritten(tmp_path, monkeypatch):
    monkeypatch.delattr(os, "O_TMPFILE")
    path = tmp_path / "new.toml"

    def meanwhile(*_args, **_kwargs):
        path.write_bytes(b"other")
        raise OSError(errno.EPERM, "Operation not permitted")

    monkeypatch.setattr(os, "link", meanwhile)
    with pytest.raises(ChangedOnDisk, match="already"):
        _save(path, expected=None)
    assert path.read_bytes() == b"other"
    assert _names(tmp_path) == ["new.toml"]


def test_a_new_file_that_cannot_get_its_name(tmp_path, way, monkeypatch):
    _failing(monkeypatch, "link", 1, errno.EIO)
    with pytest.raises(SaveError, match="the disk reports an error"):
        _save(tmp_path / "new.toml", expected=None)
    assert _names(tmp_path) == []


def test_a_system_that_does_not_show_open_files(cart, monkeypatch):
    monkeypatch.setattr(saving, "_OPEN_FILES", "/nowhere")
    _save(cart)
    assert cart.read_bytes() == NEW.encode()


# --- full and read-only disks ------------------------------------------------------------------------------------


def test_a_file_size_limit(cart, way):
    """As a full disk: some bytes are taken, then no more."""

    def child():
        resource.setrlimit(resource.RLIMIT_FSIZE, (200, 200))
        with pytest.raises(SaveError, match="larger than is allowed"):
            _save(cart)

    assert _in_child(child) == 0
    assert cart.read_bytes() == OLD.encode()
    assert _names(cart.parent) == ["cart.toml"]


FULL = """
import os, subprocess, sys
from leverwright.project import SaveError
from leverwright.project.files import revision_of
from leverwright.project.saving import save_text
folder, old, new = sys.argv[1:]
subprocess.run(["mount", "-t", "tmpfs", "-o", "size=16k", "none", folder], check=True)
cart = f"{folder}/cart.toml"
open(cart, "w").write(old)
open(f"{folder}/filler", "w").write("x" * 4096 * 2)
try:
    save_text(cart, new, revision_of(old.encode()))
except SaveError as error:
    print(error)
print(open(cart).read() == old, sorted(os.listdir(folder)))
"""


@AS_ROOT
def test_a_full_disk(tmp_path):
    """A disk in memory of 16 kB, in a space of its own that ends with the child."""
    apart = ["unshare", "--mount"]
    if subprocess.run([*apart, "true"], check=False).returncode:
        pytest.skip("this machine allows no mounts")
    long = NEW + "# remark\n" * 1000
    done = subprocess.run(
        [*apart, sys.executable, "-c", FULL, tmp_path, OLD, long], check=True, capture_output=True, text=True
    )
    sentence, state = done.stdout.splitlines()
    assert "was not saved: the disk is full; the file on the disk is as it was" in sentence
    assert state == "True ['cart.toml', 'filler']"


@AS_ROOT
@pytest.mark.parametrize("mode", [0o555, 0o500])
def test_a_folder_in_which_one_may_not_write(cart, mode, way):
    cart.chmod(0o666)
    cart.parent.chmod(mode)

    def child():
        _become_nobody(cart)
        with pytest.raises(SaveError, match="you may not"):
            _save(cart)

    try:
        assert _in_child(child) == 0
    finally:
        cart.parent.chmod(0o700)
    assert cart.read_bytes() == OLD.encode()
    assert _names(cart.parent) == ["cart.toml"]


@AS_ROOT
def test_a_file_that_one_may_not_write(cart, way):
    cart.chmod(0o444)
    cart.parent.chmod(0o777)

    def child():
        _become_nobody(cart)
        with pytest.raises(SaveError, match="write-protected"):
            _save(cart)

    assert _in_child(child) == 0
    assert cart.read_bytes() == OLD.encode()


@AS_ROOT
def test_a_file_of_another_user_who_would_lose_it(cart, way):
    cart.chmod(0o666)
    cart.parent.chmod(0o777)

    def child():
        _become_nobody(cart)
        with pytest.raises(SaveError, match="another user"):
            _save(cart)

    assert _in_child(child) == 0
    assert cart.stat().st_uid == 0
    assert _names(cart.parent) == ["cart.toml"]


def test_a_file_that_the_system_would_not_let_one_write(cart, way, monkeypatch):
    monkeypatch.setattr(os, "access", lambda *_args, **_kwargs: False)
    with pytest.raises(SaveError, match="write-protected"):
        _save(cart)
    assert cart.read_bytes() == OLD.encode()


@AS_ROOT
def test_an_owner_that_the_system_would_not_let_one_keep(cart, way, monkeypatch):
    os.chown(cart, 1234, 2345)
    _failing(monkeypatch, "fchown", 1, errno.EPERM)
    with pytest.raises(SaveError, match="another user"):
        _save(cart)
    assert cart.read_bytes() == OLD.encode()
    assert _names(cart.parent) == ["cart.toml"]


def _become_nobody(path):
    """Gives up root for good; the way to the file stays open."""
    for folder in path.parents:
        if folder.stat().st_mode & 0o001 == 0 and folder != path.parent:
            folder.chmod(folder.stat().st_mode | 0o011)
    os.setgroups([])
    os.setgid(NOBODY)
    os.setuid(NOBODY)


@pytest.mark.parametrize(
    ("path", "words"),
    [
        ("nowhere/cart.toml", "no such folder"),
        ("cart.toml/inside.toml", "no such folder"),
        ("x" * 300 + ".toml", "too long"),
        ("a\0b.toml", "zero character"),
    ],
)
@pytest.mark.parametrize("expected", [None, OLD])
def test_a_place_that_is_none(cart, path, words, expected):
    with pytest.raises(SaveError, match=f"not saved: .*({words})"):
        _save(f"{cart.parent}/{path}", expected=expected)
    assert _names(cart.parent) == ["cart.toml"]


def test_a_link_that_goes_in_a_circle(tmp_path):
    (tmp_path / "a.toml").symlink_to("b.toml")
    (tmp_path / "b.toml").symlink_to("a.toml")
    with pytest.raises(SaveError, match="circle"):
        _save(tmp_path / "a.toml")


def test_a_folder_in_place_of_the_file(tmp_path):
    (tmp_path / "cart.toml").mkdir()
    with pytest.raises(SaveError, match="no ordinary file"):
        _save(tmp_path / "cart.toml")
    assert (tmp_path / "cart.toml").is_dir()


def test_a_pipe_in_place_of_the_file(tmp_path):
    os.mkfifo(tmp_path / "cart.toml")
    with pytest.raises(SaveError, match="no ordinary file"):
        _save(tmp_path / "cart.toml")
    assert stat.S_ISFIFO((tmp_path / "cart.toml").stat().st_mode)


def test_a_file_with_a_second_name_is_not_cut_off_from_it(cart):
    os.link(cart, cart.parent / "second.toml")
    with pytest.raises(SaveError, match="second name"):
        _save(cart)
    assert cart.stat().st_nlink == 2
    assert cart.read_bytes() == OLD.encode()


@pytest.mark.parametrize(
    ("text", "words"), [("\ud800", "half of a character"), ("x" * 1_000_001, "1000001 bytes")]
)
def test_a_text_that_could_not_be_read_again(cart, text, words):
    with pytest.raises(SaveError, match=words):
        _save(cart, text)
    assert cart.read_bytes() == OLD.encode()


# --- other programs ----------------------------------------------------------------------------------------------


def test_a_file_edited_elsewhere_is_not_overwritten(cart, way):
    cart.write_bytes(b"# mine\n")
    with pytest.raises(ChangedOnDisk, match="another program has changed it"):
        _save(cart)
    assert cart.read_bytes() == b"# mine\n"
    assert _names(cart.parent) == ["cart.toml"]


def test_a_file_removed_elsewhere_is_not_made_again(cart, way):
    cart.unlink()
    with pytest.raises(SaveError, match="there is no such f"):
        _save(cart)
    assert _names(cart.parent) == []


@pytest.mark.parametrize("change", ["written", "exchanged", "removed", "a link", "a folder"])
def test_a_change_while_the_save_is_under_way_is_seen(cart, way, monkeypatch, change):
    write = saving._Saving._write

    def meanwhile(self, handle, data, old):
        write(self, handle, data, old)
        if change == "written":
            cart.write_bytes(b"# mine\n")
        elif change == "exchanged":
            (cart.parent / "other").write_bytes(b"# mine\n")
            (cart.parent / "other").rename(cart)
        else:
            cart.unlink()
        if change == "a link":
            cart.symlink_to("/etc/hostname")
        elif change == "a folder":
            cart.mkdir()

    monkeypatch.setattr(saving._Saving, "_write", meanwhile)
    with pytest.raises(SaveError, match="was not saved"):
        _save(cart)
    assert _names(cart.parent) == ([] if change == "removed" else ["cart.toml"])
    if change in ("written", "exchanged"):
        assert cart.read_bytes() == b"# mine\n"
    assert cart.is_symlink() == (change == "a link")


def test_a_file_exchanged_between_two_looks_is_seen(cart, monkeypatch):
    original = os.open

    def call(path, flags, *args, **kwargs):
        if path == "cart.toml":
            (cart.parent / "other").write_bytes(OLD.encode())
            (cart.parent / "other").rename(cart)
        return original(path, flags, *args, **kwargs)

    monkeypatch.setattr(os, "open", call)
    with pytest.raises(ChangedOnDisk):
        _save(cart)


def test_a_folder_that_another_program_holds(cart, monkeypatch):
    monkeypatch.setattr(saving, "_LONGEST_WAIT", 0.05)
    handle = os.open(cart.parent, os.O_RDONLY)
    fcntl.flock(handle, fcntl.LOCK_EX)
    try:
        with pytest.raises(SaveError, match="holds its folder"):
            _save(cart)
    finally:
        os.close(handle)
    assert cart.read_bytes() == OLD.encode()


def test_a_save_waits_for_the_one_before_it(cart):
    handle = os.open(cart.parent, os.O_RDONLY)
    fcntl.flock(handle, fcntl.LOCK_EX)
    threading.Timer(0.2, os.close, [handle]).start()
    _save(cart)
    assert cart.read_bytes() == NEW.encode()


def test_two_saves_of_one_revision_at_once_are_one_save_and_one_refusal(cart):
    done = []

    def save(number):
        try:
            done.append(_save(cart, NEW + f"# {number}\n"))
        except ChangedOnDisk:
            done.append(None)

    for _ in range(25):
        cart.write_bytes(OLD.encode())
        done.clear()
        threads = [threading.Thread(target=save, args=[number]) for number in (1, 2, 3)]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
        assert sorted(one is None for one in done) == [False, True, True]
        assert revision_of(cart.read_bytes()) in done


def test_many_programs_that_save_in_turn_lose_nothing(cart):
    def child(number):
        def run():
            for at in range(8):
                while True:
                    text, revision = read_with_revision(cart)
                    try:
                        save_text(cart, f"{text}# {number} {at}\n", revision)
                        break
                    except ChangedOnDisk:
                        continue

        return run

    children = []
    for number in range(3):
        pid = os.fork()
        if not pid:
            try:
                child(number)()
                os._exit(0)
            finally:
                os._exit(1)
        children.append(pid)
    assert [os.waitstatus_to_exitcode(os.waitpid(pid, 0)[1]) for pid in children] == [0, 0, 0]
    lines = cart.read_text().removeprefix(OLD).split("\n")[:-1]
    assert sorted(lines) == sorted(f"# {number} {at}" for number in range(3) for at in range(8))
    assert _names(cart.parent) == ["cart.toml"]


# --- planted links -----------------------------------------------------------------------------------------------


def test_a_link_planted_at_the_temporary_name_is_not_followed(cart, way, monkeypatch, tmp_path_factory):
    victim = tmp_path_factory.mktemp("other") / "victim"
    victim.write_text("precious")
    monkeypatch.setattr(
        saving.secrets, "token_hex", lambda _: "f" * 31 + "X"
    )  # a name that no sweep takes away
    planted = cart.parent / (".leverwright-" + "f" * 31 + "X")
    planted.symlink_to(victim)
    with pytest.raises(SaveError, match="not saved"):
        _save(cart)
    assert victim.read_text() == "precious"
    assert planted.is_symlink()
    assert cart.read_bytes() == OLD.encode()


def test_a_new_file_does_not_follow_a_link_of_its_name(tmp_path, way):
    (tmp_path / "new.toml").symlink_to(tmp_path / "target")
    with pytest.raises(ChangedOnDisk, match="already"):
        _save(tmp_path / "new.toml", expected=None)
    assert not (tmp_path / "target").exists()
    assert _names(tmp_path) == ["new.toml"]


def test_temporary_names_cannot_be_guessed(cart, monkeypatch):
    monkeypatch.delattr(os, "O_TMPFILE")
    seen = set()
    replace = os.replace
    monkeypatch.setattr(
        os, "replace", lambda old, new, **folders: seen.add(old) or replace(old, new, **folders)
    )
    revision = revision_of(OLD.encode())
    for at in range(20):
        revision = save_text(cart, NEW + "#" * at, revision)
    assert len(seen) == 20
    assert all(re.fullmatch(r"\.leverwright-[0-9a-f]{32}", name) for name in seen)


def test_no_descriptor_is_left_open(cart):
    def count():
        return len(list(Path("/proc/self/fd").iterdir()))

    _save(cart)
    before = count()
    for _ in range(3):
        with pytest.raises(ChangedOnDisk):
            _save(cart)
        cart.write_bytes(OLD.encode())
        _save(cart)
    assert count() == before
