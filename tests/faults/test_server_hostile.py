"""Hostile clients on loopback: what they send is refused, and the person is served meanwhile."""

from __future__ import annotations

import contextlib
import json
import os
import select
import socket
import time
from pathlib import Path

import pytest
from websockets.sync.client import connect

from leverwright.server.limits import BODY_BYTES, CLIENT_SECONDS, CONNECTIONS, HEAD_BYTES, STALL_SECONDS
from tests.server.running import running


@pytest.fixture(scope="module")
def server(tmp_path_factory):
    with running(tmp_path_factory.mktemp("vehicle")) as started:
        started.enter()
        yield started


def status(raw: bytes) -> int:
    return int(raw.split(b" ", 2)[1]) if raw.startswith(b"HTTP/1.1 ") else 0


def person_is_served(server) -> float:
    """Seconds until the page and its project have come."""
    start = time.monotonic()
    assert server.ask("GET", "/")[0] == 200
    assert server.ask("GET", "/api/project")[0] == 200
    return time.monotonic() - start


def request(server, *lines: str, first: str = "GET / HTTP/1.1", cookie: bool = True) -> bytes:
    return f"{first}\r\n{server.head(*lines, cookie=cookie)}\r\n".encode("latin-1")


@pytest.mark.parametrize(
    "sent",
    [
        "GET / HTTP/1.1\r\nCookie: COOKIE\r\n\r\n",
        "GET / HTTP/1.0\r\nCookie: COOKIE\r\n\r\n",
        "GET / HTTP/1.1\r\nHost: HOST\r\nHost: HOST\r\nCookie: COOKIE\r\n\r\n",
        "GET / HTTP/1.1\r\nHost: HOST\r\nhOsT: evil.example\r\nCookie: COOKIE\r\n\r\n",
        "GET / HTTP/1.1\r\nHost: evil.example\r\nX-Forwarded-Host: HOST\r\nCookie: COOKIE\r\n\r\n",
        "GET http://HOST/ HTTP/1.1\r\nHost: evil.example\r\nCookie: COOKIE\r\n\r\n",
        "GET http://evil.example/ HTTP/1.1\r\nHost: HOST\r\nCookie: COOKIE\r\n\r\n",
        "GET / HTTP/1.1\r\nHost: HOST\r\n Cookie: folded\r\nCookie: COOKIE\r\n\r\n",
        "GET / HTTP/1.1\r\nHost : HOST\r\nCookie: COOKIE\r\n\r\n",
        "GET /\x00 HTTP/1.1\r\nHost: HOST\r\nCookie: COOKIE\r\n\r\n",
        "GET /../../etc/passwd HTTP/1.1\r\nHost: HOST\r\nCookie: COOKIE\r\n\r\n",
        "GET /assets/%2e%2e/%2e%2e/pyproject.toml HTTP/1.1\r\nHost: HOST\r\nCookie: COOKIE\r\n\r\n",
        "GET //etc/passwd HTTP/1.1\r\nHost: HOST\r\nCookie: COOKIE\r\n\r\n",
        "GET /cart.toml HTTP/1.1\r\nHost: HOST\r\nCookie: COOKIE\r\n\r\n",
        "GET / HTTP/3.7\r\nHost: HOST\r\nCookie: COOKIE\r\n\r\n",
        "GET  / HTTP/1.1\r\nHost: HOST\r\nCookie: COOKIE\r\n\r\n",
        "PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n",
        "CONNECT HOST HTTP/1.1\r\nHost: HOST\r\nCookie: COOKIE\r\n\r\n",
        "\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03",
        "\r\n" * 20000,
        "GET / HTTP/1.1\r\nHost: HOST\r\nCookie: COOKIE\r\nContent-Length: 5\r\nContent-Length: 6\r\n\r\nhello",
        "GET / HTTP/1.1\r\nHost: HOST\r\nCookie: COOKIE\r\nContent-Length: 5\r\nTransfer-Encoding: chunked\r\n\r\n0",
        "GET / HTTP/1.1\r\nHost: HOST\r\nCookie: COOKIE\r\nTransfer-Encoding: gzip, chunked\r\n\r\n0\r\n\r\n",
    ],
)  # fmt: skip
def test_what_is_no_request_of_ours_gets_nothing(server, sent):
    raw = server.raw(
        sent.replace("HOST", server.host).replace("COOKIE", server.cookie).encode("latin-1"), timeout=2
    )
    assert status(raw) in (0, 400, 404, 405, 411, 421, 505), raw[:80]
    assert b"<script" not in raw
    assert b"leverwright = 1" not in raw
    assert b"root:" not in raw


