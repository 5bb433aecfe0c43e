"""The talk over the socket: kept steps in order, tries latest first, nothing that hangs."""

from __future__ import annotations

import contextlib
import json
import time

import pytest
from websockets.exceptions import ConnectionClosed, InvalidStatus
from websockets.sync.client import connect

from tests.server.running import VEHICLE


class Talk:
    """One page's socket."""

    def __init__(self, server, **options):
        self._line = connect(
            f"ws://{server.host}/api/live", additional_headers={"Cookie": server.cookie}, origin=server.origin,
            max_size=None, compression=None, **options,
        )  # fmt: skip
        self.last = 0

    def __enter__(self):
        self.socket = self._line.__enter__()
        return self

    def __exit__(self, *how):
        self._line.__exit__(*how)

    def send(self, do, **more):
        self.last += 1
        self.socket.send(json.dumps({"id": self.last, "do": do, **more}))
        return self.last

    def send_pieces(self, pieces):
        self.socket.send(pieces)
        self.socket.recv(timeout=10)

    def send_many(self):
        for _ in range(500):
            self.send("open")
        self.hear_all()

    def hear(self, timeout=120, events=False):
        """The next answer; what is told unasked is passed over unless wanted."""
        while True:
            raw = self.socket.recv(timeout=timeout)
            assert raw.isascii()
            message = json.loads(raw)
            if events or "event" not in message:
                return message

    def say(self, do, **more):
        """The answer to this; the second one to an earlier try is passed over."""
        number = self.send(do, **more)
        while (answer := self.hear())["id"] != number:
            assert answer["id"] < number
        return answer

    def ends_with(self, code):
        with pytest.raises(ConnectionClosed) as end:
            self.hear_all()
        return end.value.rcvd.code == code

    def hear_all(self):
        while True:
            self.socket.recv(timeout=10)


@pytest.fixture
def talk(server):
    server.file.write_text(VEHICLE)
    with Talk(server) as page:
        yield page


def moved(x):
    return [{"op": "set", "key": ["points", "link-hole-left"], "value": [x, 290, 480]}]


def at(workspace):
    return workspace["drawing"]["points"]["link-hole-left"]["at"][0]


def test_a_page_opens_the_file_and_gets_the_whole_workspace(talk, server):
    workspace = talk.say("open")["workspace"]
    assert workspace["text"] == VEHICLE
    assert workspace["revision"] == server.json("GET", "/api/project")[1]["revision"]
    assert workspace["faults"] == []
    assert workspace["values"]["points"]["link-hole-left"] == [-245, 290, 480]
    assert workspace["drawing"]["points"]["link-hole-right"]["twin_of"] == "link-hole-left"
    assert set(workspace["cycles"]) == {"heave", "roll", "wheel:rear-left", "wheel:rear-right"}
    assert set(workspace["answers"]["wheels"]) == {"rear-left", "rear-right"}
    assert (workspace["can_undo"], workspace["can_redo"]) == (False, False)


def test_steps_are_kept_undone_and_done_again(talk):
    talk.say("open")
    first = talk.say("edit", ops=moved(-240))["workspace"]
    assert (at(first), first["can_undo"], first["can_redo"]) == (-240, True, False)
    assert "# the comment stays" in first["text"]
    talk.say("edit", ops=moved(-235))
    back = talk.say("undo")["workspace"]
    assert (at(back), back["can_undo"], back["can_redo"]) == (-240, True, True)
    assert at(talk.say("undo")["workspace"]) == -245
    assert at(talk.say("undo")["workspace"]) == -245
    assert at(talk.say("redo")["workspace"]) == -240
    assert at(talk.say("redo")["workspace"]) == -235
    assert at(talk.say("redo")["workspace"]) == -235
    talk.say("undo")
    assert talk.say("edit", ops=moved(-230))["workspace"]["can_redo"] is False


def test_a_whole_text_is_one_step(talk):
    talk.say("open")
    new = VEHICLE.replace("Cart of the tests", "Another")
    assert talk.say("replace", text=new)["workspace"]["title"].startswith("Another")
    assert talk.say("undo")["workspace"]["text"] == VEHICLE


def test_a_try_is_answered_and_not_kept(talk):
    talk.say("open")
    tried = talk.say("try", ops=moved(-240))["workspace"]
    assert at(tried) == -240
    assert "text" not in tried
    assert "values" not in tried
    assert list(tried["cycles"]) == ["heave"]
    assert list(talk.say("try", ops=moved(-240), modes=["roll", "no such"])["workspace"]["cycles"]) == [
        "roll"
    ]
    assert talk.say("try", ops=[], modes=[])["workspace"]["cycles"] == {}
    assert at(talk.say("undo")["workspace"]) == -245


