"""How the server begins, ends and lasts: loopback only, talks to nobody, ends in time, grows by nothing."""

from __future__ import annotations

import contextlib
import json
import os
import signal
import socket
import subprocess
import sys
import time
from pathlib import Path

import pytest
from websockets.sync.client import connect

from leverwright.server import ServeError, serve
from tests.server.running import VEHICLE, running


def test_it_listens_on_this_machine_only(tmp_path):
    with running(tmp_path) as server:
        assert _listens(server.process.pid) == {f"0100007F:{server.port:04X}"}


def _listens(pid: int) -> set[str]:
    """Local addresses, as the kernel writes them, of the listening sockets of a process."""
    own = set()
    for entry in Path(f"/proc/{pid}/fd").iterdir():
        with contextlib.suppress(OSError):
            own.add(str(entry.readlink()))
    found = set()
    for table in ("tcp", "tcp6", "udp", "udp6"):
        with contextlib.suppress(OSError):
            for line in Path(f"/proc/{pid}/net/{table}").read_text().splitlines()[1:]:
                part = line.split()
                if f"socket:[{part[9]}]" in own and (part[3] == "0A" or table.startswith("udp")):
                    found.add(part[1])
    return found


_AUDITED = """
import sys
from pathlib import Path
OUTWARD = "socket.connect", "socket.sendto", "socket.getaddrinfo", "subprocess.Popen", "os.system"
def hook(event, arguments):
    if event in OUTWARD:
        print("AUDIT", event, arguments[1:], file=sys.stderr, flush=True)
sys.addaudithook(hook)
from leverwright.server import serve
serve(Path(sys.argv[1]), 0, False, lambda line: print(line, flush=True))
"""


def test_it_talks_to_nobody_and_starts_nothing(tmp_path, monkeypatch):
    monkeypatch.setattr("tests.server.running._START", _AUDITED)
    with running(tmp_path) as server:
        server.enter()
        revision = server.json("GET", "/api/project")[1]["revision"]
        server.json("PUT", "/api/project", {"text": VEHICLE + "#\n"}, If_Match=f'"{revision}"')
        _open_page(server)
        server.process.send_signal(signal.SIGINT)
        _, err = server.process.communicate(timeout=10)
    assert err == ""


def _open_page(server) -> None:
    with _page(server) as page:
        page.send(json.dumps({"id": 1, "do": "open"}))
        assert "workspace" in json.loads(page.recv(timeout=30))


def _page(server):
    return connect(
        f"ws://{server.host}/api/live",
        origin=server.origin,
        additional_headers={"Cookie": server.cookie},
        max_size=None,
    )


@pytest.mark.parametrize("how", [signal.SIGINT, signal.SIGTERM])
def test_it_ends_within_five_seconds_whatever_hangs_on_it(tmp_path, how):
    with running(tmp_path) as server, contextlib.ExitStack() as stack:
        server.enter()
        for _ in range(20):
            stack.enter_context(server.plug()).sendall(b"GET / HTT")
        pages = [stack.enter_context(_page(server)) for _ in range(3)]
        for page in pages:
            for n in range(5):
                page.send(json.dumps({"id": n + 1, "do": "open"}))
        unread = stack.enter_context(server.plug())
        unread.sendall(f"GET /api/fields HTTP/1.1\r\n{server.head()}\r\n".encode() * 200)
        start = time.monotonic()
        server.process.send_signal(how)
        out, err = server.process.communicate(timeout=10)
        assert time.monotonic() - start < 5
        assert (server.process.returncode, out, err) == (0, "", "")


def test_an_open_page_is_told_that_the_server_ends(tmp_path):
    with running(tmp_path) as server, _closed_by_server(server) as code:
        server.process.send_signal(signal.SIGINT)
        assert code() in (1001, 1012)


@contextlib.contextmanager
def _closed_by_server(server):
    from websockets.exceptions import ConnectionClosed

    server.enter()
    with _page(server) as page:

        def code() -> int:
            with pytest.raises(ConnectionClosed) as closed:
                page.recv(timeout=5)
            return closed.value.rcvd.code

        yield code


def test_a_port_that_is_taken_is_refused_in_a_sentence():
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        port = other.getsockname()[1]
        with pytest.raises(ServeError, match=f"port {port} of this machine cannot be used"):
            serve(Path("cart.toml"), port, False, print)
    for port in (-1, 70000):
        with pytest.raises(ServeError, match="not a port"):
            serve(Path("cart.toml"), port, False, print)


def test_the_command_opens_the_page(tmp_path):
    file = tmp_path / "cart.toml"
    file.write_text(VEHICLE)
    words = [sys.executable, "-m", "leverwright", "open", str(file), "--no-browser"]
    with subprocess.Popen(words, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True) as process:
        assert process.stdout is not None
        line = process.stdout.readline()
        assert line.startswith("http://127.0.0.1:")
        assert "/?token=" in line
        process.send_signal(signal.SIGINT)
        out, err = process.communicate(timeout=10)
        assert process.returncode == 0
        assert "Traceback" not in out + err


def _resident(pid: int) -> int:
    return int(Path(f"/proc/{pid}/statm").read_text().split()[1]) * os.sysconf("SC_PAGE_SIZE")


def _descriptors(pid: int) -> int:
    return sum(1 for _ in Path(f"/proc/{pid}/fd").iterdir())


def test_an_hour_of_work_leaves_nothing_behind(tmp_path):
    """An hour of a person is some hundred steps and some thousand tries; here they come without the pauses."""
    with running(tmp_path) as server:
        server.enter()
        _work(server, 21)  # everything imported and warm
        memory, descriptors = _resident(server.process.pid), _descriptors(server.process.pid)
        _work(server, 42)
        assert _resident(server.process.pid) - memory < 10 * 2**20
        assert _descriptors(server.process.pid) <= descriptors + 1


FIVE = {"link_arm": "45 mm", "spring_arm": "90 mm", "load": "42 kg", "rate": "18 N/mm", "moves": "5 mm"}
SHEETS = ("dxf", "templates", "card", "trial", "svg")


def _work(server, rounds: int) -> None:
    with _page(server) as page:
        number = 0

        def say(do: str, **more: object) -> dict:
            nonlocal number
            number += 1
            page.send(json.dumps({"id": number, "do": do, **more}))
            while (answer := json.loads(page.recv(timeout=30))).get("id") != number:
                pass
            return answer

        say("open")
        for n in range(rounds):
            ops = [{"op": "set", "key": ["points", "link-hole-left"], "value": [-245 + n / 50, 290, 480]}]
            say("try", ops=ops)
            for _ in range(10):
                assert say("replace", text=f"# a half-made vehicle, step {number}\n")["workspace"]["faults"]
            if n % 5 == 0:
                assert say("replace", text=VEHICLE + f"# {n}\n")["workspace"]["answers"]
                say("undo")
                assert server.json("POST", "/api/quick", FIVE)[0] == 200
                sheet = json.dumps({"text": VEHICLE, "sheet": SHEETS[n // 5 % len(SHEETS)]})
                assert server.ask("POST", "/api/make", body=sheet)[0] == 200
                assert server.ask("GET", "/api/project")[0] == 200
                assert server.ask("GET", "/")[0] == 200
                assert server.ask("GET", "/nothing")[0] == 404
                server.raw(b"nonsense\r\n\r\n", timeout=1)