def test_a_head_over_the_limit_is_refused_in_one_piece_or_in_many(server):
    long = f"X-Long: {'a' * (HEAD_BYTES + 100)}"
    assert status(server.raw(request(server, long), timeout=3)) in (400, 431)
    sent = request(server, long)
    heard = b""
    with server.plug(3) as plug, contextlib.suppress(ConnectionError):
        for at in range(0, len(sent), 1000):
            plug.sendall(sent[at : at + 1000])
        while piece := plug.recv(65536):
            heard += piece
    assert status(heard) in (0, 400, 431)
    assert status(server.raw(request(server, *(f"X-{n}: a" for n in range(3000))), timeout=3)) in (400, 431)
    assert status(server.raw(request(server, first=f"GET /{'a' * HEAD_BYTES} HTTP/1.1"), timeout=3)) in (
        400,
        404,
        431,
    )
    assert status(server.raw(b"a" * 5_000_000, timeout=3)) in (0, 400)


def write(server, *lines: str) -> bytes:
    return request(
        server,
        f"Origin: {server.origin}",
        "Content-Type: application/json",
        *lines,
        first="PUT /api/project HTTP/1.1",
    )


def test_a_body_over_the_limit_is_refused_before_it_is_read(server):
    head = write(server, f"Content-Length: {BODY_BYTES + 1}", 'If-Match: "x"')
    start = time.monotonic()
    with server.plug(5) as plug:
        plug.sendall(head)
        assert status(plug.recv(65536)) == 413  # nothing of the body was sent
    assert time.monotonic() - start < 2


def test_a_client_that_sends_it_all_the_same_can_read_why_it_was_refused(server):
    status_seen, _, body = server.ask("PUT", "/api/project", body="x" * (3 * BODY_BYTES), If_Match='"x"')
    assert status_seen == 413
    assert b"over 1000000 bytes" in body


def test_one_that_sends_without_end_is_cut_off(server):
    with server.plug(10) as plug:
        plug.sendall(write(server, "Content-Length: 99999999999", 'If-Match: "x"'))
        plug.settimeout(10)
        sent = 0
        with contextlib.suppress(ConnectionError):
            while sent < 100_000_000:
                sent += plug.send(b"x" * 65536)
    assert sent < 60_000_000  # what is thrown away, and what the system holds for both ends


def test_a_body_of_unstated_length_is_refused(server):
    chunked = write(server, "Transfer-Encoding: chunked", 'If-Match: "x"')
    assert status(server.raw(chunked + b"5\r\nhello\r\n", timeout=3)) == 411
    assert status(server.raw(write(server, 'If-Match: "x"'), timeout=3)) == 411
    assert (
        status(server.raw(write(server, "Content-Length: 2", "Content-Length: 3") + b"{}", timeout=3)) == 400
    )


def test_a_second_request_behind_a_refused_one_is_not_answered(server):
    """A body that the guard left unread must not be taken for the next request."""
    hidden = request(server, first="GET /api/project HTTP/1.1")
    raw = server.raw(request(server, f"Content-Length: {len(hidden)}") + hidden, timeout=3)
    assert raw.count(b"HTTP/1.1 ") == 1
    assert b"leverwright = 1" not in raw


def test_two_hundred_half_open_clients_keep_nobody_waiting(server):
    with contextlib.ExitStack() as stack:
        for number in range(200):
            plug = stack.enter_context(server.plug())
            half = request(server)[: 10 + number % 40] if number % 2 else b""
            plug.sendall(half)
        for _ in range(3):
            assert person_is_served(server) < 2
            time.sleep(0.3)


