"""The outer door: every request passes the guard, every answer carries the secure headers."""

from __future__ import annotations

import logging
import secrets
from collections.abc import Callable
from dataclasses import dataclass
from typing import cast

from starlette.requests import ClientDisconnect
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from leverwright.server.guard import Gate, Head, Pass, Refused, judge_head
from leverwright.server.headers import SECURE
from leverwright.server.page import not_let_in
from leverwright.wire.faults import FaultDocument, SaidFault
from leverwright.wire.strict import compact

__all__ = ["Door", "said", "spoken"]

_LOG = logging.getLogger("leverwright.server")
_CLOSE = (b"connection", b"close")


def said(found: str, allowed: str, do: str, *, name: str = "", key: str | None = None) -> SaidFault:
    """A refusal that is about no line of the file."""
    sentence = f"{key + ': ' if key else ''}{found}; allowed: {allowed}; {do}"
    return SaidFault(name, None, key, found, allowed, do, sentence)


def spoken(fault: SaidFault) -> bytes:
    """The document that carries it."""
    return compact(FaultDocument(error=fault))


@dataclass(frozen=True, slots=True)
class _Answer:
    status: int
    kind: bytes
    body: bytes
    more: tuple[tuple[bytes, bytes], ...] = ()


class Door:
    """The guard around the application `inside`."""

    def __init__(self, gate: Gate, inside: ASGIApp, token_used: Callable[[], None] = lambda: None) -> None:
        self._gate = gate
        self._inside = inside
        self._token: str | None = gate.token
        self._token_used = token_used

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request, or open one socket."""
        head = _head(scope)
        verdict = judge_head(self._gate, head)
        secure = _secured(send)
        if isinstance(verdict, Refused):
            await _give(head, secure, self._refusal(head, verdict))
        elif verdict.token is not None:
            await _give(head, secure, self._entry(head, verdict))
        else:
            await self._go_in(scope, receive, secure)

    async def _go_in(self, scope: Scope, receive: Receive, send: Send) -> None:
        started = False

        async def noting(message: Message) -> None:
            nonlocal started
            started = True
            await send(message)

        try:
            await self._inside(scope, receive, noting)
        except ClientDisconnect:
            return  # it went while it still owed us the rest of its request
        except Exception:
            # The last place that can answer; the traceback names no address and no token.
            _LOG.exception("a request failed")
            if started or scope["type"] == "websocket":
                raise
            fault = said(
                "the program failed inside", "nothing you did", "send the message in its window to the makers"
            )
            await _give(_head(scope), send, _Answer(500, b"application/json", spoken(fault), (_CLOSE,)))

    def _entry(self, head: Head, verdict: Pass) -> _Answer:
        """The token, good once, for the cookie."""
        offered = cast("str", verdict.token).encode()
        good = self._token is not None and secrets.compare_digest(offered, self._token.encode())
        home = (b"location", b"/")
        if good:
            self._token = None
            self._token_used()
            cookie = f"{self._gate.cookie}={self._gate.key}; Path=/; HttpOnly; SameSite=Strict"
            return _Answer(303, b"text/plain", b"", (home, (b"set-cookie", cookie.encode("ascii"))))
        if verdict.known:  # the person opened the old address again
            return _Answer(303, b"text/plain", b"", (home,))
        return self._refusal(head, Refused(403, "this address was used before, and it works once"))

    def _refusal(self, head: Head, refused: Refused) -> _Answer:
        if head.path == b"/" and refused.status == 403 and head.kind == "http" and head.method == "GET":
            from_elsewhere = (
                head.all(b"sec-fetch-site") in ([b"cross-site"], [b"same-site"]) and not head.query
            )
            body = not_let_in(again=from_elsewhere)
            return _Answer(403, b"text/html; charset=utf-8", body, (_CLOSE,))
        fault = said(
            refused.why, "requests of the page that this program serves", "open the address that it printed"
        )
        return _Answer(refused.status, b"application/json", spoken(fault), (_CLOSE,))


def _head(scope: Scope) -> Head:
    """The head as it came: `raw_path` is not decoded, header names are in lower case."""
    return Head(
        kind=scope["type"],
        version=scope["http_version"],
        method=scope.get("method", "GET"),
        path=scope["raw_path"],
        query=scope["query_string"],
        headers=tuple((name.lower(), value) for name, value in scope["headers"]),
    )


def _secured(send: Send) -> Send:
    async def sending(message: Message) -> None:
        if message["type"] in ("http.response.start", "websocket.http.response.start"):
            own = [pair for pair in message.get("headers", ()) if pair[0].lower() not in dict(SECURE)]
            message = {**message, "headers": [*own, *SECURE]}
        await send(message)

    return sending


async def _give(head: Head, send: Send, answer: _Answer) -> None:
    prefix = "websocket.http.response" if head.kind == "websocket" else "http.response"
    length = (b"content-length", b"%d" % len(answer.body))
    start = {"status": answer.status, "headers": [(b"content-type", answer.kind), length, *answer.more]}
    await send({"type": f"{prefix}.start", **start})
    await send({"type": f"{prefix}.body", "body": answer.body})
