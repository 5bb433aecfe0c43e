"""Connections: none waits on us for ever, none holds memory, and a new one always gets in.

The HTTP library limits the size of a request's head but not the time that it takes,
and waits without end for a client that does not read. The doorkeeper looks over all
connections twice a second and drops those that owe something for too long.
"""

from __future__ import annotations

import asyncio
import re
from typing import TYPE_CHECKING, ClassVar, Protocol

import h11
from uvicorn.protocols.http.h11_impl import H11Protocol
from uvicorn.protocols.websockets.websockets_sansio_impl import WebSocketsSansIOProtocol

from leverwright.server.headers import SECURE
from leverwright.server.limits import (
    CLIENT_SECONDS,
    CLOSE_SECONDS,
    CONNECTIONS,
    PHOTO_BYTES,
    STALL_SECONDS,
    SWEEP_SECONDS,
)

if TYPE_CHECKING:
    from websockets.frames import Frame

__all__ = ["Doorkeeper", "HttpConnection", "SocketConnection"]

# What a refused client may still send while it has not read the refusal yet: a large photograph.
_DISCARDED_BYTES = 3 * PHOTO_BYTES
# Pieces of one socket message; a browser sends one.
_FRAGMENTS = 512
# Headers of a request for a socket: the library behind takes 128 and says nothing to more.
_SOCKET_HEADERS = 100
_KEY = re.compile(rb"[A-Za-z0-9+/]{22}==")  # 16 bytes


class _Watched(Protocol):
    """What the doorkeeper must see of a connection; times are of the loop's clock."""

    transport: asyncio.Transport
    waiting_since: float  # for the client to finish its request
    stalled_since: float | None  # with an answer that the client does not read
    closing_since: float | None

    def waits(self) -> bool:
        """Whether the client owes us the rest of a request."""


class Doorkeeper:
    """All open connections."""

    def __init__(self) -> None:
        self._open: set[_Watched] = set()

    def __len__(self) -> int:
        return len(self._open)

    def admit(self, connection: _Watched) -> None:
        """Take in a new connection; when there are too many, drop the one that lets us wait longest."""
        if len(self._open) >= CONNECTIONS:
            self._drop_one()
        self._open.add(connection)

    def forget(self, connection: _Watched) -> None:
        """The connection is gone, or another object has taken it over."""
        self._open.discard(connection)

    def _drop_one(self) -> None:
        idle = [each for each in self._open if each.waits()] or list(self._open)
        longest = min(idle, key=lambda each: each.waiting_since)
        self._open.discard(longest)
        longest.transport.abort()

    async def watch(self) -> None:
        """Look over the connections until cancelled."""
        clock = asyncio.get_running_loop().time
        while True:
            await asyncio.sleep(SWEEP_SECONDS)
            self.look_over(clock())

    def look_over(self, now: float) -> None:
        """Drop what owes us something for too long at the time `now`."""
        for each in list(self._open):
            if not each.waits():
                each.waiting_since = now
            if each.transport.is_closing() and each.closing_since is None:
                each.closing_since = now
            if (
                now - each.waiting_since > CLIENT_SECONDS
                or _over(now, each.stalled_since, STALL_SECONDS)
                or _over(now, each.closing_since, CLOSE_SECONDS)
            ):
                each.transport.abort()


def _over(now: float, since: float | None, limit: float) -> bool:
    return since is not None and now - since > limit


class _Lingering:
    """A transport that lets a refused client finish sending, so that it can read why.

    Closing while bytes are on their way makes the kernel reset the connection, and the
    client loses the answer. What still comes is thrown away unread and uncounted by
    anything but its size.
    """

    def __init__(self, transport: asyncio.Transport, connection: HttpConnection) -> None:
        self._transport = transport
        self._connection = connection

    def __getattr__(self, name: str) -> object:
        return getattr(self._transport, name)

    def is_closing(self) -> bool:
        return self._connection.discards or self._transport.is_closing()

    def close(self) -> None:
        if self._connection.discards or self._transport.is_closing():
            return
        if self._connection.conn.their_state in (h11.SEND_BODY, h11.ERROR):
            self._connection.discards = True
            self._transport.resume_reading()
            self._transport.write_eof()
        else:
            self._transport.close()