def test_more_half_open_clients_than_there_is_room_for_do_not_lock_the_person_out(server):
    with contextlib.ExitStack() as stack:
        for _ in range(CONNECTIONS + 50):
            stack.enter_context(server.plug()).sendall(b"GET / HT")
        assert person_is_served(server) < 2


def test_half_open_clients_are_dropped(server):
    with contextlib.ExitStack() as stack:
        drip = stack.enter_context(server.plug())
        silent = stack.enter_context(server.plug())
        head = stack.enter_context(server.plug())
        body = stack.enter_context(server.plug())
        head.sendall(b"GET / HTTP/1.1\r\n")
        body.sendall(write(server, "Content-Length: 1000", 'If-Match: "x"') + b"{")
        left = {drip, silent, head, body}
        end = time.monotonic() + CLIENT_SECONDS + 4
        while left and time.monotonic() < end:
            if drip in left:
                with contextlib.suppress(OSError):
                    drip.sendall(
                        b"G" if time.monotonic() < end - CLIENT_SECONDS else b"x"
                    )  # one byte more gains no time
            for plug in select.select(list(left), [], [], 0.5)[0]:
                with contextlib.suppress(ConnectionError):
                    if plug.recv(65536):
                        continue
                left.discard(plug)
        assert not left


def never_reading(server) -> socket.socket:
    """Asks for the largest answer again and again and reads none of it."""
    plug = socket.socket()
    plug.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, 2048)
    plug.settimeout(0.2)
    plug.connect(("127.0.0.1", server.port))
    with contextlib.suppress(TimeoutError, ConnectionError):
        for _ in range(200):
            plug.sendall(request(server, first="GET /api/fields HTTP/1.1"))
    return plug


def memory_of(pid: int) -> int:
    """Resident bytes."""
    return int(Path(f"/proc/{pid}/statm").read_text().split()[1]) * os.sysconf("SC_PAGE_SIZE")


def test_fifty_clients_that_never_read_keep_nobody_waiting(server):
    before = memory_of(server.process.pid)
    with contextlib.ExitStack() as stack:
        for _ in range(50):
            stack.enter_context(never_reading(server))
        for _ in range(3):
            assert person_is_served(server) < 2
        assert memory_of(server.process.pid) - before < 60e6


def test_fifty_pages_that_never_read_keep_nobody_waiting(server):
    before = memory_of(server.process.pid)
    with contextlib.ExitStack() as stack:
        for _ in range(50):
            stack.enter_context(_never_reading_page(server))
        for _ in range(3):
            assert person_is_served(server) < 2
        line = connect(
            f"ws://{server.host}/api/live", origin=server.origin, additional_headers={"Cookie": server.cookie}
        )
        with line as page:
            page.send(json.dumps({"id": 1, "do": "undo"}))
            assert "workspace" in json.loads(page.recv(timeout=2))
        assert memory_of(server.process.pid) - before < 120e6


def _never_reading_page(server) -> socket.socket:
    plug = socket.socket()
    plug.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, 2048)
    plug.settimeout(5)
    plug.connect(("127.0.0.1", server.port))
    upgrade = ("Upgrade: websocket", "Connection: Upgrade", "Sec-WebSocket-Version: 13",
               "Sec-WebSocket-Key: dGhlIHNhbXBsZSBub25jZQ==", f"Origin: {server.origin}")  # fmt: skip
    plug.sendall(request(server, *upgrade, first="GET /api/live HTTP/1.1"))
    assert plug.recv(1024).startswith(b"HTTP/1.1 101")
    plug.settimeout(0.05)
    with contextlib.suppress(TimeoutError, ConnectionError):
        for _ in range(30):
            plug.sendall(_frame(b'{"id":1,"do":"open"}'))
    return plug


def _frame(payload: bytes, opcode: int = 1) -> bytes:
    """A masked frame; the mask 0 leaves the payload readable here."""
    return bytes([0x80 | opcode, 0x80 | len(payload)]) + b"\0\0\0\0" + payload


