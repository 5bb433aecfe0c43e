"""Photographs made to break the program, full disks, and kills in the middle of a write."""

import errno
import json
import os
import resource
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from leverwright.project import SaveError, photo_folder
from leverwright.project.photo_folder import (
    PICTURES,
    picture_names,
    read_picture,
    remove_picture,
    store_picture,
)
from leverwright.server import photo_decoder
from leverwright.server.desk import Refusal
from leverwright.server.photo_decoder import decoded
from tests.server import pictures
from tests.server.pictures import SECRET, coded, drawn

BOMBS = {
    "60000 x 60000 bits": (pictures.bits_60000, "more than 24 million"),
    "a flood of chunks": (pictures.chunk_flood, "more pieces"),
    "a flood of scans": (pictures.scan_flood, "more scans"),
    "a moving picture": (pictures.moving_png, "moves"),
    "cut off": (lambda: coded(drawn())[:5000], "cut off"),
    "a program behind its name": (lambda: b"MZ" + coded(drawn()), "neither"),
}
# Taken, but what was in them reaches neither the decoder nor the disk.
LADEN = {
    "a packed text of 100 MB": pictures.text_bomb,
    "a packed international text of 100 MB": lambda: pictures.text_bomb(b"iTXt"),
    "a packed profile of 100 MB": lambda: pictures.text_bomb(b"iCCP"),
    "coded data that go on for 200 MB": pictures.inflates_far,
    "a page behind a jpeg": lambda: coded(drawn()) + b"<script>" + SECRET + b"</script>",
    "an archive behind a png": lambda: coded(drawn(), "PNG") + b"PK\3\4" + SECRET,
    "a second picture": pictures.telephone_jpeg,
}


@pytest.mark.parametrize("name", BOMBS)
def test_a_bomb_is_refused_in_a_sentence_within_five_seconds_and_500_mb(name):
    make, word = BOMBS[name]
    data = make()
    assert len(data) < 12_000_000
    begin = time.monotonic()
    with pytest.raises(Refusal, match=word):
        decoded(data)
    assert time.monotonic() - begin < 5.0
    assert resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss < 500_000  # kB


@pytest.mark.parametrize("name", LADEN)
def test_what_a_picture_carries_beside_its_pixels_is_never_unpacked_or_kept(name):
    data = LADEN[name]()
    begin = time.monotonic()
    picture = decoded(data)
    assert time.monotonic() - begin < 5.0
    assert resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss < 500_000
    assert SECRET not in picture.data
    assert picture.data.endswith(b"\xff\xd9")
    assert len(picture.data) < 100_000


def stand_in(monkeypatch, tmp_path, program):
    """Another child in the place of ours."""
    path = tmp_path / "child.py"
    path.write_text(program, encoding="utf-8")
    monkeypatch.setattr(photo_decoder, "_CHILD", path)


CHILDREN = {
    "dies": "import os; os.kill(os.getpid(), 9)",
    "says nothing": "",
    "says a page": "print('<html>')",
    "fails": "raise SystemExit(1)",
    "floods": "import sys\nwhile True: sys.stdout.buffer.write(b'x' * 1000000)",
    "never reads, never ends": "import time; time.sleep(60)",
    "closes and stays": "import os, time; os.close(1); time.sleep(60)",
}


@pytest.mark.parametrize("name", CHILDREN)
def test_a_decoder_that_is_broken_or_taken_over_is_a_refusal(monkeypatch, tmp_path, name):
    stand_in(monkeypatch, tmp_path, CHILDREN[name])
    monkeypatch.setattr(photo_decoder, "PHOTO_SECONDS", 2.0)
    before = sum(1 for _ in Path("/proc/self/fd").iterdir())
    begin = time.monotonic()
    with pytest.raises(Refusal, match="too long or too much memory"):
        decoded(b"\xff\xd8\xff" + b"\0" * 3_000_000)
    assert time.monotonic() - begin < 5.0
    assert sum(1 for _ in Path("/proc/self/fd").iterdir()) <= before


def test_a_bomb_over_http_leaves_nothing(tmp_path):
    from tests.server.running import running

    with running(tmp_path) as server:
        server.enter()
        for data in (pictures.bits_60000(), pictures.text_bomb()[:-2], b"\xff\xd8\xff" * 1000):
            status, _, body = server.ask("POST", "/api/photos/side", data, Content_Type="image/png")
            assert status == 415
            assert "allowed" in json.loads(body)["error"]["sentence"]
        assert sorted(path.name for path in tmp_path.iterdir()) == ["cart.toml"]


# --- the folder -------------------------------------------------------------------------------------------------------


@pytest.fixture
def file(tmp_path):
    path = tmp_path / "cart.toml"
    path.write_text("leverwright = 1\n", encoding="utf-8")
    return path


