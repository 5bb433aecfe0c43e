"""The way in: one address, good once."""

from __future__ import annotations

import stat
from pathlib import Path
from urllib.parse import unquote

import pytest

from leverwright.server import opener
from tests.server.running import running


def test_the_token_becomes_a_cookie_that_scripts_and_other_sites_do_not_get(fresh):
    assert len(fresh.token) == 43  # 256 bits in base 64
    status, headers, body = fresh.ask("GET", f"/?token={fresh.token}")
    assert (status, headers["location"], body) == (303, "/", b"")
    cookie, *attributes = headers["set-cookie"].split("; ")
    name, _, key = cookie.partition("=")
    assert name == f"leverwright-{fresh.port}"
    assert len(key) == 43
    assert key != fresh.token
    assert sorted(attributes) == ["HttpOnly", "Path=/", "SameSite=Strict"]
    assert fresh.ask("GET", "/", Cookie=cookie)[0] == 200


def test_the_token_is_good_once(fresh):
    fresh.enter()
    status, headers, body = fresh.ask("GET", f"/?token={fresh.token}", Cookie="")
    assert status == 403
    assert "set-cookie" not in headers
    assert b"works once" in body
    # The person who opens the old address again is already in.
    status, headers, _ = fresh.ask("GET", f"/?token={fresh.token}")
    assert (status, headers["location"]) == (303, "/")
    assert "set-cookie" not in headers


def test_a_wrong_token_does_not_use_up_the_right_one(fresh):
    for wrong in ("x", fresh.token[:-1], fresh.token + "A", fresh.token.swapcase()):
        assert fresh.ask("GET", f"/?token={wrong}")[0] == 403
    fresh.enter()


def test_a_browser_without_the_cookie_gets_a_page_that_says_what_to_do(fresh):
    status, headers, body = fresh.ask("GET", "/")
    assert status == 403
    assert headers["content-type"].startswith("text/html")
    assert b"Open the whole address" in body
    assert b"refresh" not in body


def test_a_browser_that_was_sent_from_elsewhere_asks_once_more_by_itself(fresh):
    """Its first request comes without the strict cookie; the second is the page's own."""
    page = {"Sec_Fetch_Site": "cross-site", "Sec_Fetch_Dest": "document"}
    assert b'http-equiv="refresh"' in fresh.ask("GET", "/", **page)[2]
    assert b"refresh" not in fresh.ask("GET", "/", Sec_Fetch_Site="same-origin", Sec_Fetch_Dest="document")[2]


def test_the_token_and_the_cookie_stand_nowhere_but_in_the_line_that_was_printed(tmp_path):
    with running(tmp_path) as server:
        shown = Path(f"/proc/{server.process.pid}/cmdline").read_bytes() + _environment(server.process.pid)
        assert server.token.encode() not in shown
        server.enter()
        key = server.cookie.partition("=")[2]
        for path in ("/", "/api/project", "/api/archetypes", "/nothing"):
            _, headers, body = server.ask("GET", path)
            assert key not in str(headers) + body.decode("utf-8", "replace")
            assert server.token not in str(headers) + body.decode("utf-8", "replace")
        server.raw(b"nonsense\r\n\r\n", timeout=2)
        server.process.send_signal(2)
        out, err = server.process.communicate(timeout=10)
    assert (out, err) == ("", "")
    left = [path.name for path in tmp_path.iterdir()]
    assert left == ["cart.toml"]


def _environment(pid: int) -> bytes:
    return Path(f"/proc/{pid}/environ").read_bytes()


def test_the_cookie_of_another_launch_opens_nothing(tmp_path):
    (tmp_path / "one").mkdir()
    (tmp_path / "two").mkdir()
    with running(tmp_path / "one") as one, running(tmp_path / "two") as two:
        one.enter()
        two.enter()
        assert two.ask("GET", "/api/project", Cookie=one.cookie)[0] == 403
        renamed = one.cookie.replace(str(one.port), str(two.port))
        assert two.ask("GET", "/api/project", Cookie=renamed)[0] == 403
        assert two.ask("GET", "/api/project", Cookie=f"{one.cookie}; {two.cookie}")[0] == 200


def test_the_browser_is_handed_a_private_file_and_no_token(tmp_path, monkeypatch):
    monkeypatch.setattr(opener.tempfile, "tempdir", str(tmp_path))
    opened = []
    monkeypatch.setattr(opener.webbrowser, "open", lambda uri: opened.append(uri) or True)
    path = opener.open_page("http://127.0.0.1:1/?token=SECRET")
    assert path is not None
    assert opened == [path.as_uri()]
    assert "SECRET" not in opened[0]
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    assert "http://127.0.0.1:1/?token=SECRET" in path.read_text()
    assert Path(unquote(opened[0].removeprefix("file://"))) == path


def test_without_a_browser_no_file_is_left(tmp_path, monkeypatch):
    monkeypatch.setattr(opener.tempfile, "tempdir", str(tmp_path))
    monkeypatch.setattr(opener.webbrowser, "open", lambda _: False)
    assert opener.open_page("http://127.0.0.1:1/?token=SECRET") is None
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("query", ["token=", "token", "x=1", "token=a&token=b", "token=%20"])
def test_no_other_question_is_answered(fresh, query):
    assert fresh.ask("GET", f"/?{query}")[0] == 404


def test_a_file_is_found_at_the_same_port_again_and_beside_itself_at_another(tmp_path):
    with running(tmp_path) as first:
        usual = first.port
        with running(tmp_path, None) as second:
            assert second.port != usual
    with running(tmp_path, None) as again:
        assert again.port == usual