def test_a_hand_that_rests_gets_the_whole_answer(talk):
    talk.say("open")
    number = talk.send("try", ops=moved(-240))
    quick, whole = talk.hear(), talk.hear()
    assert quick["id"] == whole["id"] == number
    assert quick["workspace"]["partial"] is True
    assert quick["workspace"]["findings"] == []
    assert "partial" not in whole["workspace"]
    one, other = (w["workspace"]["answers"]["wheels"]["rear-left"]["sag"] for w in (quick, whole))
    assert one["value"] == other["value"]
    assert (one["error"], other["error"] > 0) == (None, True)


def test_a_try_may_be_a_whole_text(talk):
    talk.say("open")
    assert talk.say("try", text='leverwright = 1\ntitle = "other"\n')["workspace"]["title"] == "other"
    assert talk.say("undo")["workspace"]["text"] == VEHICLE


def test_of_many_tries_the_newest_is_answered_and_the_stale_ones_are_not(talk):
    talk.say("open")
    numbers = [talk.send("try", ops=moved(-240 + n / 10)) for n in range(30)]
    answered = []
    while not answered or answered[-1]["id"] != numbers[-1]:
        answered.append(talk.hear())
    got = [answer["id"] for answer in answered]
    assert got == sorted(set(got))
    assert len(got) < 15
    assert at(answered[-1]["workspace"]) == pytest.approx(-237.1)


def test_a_kept_step_overtakes_the_tries_before_it(talk):
    talk.say("open")
    for n in range(10):
        talk.send("try", ops=moved(-240 + n / 10))
    edit = talk.send("edit", ops=moved(-230))
    while (answer := talk.hear())["id"] != edit:
        assert answer["id"] < edit
    assert at(answer["workspace"]) == -230
    with pytest.raises(TimeoutError):
        talk.hear(timeout=0.7)


def test_kept_steps_are_answered_each_and_in_order(talk):
    talk.say("open")
    numbers = [talk.send("edit", ops=moved(-240 + n)) for n in range(5)]
    assert [talk.hear()["id"] for _ in numbers] == numbers
    assert at(talk.say("undo")["workspace"]) == -237


@pytest.mark.parametrize(
    "ops",
    [
        [{"op": "set", "key": list("abcdefghi"), "value": 1}], [{"op": "delete", "key": ["points", "no-such"]}],
        [{"op": "nothing"}], [{}], [{"op": "set"}], [{"op": "set", "key": "points", "value": 1}],
        [{"op": "set", "key": [1], "value": 1}], [{"op": "delete", "key": []}],
        [{"op": "set", "key": ["title"], "value": None}],
        [{"op": "rename", "table": "points", "from": "link-hole-left", "to": "hub-left"}],
        [{"op": "set", "key": ["title"], "value": "x"}] * 201,
    ],
)  # fmt: skip
def test_an_edit_that_cannot_be_made_is_refused_and_nothing_changes(talk, ops):
    talk.say("open")
    for do in ("edit", "try"):
        error = talk.say(do, ops=ops)["error"]
        assert error["sentence"]
    assert talk.say("undo")["workspace"]["text"] == VEHICLE


def test_an_edit_with_endless_brackets_is_refused(talk):
    talk.say("open")
    deep = json.loads("[" * 60 + "]" * 60)
    assert (
        "levels"
        in talk.say("edit", ops=[{"op": "set", "key": ["title"], "value": deep}])["error"]["sentence"]
    )


def test_a_half_made_vehicle_says_what_is_missing_and_does_not_block(talk):
    talk.say("open")
    workspace = talk.say("edit", ops=[{"op": "delete", "key": ["wheels", "rear-left", "radius"]}])[
        "workspace"
    ]
    assert workspace["answers"] is None
    assert any(
        "radius" in str(fault["key"]) or "radius" in fault["sentence"] for fault in workspace["faults"]
    )
    assert workspace["next"]["do"]
    assert at(talk.say("edit", ops=moved(-240))["workspace"]) == -240
    empty = talk.say("replace", text="")["workspace"]
    assert empty["faults"]
    assert empty["values"] == {}
    broken = talk.say("replace", text="leverwright = 1\n[points\n")["workspace"]
    assert broken["values"] == {}
    assert broken["faults"]


ODD = "leverwright = 1\nerror = nan\n[goals]\nsag = [inf, 1979-05-27]\n"


def test_numbers_that_json_cannot_say_come_as_text(talk):
    workspace = talk.say("replace", text="leverwright = 1\nerror = nan\n[goals]\nsag = [inf, 1979-05-27]\n")[
        "workspace"
    ]
    assert workspace["values"]["error"] == "nan"
    assert workspace["values"]["goals"]["sag"] == ["inf", "1979-05-27"]


def test_an_unknown_request_is_refused_and_the_talk_goes_on(talk):
    assert "sentence" in talk.say("dance")["error"]
    assert "sentence" in talk.say("replace")["error"]
    assert "workspace" in talk.say("open")