def everything(folder):
    return sorted(path.relative_to(folder).as_posix() for path in folder.rglob("*"))


def test_a_picture_is_stored_read_listed_and_removed(file, tmp_path):
    assert picture_names(file) == ()
    name = store_picture(file, "side", b"pixels")
    assert picture_names(file) == (name,)
    assert read_picture(file, name) == b"pixels"
    assert everything(tmp_path) == ["cart-photos", f"cart-photos/{name}", "cart.toml"]
    assert remove_picture(file, name) is True
    assert everything(tmp_path) == ["cart.toml"]
    assert read_picture(file, name) is None
    assert remove_picture(file, name) is False


def test_a_linked_project_file_keeps_its_pictures_beside_the_file_itself(file, tmp_path):
    (tmp_path / "desk").mkdir()
    link = tmp_path / "desk" / "mine.toml"
    link.symlink_to(file)
    name = store_picture(link, "front", b"pixels")
    assert read_picture(file, name) == b"pixels"


def test_a_link_in_the_folders_place_is_not_followed(file, tmp_path):
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    (tmp_path / "cart-photos").symlink_to(elsewhere)
    with pytest.raises(SaveError, match="not stored"):
        store_picture(file, "side", b"pixels")
    assert list(elsewhere.iterdir()) == []
    (tmp_path / "cart-photos").unlink()
    (tmp_path / "cart-photos").write_text("a file")
    with pytest.raises(SaveError, match="not stored"):
        store_picture(file, "side", b"pixels")


def test_another_view_than_two_chooses_no_name(file):
    with pytest.raises(SaveError, match="neither"):
        store_picture(file, "../../etc/x", b"pixels")


def test_forty_pictures_are_enough(file):
    for _ in range(PICTURES):
        store_picture(file, "side", b"pixels")
    with pytest.raises(SaveError, match="40 already"):
        store_picture(file, "side", b"pixels")


@pytest.mark.parametrize("call", ["write", "fsync", "link", "mkdir"])
@pytest.mark.parametrize("nameless", [True, False])
def test_a_full_disk_leaves_nothing(file, tmp_path, monkeypatch, call, nameless):
    def full(*_, **__):
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    if not nameless:
        monkeypatch.setattr(photo_folder.os, "O_TMPFILE", 0)
    if call == "mkdir":
        monkeypatch.setattr(Path, "mkdir", full)
    else:
        monkeypatch.setattr(photo_folder.os, call, full)
    with pytest.raises(SaveError, match="not stored: the disk is full"):
        store_picture(file, "side", b"pixels")
    monkeypatch.undo()
    assert [left for left in everything(tmp_path) if left != "cart-photos"] == ["cart.toml"]


def test_what_cannot_be_read_back_is_not_stored(file, tmp_path, monkeypatch):
    monkeypatch.setattr(photo_folder.os, "write", lambda _, data: len(data))
    with pytest.raises(SaveError, match="read back"):
        store_picture(file, "side", b"pixels")
    assert everything(tmp_path) == ["cart.toml"]


_KILLED = """
import os, signal, sys
from pathlib import Path
from leverwright.project import photo_folder
if sys.argv[2] == "named":
    photo_folder.os.O_TMPFILE = 0
whole, wrote = os.write, 0
def slow(handle, data):
    os.kill(os.getpid(), signal.SIGKILL) if slow.wrote else None
    slow.wrote += 1
    return whole(handle, data[:1000])
slow.wrote = 0
photo_folder.os.write = slow
photo_folder.store_picture(Path(sys.argv[1]), "side", b"x" * 100_000)
"""


@pytest.mark.parametrize("kind", ["nameless", "named"])
def test_a_kill_in_mid_write_leaves_no_picture(file, tmp_path, kind):
    done = subprocess.run([sys.executable, "-c", _KILLED, str(file), kind], check=False)
    assert done.returncode == -signal.SIGKILL
    assert picture_names(file) == ()
    left = [path.name for path in (tmp_path / "cart-photos").iterdir()]
    assert len(left) == (kind == "named")  # a disk without nameless files: the next one stored sweeps it away
    name = store_picture(file, "side", b"pixels")
    assert [path.name for path in (tmp_path / "cart-photos").iterdir()] == [name]


@pytest.mark.parametrize("name", ["notes.jpg", "../cart.toml", "side-0.jpg", "", ".", "side-12345678.jpg\n"])
def test_only_a_name_of_the_list_is_read(file, tmp_path, name):
    store_picture(file, "side", b"pixels")
    (tmp_path / "cart-photos" / "notes.jpg").write_bytes(b"\xff\xd8\xff of somebody else")
    (tmp_path / "cart-photos" / "side-0.jpg").write_bytes(b"\xff\xd8\xff of somebody else")
    assert read_picture(file, name) is None
    assert remove_picture(file, name) is False
