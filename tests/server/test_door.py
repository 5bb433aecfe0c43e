"""The door: what stands inside is reached only through it, and when it breaks the answer is still ours."""

from __future__ import annotations

import json
import logging

import pytest
from starlette.requests import ClientDisconnect

from leverwright.server.door import Door
from leverwright.server.guard import Gate
from leverwright.server.headers import SECURE
from tests.server.apart import run_apart

GATE = Gate(8123, "T" * 43, "K" * 43)
HOST = (b"host", b"127.0.0.1:8123")
COOKIE = (b"cookie", b"leverwright-8123=" + b"K" * 43)
ORIGIN = (b"origin", b"http://127.0.0.1:8123")


def scope(*headers, path=b"/", query=b"", kind="http", method="GET"):
    return {
        "type": kind, "http_version": "1.1", "method": method, "raw_path": path, "path": path.decode(),
        "query_string": query, "headers": [HOST, *headers],
    }  # fmt: skip


def talk(door, asked):
    """Messages that the door sends."""
    sent = []

    async def receive():
        raise AssertionError("the door read a body")

    async def send(message):
        sent.append(message)

    run_apart(door(asked, receive, send))
    return sent


async def fine(_scope, _receive, send):
    await send(
        {"type": "http.response.start", "status": 200, "headers": [(b"Referrer-Policy", b"unsafe-url")]}
    )
    await send({"type": "http.response.body", "body": b"inside"})


async def never(_scope, _receive, _send):
    raise AssertionError("let in")


async def broken(_scope, _receive, _send):
    raise RuntimeError("a secret of the inside")


async def half_broken(_scope, _receive, send):
    await send({"type": "http.response.start", "status": 200, "headers": []})
    raise RuntimeError


def test_who_has_the_cookie_goes_in_and_our_headers_replace_those_of_the_inside():
    start, body = talk(Door(GATE, fine), scope(COOKIE))
    assert body["body"] == b"inside"
    assert start["headers"] == list(SECURE)


@pytest.mark.parametrize(
    "asked",
    [scope(), scope(COOKIE, (b"origin", b"null")), scope(COOKIE, path=b"/..%2f"), scope(COOKIE, method="TRACE"),
     scope(COOKIE, HOST), scope(COOKIE, ORIGIN, method="POST"), scope(query=b"token=" + b"X" * 43)],
)  # fmt: skip
def test_who_is_refused_does_not_reach_the_inside(asked):
    start, body = talk(Door(GATE, never), asked)
    assert start["status"] >= 400
    assert set(SECURE) <= set(start["headers"])
    assert (b"connection", b"close") in start["headers"]
    assert (b"content-length", b"%d" % len(body["body"])) in start["headers"]


def test_a_refused_socket_is_answered_as_a_refused_request():
    start, body = talk(Door(GATE, never), scope(kind="websocket", path=b"/api/live"))
    assert (start["type"], start["status"]) == ("websocket.http.response.start", 403)
    assert json.loads(body["body"])["error"]["sentence"]


def test_the_token_lets_in_once_and_says_so_once():
    used = []
    door = Door(GATE, never, lambda: used.append(1))
    asked = scope(query=b"token=" + b"T" * 43)
    start, _ = talk(door, asked)
    assert (start["status"], dict(start["headers"])[b"location"]) == (303, b"/")
    assert b"K" * 43 in dict(start["headers"])[b"set-cookie"]
    assert talk(door, asked)[0]["status"] == 403
    start, _ = talk(door, scope(COOKIE, query=b"token=" + b"T" * 43))
    assert (start["status"], b"set-cookie" in dict(start["headers"])) == (303, False)
    assert used == [1]


def test_a_failure_inside_is_answered_and_logged_and_tells_the_client_nothing(caplog):
    with caplog.at_level(logging.ERROR):
        start, body = talk(Door(GATE, broken), scope(COOKIE))
    assert start["status"] == 500
    assert set(SECURE) <= set(start["headers"])
    assert b"secret" not in body["body"]
    assert "a secret of the inside" in caplog.text
    assert GATE.key not in caplog.text


async def left(_scope, _receive, _send):
    raise ClientDisconnect


def test_a_client_that_leaves_is_no_failure(caplog):
    assert talk(Door(GATE, left), scope(COOKIE)) == []
    assert caplog.text == ""


def test_a_failure_after_the_start_or_of_a_socket_ends_the_connection(caplog):
    with pytest.raises(RuntimeError):
        talk(Door(GATE, half_broken), scope(COOKIE))
    with pytest.raises(RuntimeError):
        talk(Door(GATE, broken), scope(COOKIE, ORIGIN, kind="websocket", path=b"/api/live"))