def test_a_client_that_never_reads_is_dropped(server):
    with never_reading(server) as plug, _never_reading_page(server) as page:
        time.sleep(STALL_SECONDS + 1)
        for each in (plug, page):
            each.settimeout(1)
            with pytest.raises(ConnectionError):
                _send_now_and_then(each)


def _send_now_and_then(plug: socket.socket) -> None:
    for _ in range(30):
        plug.sendall(b"x")
        time.sleep(0.4)


def test_pings_of_a_page_that_never_reads_do_not_pile_up(server):
    before = memory_of(server.process.pid)
    with _never_reading_page(server) as page:
        page.settimeout(0.2)
        sent, end = 0, time.monotonic() + 3
        with contextlib.suppress(TimeoutError, ConnectionError):
            while time.monotonic() < end:
                sent += page.send(_frame(b"x" * 120, opcode=9) * 500)
        assert memory_of(server.process.pid) - before < 30e6
        assert person_is_served(server) < 2


UPGRADE = ("Upgrade: websocket", "Connection: Upgrade", "Sec-WebSocket-Version: 13")
KEY = "Sec-WebSocket-Key: dGhlIHNhbXBsZSBub25jZQ=="


@pytest.mark.parametrize(
    ("first", "lines"),
    [
        ("POST /api/live HTTP/1.1", (*UPGRADE, KEY)), ("GET /api/live HTTP/1.0", (*UPGRADE, KEY)),
        ("GET /api/live HTTP/1.1", UPGRADE), ("GET /api/live HTTP/1.1", (*UPGRADE, KEY, KEY)),
        ("GET /api/live HTTP/1.1", (*UPGRADE, "Sec-WebSocket-Key: x")),
        ("GET /api/live HTTP/1.1", (*UPGRADE[:2], "Sec-WebSocket-Version: 8", KEY)),
        ("GET /api/live HTTP/1.1", (*UPGRADE, KEY, "Content-Length: 5")),
        ("GET /api/live HTTP/1.1", (*UPGRADE, KEY, *(f"X-{n}: a" for n in range(120)))),
    ],
)  # fmt: skip
def test_what_is_no_request_for_a_socket_is_refused_with_our_own_headers(server, first, lines):
    raw = server.raw(request(server, f"Origin: {server.origin}", *lines, first=first), timeout=3)
    assert status(raw) == 400
    assert b"\r\ncontent-security-policy: default-src 'none'" in raw
    assert b"Sec-WebSocket-Accept" not in raw


@pytest.mark.parametrize(
    "frames",
    [
        b"\x81\x05hello", b"\xf1\x85\0\0\0\0hello", b"\x83\x85\0\0\0\0hello", b"\x81\x82\0\0\0\0\xff\xfe",
        b"\x81\xff\x7f\xff\xff\xff\xff\xff\xff\xff\0\0\0\0", b"\x80\x85\0\0\0\0hello", b"\x88\x81\0\0\0\0x",
        b"\x01\x81\0\0\0\0{\x81\x81\0\0\0\0}", b"\x82\x85\0\0\0\0hello", b"\x88\x80\0\0\0\0",
    ],
    ids=["unmasked", "reserved", "opcode", "not text", "giant", "no start", "close", "mixed", "binary", "goodbye"],
)  # fmt: skip
def test_frames_that_break_the_rules_end_the_socket(server, frames):
    heard = b""
    with server.plug(5) as plug:
        origin = f"Origin: {server.origin}"
        plug.sendall(request(server, origin, *UPGRADE, KEY, first="GET /api/live HTTP/1.1"))
        assert plug.recv(4096).startswith(b"HTTP/1.1 101")
        plug.sendall(frames)
        with contextlib.suppress(ConnectionError):
            while piece := plug.recv(4096):
                heard += piece
    assert heard[:1] == b"\x88"  # a close frame, and then the end


def test_nothing_of_all_this_is_left_open(server):
    person_is_served(server)
    end = time.monotonic() + 20
    while (left := _descriptors(server.process.pid)) > 24 and time.monotonic() < end:
        time.sleep(0.5)
    assert left <= 24


def _descriptors(pid: int) -> int:
    return sum(1 for _ in Path(f"/proc/{pid}/fd").iterdir())
