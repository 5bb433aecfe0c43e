"""Who may ask what: decided from the request's head alone, before anything else runs.

Loopback is no protection. Any web site can make the person's browser send requests
here, and any name can be made to point here; so every comparison is with one exact
string, and what is not expected is refused.
"""

from __future__ import annotations

import re
import secrets
from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Literal

from leverwright.server.limits import BODY_BYTES, HEAD_BYTES, PHOTO_BYTES

__all__ = ["PHOTO_PATHS", "Gate", "Head", "Pass", "Refused", "judge_head", "new_gate"]

# Where a page that our own page did not send may be asked for: by a typed or clicked address.
_FRONT_DOOR = "/"
# No escapes, no dots in a row, no backslash: nothing that two parsers could read differently.
_PLAIN_PATH = re.compile(rb"/(?:[A-Za-z0-9_-]+(?:\.[A-Za-z0-9_-]+)*(?:/|\Z))*")
_TOKEN = re.compile(rb"token=([A-Za-z0-9_-]{1,128})")
_WRITES = ("POST", "PUT")
_READS = ("GET", "HEAD")
_LENGTH = re.compile(rb"[0-9]{1,12}")
# Where a photograph is sent, and what it says to be.
PHOTO_PATHS = {b"/api/photos/side": "side", b"/api/photos/front": "front"}
_PICTURES = (b"image/jpeg", b"image/png")
_JSON = (b"application/json", b"application/json; charset=utf-8", b"application/json;charset=utf-8")


@dataclass(frozen=True, slots=True)
class Gate:
    """What this launch accepts. Both secrets have 256 bits and stay out of `repr`."""

    port: int
    token: str = field(repr=False)
    key: str = field(repr=False)  # value of the cookie

    @property
    def hosts(self) -> tuple[bytes, ...]:
        """The exact values of `Host` that are ours."""
        return tuple(f"{name}:{self.port}".encode() for name in ("127.0.0.1", "localhost"))

    @property
    def cookie(self) -> str:
        """Name of the cookie; cookies ignore ports, so the port is in the name."""
        return f"leverwright-{self.port}"


@dataclass(frozen=True, slots=True)
class Head:
    """The head of a request; `target` as sent, header names in lower case."""

    kind: Literal["http", "websocket"]
    version: str
    method: str
    path: bytes
    query: bytes
    headers: tuple[tuple[bytes, bytes], ...]

    def all(self, name: bytes) -> list[bytes]:
        """Every value of the header `name`."""
        return [value for key, value in self.headers if key == name]


@dataclass(frozen=True, slots=True)
class Refused:
    """Status and the clause that a person reads."""

    status: int
    why: str


@dataclass(frozen=True, slots=True)
class Pass:
    """Let in; `token` is what the address carried, when it carried one."""

    token: str | None = None
    known: bool = True  # has the cookie


def new_gate(port: int) -> Gate:
    """A gate with fresh secrets."""
    return Gate(port, secrets.token_urlsafe(32), secrets.token_urlsafe(32))


def judge_head(gate: Gate, head: Head) -> Pass | Refused:
    """Let the request in, or say why not; the order is from the most to the least foreign."""
    refusal = _wrong_host(gate, head) or _wrong_form(head) or _wrong_origin(head)
    if refusal:
        return refusal
    known = _has_cookie(gate, head)
    if head.path == _FRONT_DOOR.encode() and head.query and head.kind == "http":
        return _token_of(head, known=known)
    if head.query:
        return Refused(404, "this address takes no question mark")
    if not known:
        return Refused(403, "this browser was not let in: open the address that the program printed")
    return Pass()


def _wrong_host(gate: Gate, head: Head) -> Refused | None:
    hosts = head.all(b"host")
    if len(hosts) != 1 or hosts[0] not in gate.hosts:
        return Refused(421, "the request names another host")
    return None


def _wrong_form(head: Head) -> Refused | None:
    # The parser limits a head that is not whole yet; one that came in a single piece is weighed here.
    if len(head.path) + len(head.query) + sum(len(k) + len(v) + 4 for k, v in head.headers) > HEAD_BYTES:
        return Refused(431, f"the head of the request is over {HEAD_BYTES} bytes")
    if head.version != "1.1":
        return Refused(505, "only HTTP/1.1 is spoken here")
    if _PLAIN_PATH.fullmatch(head.path) is None:
        return Refused(404, "there is no such page")
    if head.method not in _READS + _WRITES:
        return Refused(405, "this method is not used here")
    return _wrong_body(head)


def _wrong_body(head: Head) -> Refused | None:
    lengths = head.all(b"content-length")
    if head.all(b"transfer-encoding") or head.all(b"content-encoding") or len(lengths) > 1:
        return Refused(411, "a body comes whole, with its length")
    if head.method in _READS:  # a socket begins as one
        return Refused(400, "a read has no body") if lengths and lengths[0] != b"0" else None
    if not lengths or not _LENGTH.fullmatch(lengths[0]):
        return Refused(411, "a body comes whole, with its length")
    photo = head.path in PHOTO_PATHS
    most = PHOTO_BYTES if photo else BODY_BYTES
    if int(lengths[0]) > most:
        return Refused(
            413, f"the photograph is over {most} bytes" if photo else f"the body is over {most} bytes"
        )
    kinds = head.all(b"content-type")
    if len(kinds) != 1 or kinds[0].lower() not in (_PICTURES if photo else _JSON):
        return Refused(
            415, "a photograph is JPEG or PNG and says so" if photo else "a body is JSON and says so"
        )
    return None


def _wrong_origin(head: Head) -> Refused | None:
    ours = b"http://" + head.all(b"host")[0]
    origins = head.all(b"origin")
    sites = head.all(b"sec-fetch-site")
    writes = head.kind == "websocket" or head.method in _WRITES
    if origins != [ours] and (writes or origins):
        return Refused(403, "the request comes from another page")
    if writes and sites not in ([], [b"same-origin"]):
        return Refused(403, "the request comes from another site")
    if not writes and sites not in ([], [b"same-origin"], [b"none"]) and not _opens_front_door(head):
        return Refused(403, "the request comes from another site")
    return None


def _opens_front_door(head: Head) -> bool:
    """A link clicked elsewhere may open the page itself, as a page and never inside another."""
    return head.path == _FRONT_DOOR.encode() and head.all(b"sec-fetch-dest") == [b"document"]


def _token_of(head: Head, *, known: bool) -> Pass | Refused:
    token = _TOKEN.fullmatch(head.query)
    if token is None or head.method != "GET":
        return Refused(404, "there is no such page")
    return Pass(token.group(1).decode("ascii"), known)


def _has_cookie(gate: Gate, head: Head) -> bool:
    return any(
        secrets.compare_digest(value.encode("utf-8", "replace"), gate.key.encode())
        for value in _cookies(head.all(b"cookie"), gate.cookie)
    )


def _cookies(headers: Iterable[bytes], name: str) -> Iterable[str]:
    """Every value of the cookie `name`; another local server may have set one of the same name."""
    for header in headers:
        for part in header.decode("latin-1").split(";"):
            key, _, value = part.strip().partition("=")
            if key == name:
                yield value
