"""Photographs over HTTP: taken in, given back, removed, and who may not."""

import io
import json
import re
import socket
import threading
import time
from pathlib import Path

import pytest
from PIL import Image

from tests.server import pictures
from tests.server.pictures import SECRET, coded, drawn

JPEG = {"Content_Type": "image/jpeg"}
SIDE, FRONT = "/api/photos/side", "/api/photos/front"


def send(server, data, path=SIDE, **more):
    status, headers, body = server.ask("POST", path, data, **{**JPEG, **more})
    return status, json.loads(body), headers


@pytest.fixture
def folder(server):
    return server.file.with_name("cart-photos")


def test_a_photograph_is_stored_under_a_name_of_our_own_and_given_back(server, folder):
    status, stored, _ = send(server, pictures.telephone_jpeg())
    assert status == 200
    assert re.fullmatch(r"side-[0-9a-f]{8}\.jpg", stored["picture"])
    assert (stored["width"], stored["height"]) == (480, 640)  # it was lying on its side
    on_disk = (folder / stored["picture"]).read_bytes()
    status, headers, body = server.ask("GET", f"/api/photos/{stored['picture']}")
    assert (status, headers["content-type"]) == (200, "image/jpeg")
    assert headers["x-content-type-options"] == "nosniff"
    assert "img-src 'self'" in headers["content-security-policy"]
    assert body == on_disk
    assert SECRET not in body
    with Image.open(io.BytesIO(body)) as image:
        assert image.size == (480, 640)


def test_a_png_of_the_front_is_taken_too(server, folder):
    status, stored, _ = send(server, coded(drawn(), "PNG"), FRONT, Content_Type="image/png")
    assert status == 200
    assert stored["picture"].startswith("front-")
    assert (folder / stored["picture"]).is_file()


def test_a_picture_is_removed_and_the_folder_goes_with_the_last_one(fresh):
    fresh.enter()
    folder = fresh.file.with_name("cart-photos")
    names = [send(fresh, coded(drawn()))[1]["picture"] for _ in range(2)]
    for name in names:
        assert folder.is_dir()
        status, _, body = fresh.ask("POST", "/api/photos/remove", json.dumps({"picture": name}))
        assert (status, body) == (204, b"")
        assert fresh.ask("GET", f"/api/photos/{name}")[0] == 404
    assert not folder.exists()
    status, refused = fresh.json("POST", "/api/photos/remove", {"picture": names[0]})
    assert status == 404
    assert "not there" in refused["error"]["sentence"]


ELSEWHERE = [
    "/api/photos/cart.toml",
    "/api/photos/side-00000000.jpg",
    "/api/photos/..%2fcart.toml",
    "/api/photos/../cart.toml",
    "/api/photos/%2e%2e/cart.toml",
    "/api/photos//etc/passwd",
    "/api/photos/side-1234abcd.jpg/..",
    "/api/photos/notes.txt",
    "/api/photos/",
]


@pytest.mark.parametrize("path", ELSEWHERE)
def test_no_path_of_a_request_reaches_the_disk(server, folder, path):
    send(server, coded(drawn()))
    (folder / "notes.txt").write_text("not a picture")
    status, headers, body = server.ask("GET", path)
    assert status == 404
    assert headers["content-type"] == "application/json"
    assert b"leverwright = 1" not in body


@pytest.mark.parametrize("name", ["../cart.toml", "cart.toml", "notes.txt", "", "side-00000000.jpg"])
def test_nothing_but_a_listed_picture_is_removed(server, folder, name):
    send(server, coded(drawn()))
    (folder / "notes.txt").write_text("not a picture")
    before = sorted(folder.iterdir())
    status, _ = server.json("POST", "/api/photos/remove", {"picture": name})
    assert status == 404
    assert sorted(folder.iterdir()) == before
    assert server.file.is_file()


def test_what_is_planted_in_the_folder_is_not_given_out(server, folder, tmp_path):
    send(server, coded(drawn()))
    (tmp_path / "secret").write_bytes(b"\xff\xd8\xffsecret")
    (folder / "side-aaaaaaaa.jpg").symlink_to(tmp_path / "secret")
    (folder / "side-bbbbbbbb.jpg").write_text("<script>alert(1)</script>")
    (folder / "side-cccccccc.jpg").mkdir()
    for letter in "abc":
        assert server.ask("GET", f"/api/photos/side-{letter * 8}.jpg")[0] == 404
    for letter in "abc":
        left = folder / f"side-{letter * 8}.jpg"
        left.rmdir() if left.is_dir() and not left.is_symlink() else left.unlink()


REFUSED = [
    ({"Origin": "http://evil.example"}, 403),
    ({"Origin": ""}, 403),
    ({"Sec_Fetch_Site": "cross-site"}, 403),
    ({"Cookie": ""}, 403),
    ({"Host": "evil.example"}, 421),
    ({"Content_Type": "application/json"}, 415),
    ({"Content_Type": "image/svg+xml"}, 415),
    ({"Content_Type": "image/jpeg; charset=utf-8"}, 415),
    ({"Content_Type": "multipart/form-data"}, 415),
    ({"Content_Type": ""}, 415),
]


