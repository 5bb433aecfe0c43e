"""Every answer carries the secure headers, also a refusal, and none opens a door to another site."""

from __future__ import annotations

import pytest

from leverwright.server.headers import POLICY

REQUESTS = {
    "page": ("GET", "/", {}),
    "script": ("GET", "/api/fields", {}),
    "project": ("GET", "/api/project", {}),
    "not let in": ("GET", "/", {"Cookie": ""}),
    "wrong host": ("GET", "/", {"Host": "evil.example"}),
    "wrong origin": ("POST", "/api/archetype", {"Origin": "http://evil.example"}),
    "preflight": (
        "OPTIONS",
        "/api/project",
        {"Origin": "http://evil.example", "Access_Control_Request_Method": "PUT"},
    ),
    "own preflight": ("OPTIONS", "/api/project", {}),
    "nothing there": ("GET", "/nothing", {}),
    "wrong method": ("POST", "/api/project", {}),
    "bad body": ("POST", "/api/archetype", {}),
    "used token": ("GET", "/?token=AAAA", {}),
    "traversal": ("GET", "/assets/..%2f..%2fetc/passwd", {}),
    "too large": ("POST", "/api/archetype", {"Content_Length": "2000000"}),
    "no type": ("POST", "/api/archetype", {"Content_Type": "text/plain"}),
}


@pytest.mark.parametrize("name", REQUESTS)
def test_every_answer_carries_them(server, name):
    method, path, headers = REQUESTS[name]
    _, answered, _ = server.ask(method, path, **headers)
    check(answered)


def check(answered: dict[str, str]) -> None:
    assert answered["content-security-policy"] == POLICY
    assert answered["x-content-type-options"] == "nosniff"
    assert answered["cross-origin-resource-policy"] == "same-origin"
    assert answered["cross-origin-opener-policy"] == "same-origin"
    assert answered["referrer-policy"] == "no-referrer"
    assert answered["cache-control"] == "no-store"
    assert not [name for name in answered if name.startswith("access-control") or name in ("server", "date")]


@pytest.mark.parametrize(
    "sent",
    [b"GET / HTTP/1.1\r\nHost: a\r\nHost: b\r\n\r\n", b"nonsense\r\n\r\n", b"GET / HTTP/1.1\r\n\r\n"],
    ids=["two hosts", "nonsense", "no host"],
)
def test_also_what_is_no_request(server, sent):
    raw = server.raw(sent, timeout=3)
    head, _, _ = raw.partition(b"\r\n\r\n")
    assert head.startswith(b"HTTP/1.1 400")
    check({n.lower(): v for n, _, v in (line.partition(": ") for line in head.decode().split("\r\n")[1:])})


def test_also_a_refused_socket(server):
    upgrade = ("Upgrade: websocket", "Connection: Upgrade", "Sec-WebSocket-Version: 13",
               "Sec-WebSocket-Key: dGhlIHNhbXBsZSBub25jZQ==", "Origin: http://evil.example")  # fmt: skip
    raw = server.raw(f"GET /api/live HTTP/1.1\r\n{server.head(*upgrade)}\r\n".encode(), timeout=3)
    head, _, _ = raw.partition(b"\r\n\r\n")
    assert head.startswith(b"HTTP/1.1 403")
    answered = {
        n.lower(): v for n, _, v in (line.partition(": ") for line in head.decode().split("\r\n")[1:])
    }
    answered.pop("date", None)  # the socket library's own
    check(answered)


def test_the_policy_is_the_promised_one():
    parts = dict(part.split(" ", 1) for part in POLICY.split("; "))
    assert parts == {
        "default-src": "'none'", "script-src": "'self'", "style-src": "'self'", "img-src": "'self'",
        "connect-src": "'self'", "frame-ancestors": "'none'", "base-uri": "'none'", "form-action": "'none'",
    }  # fmt: skip
