"""The server in a process of its own, and a plain socket to talk to it with."""

from __future__ import annotations

import contextlib
import http.client
import json
import signal
import socket
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from tests.cart import CART as VEHICLE

_START = """
import sys
from pathlib import Path
from leverwright.server import serve
serve(Path(sys.argv[1]), 0, False, lambda line: print(line, flush=True))
"""


@dataclass
class Running:
    """A server, its address, and after `enter` the cookie."""

    process: subprocess.Popen[str]
    address: str
    port: int
    file: Path
    cookie: str = ""

    @property
    def host(self) -> str:
        return f"127.0.0.1:{self.port}"

    @property
    def origin(self) -> str:
        return f"http://{self.host}"

    @property
    def token(self) -> str:
        return self.address.partition("?token=")[2]

    def enter(self) -> None:
        """Use the token, keep the cookie."""
        status, headers, _ = self.ask("GET", f"/?token={self.token}")
        assert status == 303
        self.cookie = headers["set-cookie"].partition(";")[0]

    def ask(
        self, method: str, path: str, body: str | None = None, **more: str
    ) -> tuple[int, dict[str, str], bytes]:
        """One request as our own page sends it; `more` headers replace or add, empty ones are left out."""
        headers = {"Cookie": self.cookie}
        if method in ("POST", "PUT"):
            headers |= {
                "Origin": self.origin,
                "Content-Type": "application/json",
                "Sec-Fetch-Site": "same-origin",
            }
        headers |= {name.replace("_", "-"): value for name, value in more.items()}
        connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=10)
        with contextlib.closing(connection):
            connection.request(method, path, body, {k: v for k, v in headers.items() if v})
            answer = connection.getresponse()
            return answer.status, {k.lower(): v for k, v in answer.getheaders()}, answer.read()

    def json(self, method: str, path: str, body: object = None, **more: str) -> tuple[int, dict]:
        """The same with JSON in and out."""
        status, _, raw = self.ask(method, path, None if body is None else json.dumps(body), **more)
        return status, json.loads(raw)

    def plug(self, timeout: float = 10.0) -> socket.socket:
        """A bare connection."""
        return socket.create_connection(("127.0.0.1", self.port), timeout=timeout)

    def raw(self, sent: bytes, timeout: float = 10.0) -> bytes:
        """What the server says to these bytes until it closes or is silent for `timeout` seconds."""
        heard = b""
        with self.plug(timeout) as plug, contextlib.suppress(TimeoutError, ConnectionError):
            plug.sendall(sent)
            while piece := plug.recv(65536):
                heard += piece
        return heard

    def head(self, *lines: str, cookie: bool = True) -> str:
        """Header lines with Host and cookie."""
        known = [f"Host: {self.host}", *([f"Cookie: {self.cookie}"] if cookie else [])]
        return "".join(f"{line}\r\n" for line in (*known, *lines))


@contextlib.contextmanager
def running(folder: Path, text: str | None = VEHICLE, name: str = "cart.toml") -> Iterator[Running]:
    """A server on a file of `folder`, stopped at the end."""
    file = folder / name
    if text is not None:
        file.write_text(text, encoding="utf-8")
    process = subprocess.Popen(
        [sys.executable, "-c", _START, str(file)], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    )
    try:
        assert process.stdout is not None
        address = process.stdout.readline().strip()
        assert address, process.stderr.read() if process.stderr else ""
        port = int(address.split(":")[2].split("/")[0])
        yield Running(process, address, port, file)
    finally:
        process.send_signal(signal.SIGINT)
        try:
            process.communicate(timeout=10)
        except subprocess.TimeoutExpired:
            process.kill()
            process.communicate()
