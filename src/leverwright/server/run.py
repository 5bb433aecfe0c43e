"""The server itself: one address on this machine, served until Ctrl-C."""

from __future__ import annotations

import asyncio
import contextlib
import logging
import os
import signal
import socket
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from types import FrameType
from zlib import crc32

import uvicorn

from leverwright.server.api import application
from leverwright.server.bench import Bench, Benches
from leverwright.server.desk import Desk
from leverwright.server.door import Door
from leverwright.server.doorkeeper import Doorkeeper, HttpConnection, SocketConnection
from leverwright.server.guard import Gate, new_gate
from leverwright.server.limits import HEAD_BYTES, MESSAGE_BYTES
from leverwright.server.live import Pages
from leverwright.server.opener import open_page
from leverwright.server.page import built_page
from leverwright.server.watch import watch_file

__all__ = ["ServeError", "serve"]

_LOOPBACK = "127.0.0.1"
_USUAL, _USUALS = 20_000, 12_000  # ports that systems hand out to nobody by themselves
_KEEP_ALIVE_SECONDS = 5
_PING_SECONDS = 20.0
_BACKLOG = 256  # connections that may wait to be taken in
# What the system holds of answers that a client has not read: several workspaces. Left to itself it takes
# megabytes for each, and a client that does not read is noticed only when it is full.
_SENT_BYTES = 262_144
# Answers under way get this long when the program ends; it has promised five seconds in all.
_LAST_SECONDS = 1


class ServeError(Exception):
    """The server could not start; the text is one sentence."""


def serve(path: Path, port: int, open_browser: bool, say: Callable[[str], None] = print) -> None:
    """Serve the page for the project file at `path` until Ctrl-C or a polite kill.

    port          0: the one that this file usually has, where the browser finds its unsaved work, or any that is free
    open_browser  hand the address to the person's browser too
    say           told one line: the address, which works once
    """
    desk = Desk(path)
    with _listening(port, path) as listener:
        gate = new_gate(listener.getsockname()[1])
        entry = _Entry(f"http://{_LOOPBACK}:{gate.port}/?token={gate.token}", open_browser, say)
        try:
            asyncio.run(_serve(gate, desk, listener, entry))
        finally:
            entry.close()


class _Entry:
    """The address that works once: said, and handed to the browser through a file of its own, once all is ready."""

    def __init__(self, address: str, open_browser: bool, say: Callable[[str], None]) -> None:
        self._address, self._open_browser, self._say = address, open_browser, say
        self._file: Path | None = None

    def open(self) -> None:
        self._say(self._address)
        self._file = open_page(self._address) if self._open_browser else None

    def close(self) -> None:
        if self._file is not None:
            self._file.unlink(missing_ok=True)


def _bind(listener: socket.socket, port: int, path: Path) -> None:
    """To the port asked for; where none is, to the one that goes by the file's place, unless it is taken."""
    if port == 0:
        with contextlib.suppress(OSError):
            listener.bind((_LOOPBACK, usual_port(path)))
            return
    listener.bind((_LOOPBACK, port))


def usual_port(path: Path) -> int:
    """What a browser remembers it remembers by host and port: the same file has the same port whenever it can."""
    return _USUAL + crc32(os.fsencode(path.absolute())) % _USUALS


@contextlib.contextmanager
def _listening(port: int, path: Path) -> Iterator[socket.socket]:
    with socket.socket(socket.AF_INET, socket.SOCK_STREAM) as listener:
        if sys.platform != "win32":  # there it would let two programs share the port
            listener.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        listener.setsockopt(
            socket.SOL_SOCKET, socket.SO_SNDBUF, _SENT_BYTES
        )  # what it takes in inherits this
        try:
            _bind(listener, port, path)
            listener.listen(_BACKLOG)  # before the address is said, so that nobody is turned away
        except (OSError, OverflowError) as error:
            why = error.strerror if isinstance(error, OSError) and error.strerror else "not a port"
            raise ServeError(
                f"port {port} of this machine cannot be used ({why}); give another, or none"
            ) from error
        yield listener


async def _serve(gate: Gate, desk: Desk, listener: socket.socket, entry: _Entry) -> None:
    keeper = Doorkeeper()
    benches = Benches(*(Bench(name) for name in ("answers", "remedies", "sheets", "files")))
    pages = Pages(desk, benches)
    door = Door(gate, application(built_page(), desk, pages, benches), entry.close)
    server = _Server(_config(door, keeper), entry)
    beside = [
        asyncio.create_task(keeper.watch()),
        asyncio.create_task(watch_file(desk, pages, benches.files)),
    ]
    try:
        await server.serve(sockets=[listener])
    finally:
        for task in beside:
            task.cancel()


def _config(door: Door, keeper: Doorkeeper) -> uvicorn.Config:
    logging.getLogger("uvicorn").setLevel(
        logging.CRITICAL
    )  # it would print addresses, and what strangers send
    return uvicorn.Config(
        door,
        http=type("Http", (HttpConnection,), {"keeper": keeper}),
        ws=type("Socket", (SocketConnection,), {"keeper": keeper}),
        lifespan="off",
        loop="asyncio",
        interface="asgi3",
        log_config=None,
        access_log=False,
        proxy_headers=False,
        server_header=False,
        date_header=False,
        h11_max_incomplete_event_size=HEAD_BYTES,
        timeout_keep_alive=_KEEP_ALIVE_SECONDS,
        timeout_graceful_shutdown=_LAST_SECONDS,
        ws_max_size=MESSAGE_BYTES,
        ws_per_message_deflate=False,
        ws_ping_interval=_PING_SECONDS,
        ws_ping_timeout=_PING_SECONDS,
    )


class _Server(uvicorn.Server):
    """Ends quietly at Ctrl-C and at a polite kill: both are how a person ends it."""

    def __init__(self, config: uvicorn.Config, entry: _Entry) -> None:
        super().__init__(config)
        self._entry = entry

    async def startup(self, sockets: list[socket.socket] | None = None) -> None:
        await super().startup(sockets)
        self._entry.open()  # whoever has read the address may end the program at once: signals are heard by now

    @contextlib.contextmanager
    def capture_signals(self) -> Iterator[None]:
        try:
            before = {each: signal.signal(each, self._end) for each in (signal.SIGINT, signal.SIGTERM)}
        except ValueError:  # not the main thread, which alone may listen to signals
            yield
            return
        try:
            yield
        finally:
            for each, handler in before.items():
                signal.signal(each, handler)

    def _end(self, number: int, frame: FrameType | None) -> None:
        self.handle_exit(number, frame)
