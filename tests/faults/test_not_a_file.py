"""Something else in place of a project file: refused at once, line and key unsaid."""

import fcntl
import os
import socket
import threading
import time

import pytest

from leverwright.project import LIMITS, Project, ProjectError, SaveError, files
from leverwright.project.files import read_file, read_with_revision, revision_of
from leverwright.project.saving import save_text
from tests.project.vehicle_texts import FLAT


def _refusal(path):
    start = time.monotonic()
    with pytest.raises(ProjectError) as refused:
        Project.read(path)
    assert time.monotonic() - start < 2
    fault = refused.value.fault
    assert (fault.line, fault.key) == (None, None)
    assert fault.file == os.fsdecode(path)
    return fault.found


def test_a_folder(tmp_path):
    assert _refusal(tmp_path) == "a folder"


def test_a_pipe_that_nobody_writes(tmp_path):
    os.mkfifo(tmp_path / "pipe")
    assert _refusal(tmp_path / "pipe") == "a pipe"


@pytest.mark.parametrize("device", ["/dev/zero", "/dev/null", "/dev/tty", "/dev/random"])
def test_a_device(device):
    assert _refusal(device) == "a device"


def test_a_socket(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)  # its name must be short
    with socket.socket(socket.AF_UNIX) as one:
        one.bind("socket")
        assert _refusal("socket") == "a socket"


def test_a_link_to_nothing(tmp_path):
    (tmp_path / "link").symlink_to("nothing")
    assert _refusal(tmp_path / "link") == "a link that leads to no file"


def test_a_link_in_a_circle(tmp_path):
    (tmp_path / "a").symlink_to("b")
    (tmp_path / "b").symlink_to("a")
    assert _refusal(tmp_path / "a") == "a link that leads round in a circle"


def test_a_link_to_a_pipe(tmp_path):
    os.mkfifo(tmp_path / "pipe")
    (tmp_path / "link").symlink_to("pipe")
    assert _refusal(tmp_path / "link") == "a pipe"


def test_no_file(tmp_path):
    assert _refusal(tmp_path / "nothing") == "there is no such file"
    assert _refusal("") == "there is no such file"


def test_no_folder(tmp_path):
    (tmp_path / "file").write_text("x")
    assert _refusal(tmp_path / "file" / "inside") == "there is no such folder"


def test_names_that_no_file_has():
    assert _refusal("a\0b") == "a name with a zero character"
    assert _refusal("x" * 5000) == "a name that is too long"


@pytest.mark.skipif(os.geteuid() != 0, reason="only root can become another user")
def test_a_file_that_one_may_not_read(tmp_path):
    path = tmp_path / "cart.toml"
    path.write_text(FLAT)
    path.chmod(0)
    child = os.fork()
    if not child:
        code = 1
        try:
            os.setuid(65534)
            with pytest.raises(ProjectError, match="may not read"):
                read_file(path)
            code = 0
        finally:
            os._exit(code)
    assert os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == 0


def test_an_error_of_the_disk(tmp_path, monkeypatch):
    path = tmp_path / "cart.toml"
    path.write_text(FLAT)

    def broken(*_args):
        raise OSError(5, "Input/output error")

    monkeypatch.setattr(files.os, "open", broken)
    assert _refusal(path) == "an error: Input/output error"


def test_a_file_exchanged_for_a_pipe_after_the_first_look(tmp_path, monkeypatch):
    path = tmp_path / "cart.toml"
    path.write_text(FLAT)
    original = os.open

    def exchange(name, flags):
        path.unlink()
        os.mkfifo(path)
        return original(name, flags)

    monkeypatch.setattr(files.os, "open", exchange)
    assert _refusal(path) == "a pipe"


def test_a_file_that_is_too_large_is_not_read_to_its_end(tmp_path):
    path = tmp_path / "large.toml"
    with path.open("wb") as file:
        file.truncate(10**12)  # a file of holes
    assert _refusal(path) == "more than 1000000 bytes"


def test_a_file_of_the_largest_size_is_read(tmp_path):
    path = tmp_path / "cart.toml"
    path.write_bytes(b"#" * LIMITS.file_bytes)
    assert len(read_file(path)) == LIMITS.file_bytes
    path.write_bytes(b"#" * (LIMITS.file_bytes + 1))
    assert _refusal(path) == "more than 1000000 bytes"


@pytest.mark.parametrize(
    ("data", "found"),
    [
        (FLAT.encode("utf-16"), "a file in UTF-16"),
        (b"\xfe\xff\x00a", "a file in UTF-16"),
        (FLAT.encode() + b"\n# 20 \xb0 off\n", f"bytes in line {FLAT.count(chr(10)) + 2} that are not UTF-8"),
        (b"\x89PNG\r\n\x1a\n", "bytes in line 1 that are not UTF-8"),
        (b"\xed\xa0\x80", "bytes in line 1 that are not UTF-8"),
        (b"\xc0\xaf", "bytes in line 1 that are not UTF-8"),
    ],
)
def test_another_encoding(tmp_path, data, found):
    path = tmp_path / "cart.toml"
    path.write_bytes(data)
    assert _refusal(path).startswith(found)


def test_a_mark_of_utf_8_at_the_start_is_read_over(tmp_path):
    path = tmp_path / "cart.toml"
    path.write_bytes(b"\xef\xbb\xbf" + FLAT.encode())
    assert Project.read(path).text == "\ufeff" + FLAT
    assert Project.read(path).points == Project.from_text(FLAT).points


def test_a_link_to_a_file_is_read(tmp_path):
    (tmp_path / "cart.toml").write_text(FLAT)
    (tmp_path / "link.toml").symlink_to("cart.toml")
    assert Project.read(tmp_path / "link.toml").points == Project.from_text(FLAT).points


def test_a_name_of_bytes_or_a_path_or_a_text(tmp_path):
    path = tmp_path / "cart.toml"
    path.write_text(FLAT)
    for name in (path, str(path), bytes(path)):
        assert read_with_revision(name) == (FLAT, revision_of(FLAT.encode()))
        assert Project.read(name).name == str(path)


def test_a_name_of_bytes_that_are_no_text(tmp_path):
    path = os.fsencode(tmp_path) + b"/caf\xe9.toml"
    with open(path, "w") as file:  # noqa: PTH123  a name that no text can say
        file.write("x")
    with pytest.raises(ProjectError) as refused:
        Project.read(path)
    assert refused.value.fault.file == f"{tmp_path}/caf\\udce9.toml"
    with pytest.raises(SaveError, match=r"caf.*another program"):
        save_text(path, FLAT, "0" * 64)


def test_reading_waits_for_no_lock(tmp_path):
    path = tmp_path / "cart.toml"
    path.write_text(FLAT)
    read = []
    handle = os.open(tmp_path, os.O_RDONLY)
    try:
        fcntl.flock(handle, fcntl.LOCK_EX)
        reader = threading.Thread(target=lambda: read.append(read_file(path)))
        reader.start()
        reader.join(5)
    finally:
        os.close(handle)
    assert read == [FLAT]