@pytest.mark.parametrize(("change", "expected"), REFUSED)
def test_a_write_of_another_page_is_refused(server, folder, change, expected):
    before = sorted(folder.iterdir()) if folder.exists() else []
    status, _, _ = server.ask("POST", SIDE, coded(drawn()), **{**JPEG, **change})
    assert status == expected
    assert (sorted(folder.iterdir()) if folder.exists() else []) == before


def test_a_picture_goes_nowhere_else_and_json_not_here(server):
    assert send(server, coded(drawn()), "/api/project")[0] == 415
    assert send(server, coded(drawn()), "/api/photos/top")[0] == 415
    assert server.ask("PUT", SIDE, coded(drawn()), **JPEG)[0] == 405
    assert server.ask("GET", SIDE)[0] == 404


def test_more_than_12_megabytes_are_refused_before_they_are_read(server):
    head = server.head(
        f"Origin: {server.origin}",
        "Content-Type: image/jpeg",
        "Content-Length: 12000001",
        "Sec-Fetch-Site: same-origin",
    )
    answer = server.raw(f"POST {SIDE} HTTP/1.1\r\n{head}\r\n".encode(), timeout=2)  # not a byte of it follows
    assert answer.startswith(b"HTTP/1.1 413")
    assert b"the photograph is over 12000000 bytes" in answer
    status, refused, _ = send(
        server, b"\xff\xd8\xff" + b"\0" * 14_000_000
    )  # a browser sends on, and can read why
    assert status == 413
    assert "12000000 bytes" in refused["error"]["sentence"]


def test_a_refusal_is_a_sentence_that_says_what_to_do(server):
    status, refused, _ = send(server, b"<html>")
    assert status == 415
    assert refused["error"]["sentence"] == (
        "a file that is neither JPEG nor PNG; "
        "allowed: one JPEG or PNG picture of at most 12 MB and 24 million pixels; save it as JPEG"
    )


def test_one_photograph_at_a_time_and_the_rest_is_answered_meanwhile(server):
    slow = server.plug()
    head = server.head(
        f"Origin: {server.origin}",
        "Content-Type: image/jpeg",
        "Content-Length: 100000",
        "Sec-Fetch-Site: same-origin",
    )
    slow.sendall(f"POST {SIDE} HTTP/1.1\r\n{head}\r\n".encode() + b"\xff\xd8\xff")
    time.sleep(0.3)
    status, refused, _ = send(server, coded(drawn()))
    assert status == 503
    assert "one at a time" in refused["error"]["sentence"]
    begin = time.monotonic()
    assert server.ask("GET", "/api/project")[0] == 200
    assert time.monotonic() - begin < 2
    slow.close()  # it goes away in the middle: its place is free again
    for _ in range(40):
        if send(server, coded(drawn()))[0] == 200:
            return
        time.sleep(0.1)
    pytest.fail("the place was never free again")


def test_a_save_does_not_wait_for_a_decoding(server):
    busy = threading.Thread(target=send, args=(server, pictures.inflates_far()))
    busy.start()
    begin = time.monotonic()
    assert server.ask("GET", "/api/project")[0] == 200
    assert time.monotonic() - begin < 2
    busy.join()


def test_many_photographs_leave_no_descriptor_and_no_child(fresh):
    fresh.enter()
    descriptors = f"/proc/{fresh.process.pid}/fd"
    children = f"/proc/{fresh.process.pid}/task/{fresh.process.pid}/children"

    def counted():
        return sum(1 for _ in Path(descriptors).iterdir())

    for data in (coded(drawn()), b"<html>"):
        send(fresh, data)
    before = counted()
    for round_ in range(6):
        send(fresh, coded(drawn()) if round_ % 2 else pictures.PNG)
    for _ in range(30):  # the last connection may still be closing
        if counted() <= before:
            break
        time.sleep(0.1)
    assert counted() <= before
    assert Path(children).read_text(encoding="ascii") == ""


def test_a_client_that_stalls_in_its_photograph_is_dropped(fresh):
    fresh.enter()
    with socket.create_connection(("127.0.0.1", fresh.port), timeout=15) as plug:
        head = fresh.head(f"Origin: {fresh.origin}", "Content-Type: image/png", "Content-Length: 9000000")
        plug.sendall(f"POST {SIDE} HTTP/1.1\r\n{head}\r\n".encode())
        begin = time.monotonic()
        assert plug.recv(1) == b""
        assert time.monotonic() - begin < 11
    assert send(fresh, coded(drawn()))[0] == 200


def test_what_a_photograph_says_is_asked_with_the_text(server):
    text = server.file.read_text(encoding="utf-8") + (
        '\n[photos.side]\npicture = "side-00000000.jpg"\nview = "side"\ndepth = 330\n'
        "corners = [[120, 80], [520, 100], [560, 430], [90, 400]]\nrectangle = [400, 300]\n"
        "picks = { hub-left = [300, 250], arm-pivot-out-left = [450, 350] }\n"
    )
    status, reading = server.json("POST", "/api/photos", {"text": text})
    assert status == 200
    assert "Not used: arm-pivot-out-left" in " ".join(reading["photos"]["side"]["notes"])
    assert "One point is picked" in reading["photos"]["side"]["sentence"]
    assert server.json("POST", "/api/photos", {"text": "no = = toml"}) == (
        200,
        {"leverwright": 1, "photos": {}},
    )
    assert server.json("POST", "/api/photos", {"words": text})[0] == 400