def test_remedies_come_beside_the_talk_and_say_when_they_are_stale(talk):
    talk.say("open")
    told = talk.say("remedies")
    assert any(finding["remedies"] for finding in told["findings"])
    assert told["next"]["do"]
    asked = talk.send("remedies")
    edit = talk.send("edit", ops=moved(-231))
    asked_anew = talk.send("remedies")
    again = talk.send("edit", ops=moved(-232))
    heard = {}
    while not {asked, edit, again, asked_anew} <= set(heard):
        answer = talk.hear()
        heard[answer["id"]] = answer
    assert heard[asked_anew].get("stale") is True
    assert "findings" in heard[asked] or heard[asked]["stale"]


@pytest.mark.parametrize(
    "message",
    [
        "", "{", "[]", "null", '{"id": 1}', '{"do": "open"}', '{"id": "1", "do": "open"}', '{"id": 1.5, "do": "open"}',
        '{"id": 1, "do": "open", "more": 1}', '{"id": 1, "do": "try", "ops": [{"value": NaN}]}',
        '{"id": 1, "do": "try", "ops": {}}', '{"id": 99999999999999999999999, "do": "open"}', b"\x00\x01", b"{}",
        '{"id": 1, "do": "try", "ops": [{"value": ' + "[" * 3000 + "]" * 3000 + "}]}",
    ],
)  # fmt: skip
def test_a_message_that_is_no_request_ends_the_talk(server, message):
    with Talk(server) as page:
        page.socket.send(message)
        assert page.ends_with(1008)


def test_a_message_over_the_limit_ends_the_talk(server):
    with Talk(server) as page:
        page.send("replace", text="#" * 200_000)
        assert "workspace" in page.hear()
        page.send("replace", text="#" * 260_000)
        assert page.ends_with(1009)


def test_a_message_in_many_pieces_over_the_limit_ends_the_talk(server):
    with Talk(server) as page:
        with pytest.raises(ConnectionClosed) as end:
            page.send_pieces(["#" * 1000] * 400)
        assert end.value.rcvd is None or end.value.rcvd.code in (1008, 1009)


def test_a_message_in_endless_empty_pieces_ends_the_talk(server):
    with Talk(server) as page, pytest.raises(ConnectionClosed):
        page.send_pieces(["{"] + [""] * 5000)


def test_more_messages_than_a_person_sends_end_the_talk(server):
    with Talk(server) as page, pytest.raises(ConnectionClosed):
        page.send_many()


def test_a_change_of_the_file_by_another_program_is_told_once(talk, server):
    talk.say("open")
    time.sleep(1.2)  # the watch looks once a second
    server.file.write_text(VEHICLE + "# from an editor\n")
    event = talk.hear(timeout=5, events=True)
    assert event == {
        "event": "changed_on_disk",
        "revision": server.json("GET", "/api/project")[1]["revision"],
    }
    server.file.touch()
    with pytest.raises(TimeoutError):
        talk.hear(timeout=2.5, events=True)


@pytest.mark.parametrize(
    "headers",
    [
        {}, {"Origin": "null"}, {"Origin": "http://evil.example"}, {"Origin": "http://127.0.0.1"},
        {"Origin": "http://127.0.0.1.evil.example"}, {"Origin": "https://HOST"},
        {"Origin": "http://HOST", "Cookie": ""}, {"Origin": "http://HOST", "Cookie": "leverwright-1=x"},
        {"Origin": "http://HOST", "Sec-Fetch-Site": "cross-site"},
        {"Origin": "http://HOST", "Sec-Fetch-Site": "same-site"},
    ],
)  # fmt: skip
def test_a_socket_from_elsewhere_is_refused(server, headers):
    sent = {"Cookie": server.cookie} | {k: v.replace("HOST", server.host) for k, v in headers.items()}
    own = {name: value for name, value in sent.items() if value}
    with (
        pytest.raises(InvalidStatus) as refused,
        connect(f"ws://{server.host}/api/live", additional_headers=own),
    ):
        pass
    assert refused.value.response.status_code == 403


def test_a_socket_elsewhere_than_at_its_address_is_refused(server):
    for path in ("/", "/api/project", "/api/live/", "/api/live?token=x", "/api/%6cive"):
        own = {"Cookie": server.cookie, "Origin": server.origin}
        with (
            pytest.raises(InvalidStatus) as refused,
            connect(f"ws://{server.host}{path}", additional_headers=own),
        ):
            pass
        assert refused.value.response.status_code in (403, 404)


def test_a_thirteenth_page_is_let_in_and_the_most_silent_one_goes(server):
    with contextlib.ExitStack() as stack:
        pages = [stack.enter_context(Talk(server)) for _ in range(12)]
        for page in pages[1:]:
            page.say("open")
        newest = stack.enter_context(Talk(server))
        assert "workspace" in newest.say("open")
        assert pages[0].ends_with(1013)
        assert "workspace" in pages[1].say("undo")
