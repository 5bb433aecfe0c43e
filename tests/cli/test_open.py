"""`open` prints the page's address, serves until Ctrl-C, and says why where it cannot."""

import os
import re
import signal
import socket
import subprocess

import pytest

from leverwright import cli
from tests.cli.command import COMMAND


@pytest.fixture
def opened(capsys, tmp_path, monkeypatch):
    """The command with a server that only remembers what it was given."""
    monkeypatch.chdir(tmp_path)
    calls = []

    def run(*words, ends=None):
        def serve(file, port, browser, announce):
            announce("http://127.0.0.1:1/?token=x")
            calls.append((str(file), port, browser))
            if ends:
                raise ends

        status = cli.main(("open", *words), serve=serve)
        out, notes = capsys.readouterr()
        return status, out, notes, calls

    return run


def test_the_file_is_served_and_its_address_is_the_one_line(opened):
    assert opened("cart.toml") == (0, "http://127.0.0.1:1/?token=x\n", "", [("cart.toml", 0, True)])


def test_port_and_no_browser_are_handed_on(opened):
    assert opened("cart.toml", "--port", "8123", "--no-browser")[3] == [("cart.toml", 8123, False)]


def test_ctrl_c_closes_the_page_with_a_word(opened):
    status, out, notes, _ = opened("cart.toml", ends=KeyboardInterrupt)
    assert (status, out.count("\n"), notes) == (0, 1, "The page is closed.\n")


@pytest.mark.parametrize("port", ["65536", "-1", "٣", "8 000", "1e3", "", "9" * 5000])
def test_what_is_no_port_is_refused(opened, port):
    status, out, notes, calls = opened("cart.toml", f"--port={port}")
    assert (status, out, calls) == (2, "", [])
    assert "is no port; allowed: a whole number from 0 to 65535" in " ".join(notes.split())


def test_a_port_that_is_taken_is_a_sentence(leverwright):
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        ended = leverwright("open", "cart.toml", "--no-browser", "--port", str(port))
    assert ended.status == 2
    assert ended.said.startswith(f"command line, --port: port {port} of this machine cannot be used")


def test_the_real_page_is_served_until_ctrl_c(tmp_path):
    process = subprocess.Popen(
        [*COMMAND, "open", "cart.toml", "--no-browser"],
        cwd=tmp_path,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    )
    try:
        address = process.stdout.readline().decode()
        assert re.fullmatch(r"http://127\.0\.0\.1:[0-9]+/\?token=\S+\n", address)
        process.send_signal(signal.SIGINT)
        _, notes = process.communicate(timeout=5)  # as promised
    finally:
        process.kill()
    assert (process.returncode, notes.count(b"Traceback")) == (0, 0)


def test_what_is_no_file_is_refused_before_anything_is_served(opened, tmp_path):
    (tmp_path / "folder").mkdir()
    os.mkfifo(tmp_path / "pipe")
    for name, said in (
        ("folder", "folder: "),
        ("pipe", "pipe: "),
        ("no/cart.toml", "no/cart.toml: there is no folder 'no'"),
    ):
        status, out, notes, calls = opened(name)
        assert (status, out, calls) == (2, "", [])
        assert notes.startswith(said)


def test_a_file_with_faults_is_opened_to_be_mended(opened, tmp_path):
    (tmp_path / "cart.toml").write_text("leverwright = 1\n[bars", encoding="utf-8")
    assert opened("cart.toml")[0] == 0