class HttpConnection(H11Protocol):
    """A connection before it becomes a socket."""

    keeper: ClassVar[Doorkeeper]
    discards = False
    waiting_since = 0.0
    stalled_since: float | None = None
    closing_since: float | None = None
    _discarded = 0

    def waits(self) -> bool:
        """Whether the client owes us the rest of a request."""
        return self.conn.their_state in (h11.IDLE, h11.SEND_BODY)

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        """Start watching."""
        super().connection_made(_Lingering(transport, self))  # type: ignore[arg-type]  # delegates the rest
        self.waiting_since = self.loop.time()
        self.keeper.admit(self)

    def connection_lost(self, exc: Exception | None) -> None:
        """Stop watching."""
        self.keeper.forget(self)
        super().connection_lost(exc)

    def data_received(self, data: bytes) -> None:
        """A slow request does not gain time by sending one byte more; a new one starts afresh."""
        if self.discards:
            self._discarded += len(data)
            if self._discarded > _DISCARDED_BYTES:
                self.transport.abort()
            return
        before = self.cycle
        super().data_received(data)
        if self.cycle is not before:
            self.waiting_since = self.loop.time()

    def eof_received(self) -> None:
        """The client has sent all: nothing to linger for."""
        if self.discards:
            self.transport.abort()

    def handle_websocket_upgrade(self, event: h11.Request) -> None:
        """From here on a `SocketConnection` has it; what is no such request is refused with our own words."""
        if not _opens_socket(event):
            self.send_400_response("This is no request for a socket.")
            return
        self.keeper.forget(self)
        super().handle_websocket_upgrade(event)

    def send_400_response(self, msg: str) -> None:
        """A refusal of what is no HTTP, with the headers that every answer carries."""
        head = [(b"content-type", b"text/plain; charset=utf-8"), (b"connection", b"close"), *SECURE]
        body = f"{msg}\n".encode("ascii", "replace")
        if self.conn.our_state in (h11.IDLE, h11.SEND_RESPONSE):
            for part in (
                h11.Response(status_code=400, headers=[*head, (b"content-length", b"%d" % len(body))]),
                h11.Data(data=body),
                h11.EndOfMessage(),
            ):
                self.transport.write(self.conn.send(part) or b"")
        self.transport.close()

    def pause_writing(self) -> None:
        """The client does not read."""
        self.stalled_since = self.loop.time()
        super().pause_writing()

    def resume_writing(self) -> None:
        """It reads again."""
        self.stalled_since = None
        super().resume_writing()


def _opens_socket(event: h11.Request) -> bool:
    """Whether the request has the form of RFC 6455, 4.1; who sends it is for the guard to judge."""
    headers = [(name.lower(), value) for name, value in event.headers]
    versions = [value for name, value in headers if name == b"sec-websocket-version"]
    keys = [value for name, value in headers if name == b"sec-websocket-key"]
    plain = event.method == b"GET" and event.http_version == b"1.1" and len(headers) <= _SOCKET_HEADERS
    bodied = any(name in (b"content-length", b"transfer-encoding") for name, _ in headers)
    return plain and not bodied and versions == [b"13"] and len(keys) == 1 and bool(_KEY.fullmatch(keys[0]))


class SocketConnection(WebSocketsSansIOProtocol):
    """A connection that has become a socket."""

    keeper: ClassVar[Doorkeeper]
    waiting_since = 0.0
    stalled_since: float | None = None
    closing_since: float | None = None

    def waits(self) -> bool:
        """Never: a person may look at the page for an hour; the library's pings tell a dead one."""
        return False

    def connection_made(self, transport: asyncio.BaseTransport) -> None:
        """Start watching."""
        super().connection_made(transport)
        self.close_timeout = CLOSE_SECONDS  # for its word that it has heard our goodbye
        self.waiting_since = self.loop.time()
        self.keeper.admit(self)

    def connection_lost(self, exc: Exception | None) -> None:
        """Stop watching."""
        self.keeper.forget(self)
        super().connection_lost(exc)

    def handle_cont(self, event: Frame) -> None:
        """Empty pieces of a message weigh nothing, so they are counted."""
        if len(self.frames) >= _FRAGMENTS:
            self.transport.abort()
            return
        super().handle_cont(event)

    def pause_writing(self) -> None:
        """The client does not read: nor do we, or the answers to its pings would pile up."""
        self.stalled_since = self.loop.time()
        self.transport.pause_reading()
        super().pause_writing()

    def resume_writing(self) -> None:
        """It reads again."""
        self.stalled_since = None
        if not self.read_paused:
            self.transport.resume_reading()
        super().resume_writing()
