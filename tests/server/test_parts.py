"""The parts of the server by themselves: the table of the page, undo, the bench, the doorkeeper."""

from __future__ import annotations

import asyncio
import threading
from functools import partial

import pytest

from leverwright.project import Draft, edit
from leverwright.server import page as page_module
from leverwright.server.bench import Bench
from leverwright.server.doorkeeper import Doorkeeper
from leverwright.server.history import History, kept, redone, undone
from leverwright.server.known import Known
from leverwright.server.limits import (
    CLIENT_SECONDS,
    CLOSE_SECONDS,
    CONNECTIONS,
    STALL_SECONDS,
    UNDO_BYTES,
    UNDO_STEPS,
)
from leverwright.server.page import built_page, page_of
from tests.server.apart import run_apart
from tests.server.running import VEHICLE


def test_the_page_is_a_table_of_what_was_built(tmp_path):
    (tmp_path / "index.html").write_text("<!doctype html>")
    (tmp_path / "assets").mkdir()
    (tmp_path / "assets" / "index-a1.js").write_text("1")
    (tmp_path / "assets" / "style.css").write_text("a{}")
    (tmp_path / "notes.txt").write_text("not part of a page")
    table = page_of(tmp_path)
    assert {path: leaf.kind for path, leaf in table.items()} == {
        "/": "text/html; charset=utf-8",
        "/assets/index-a1.js": "text/javascript; charset=utf-8",
        "/assets/style.css": "text/css; charset=utf-8",
    }
    (tmp_path / "assets" / "index-a1.js").write_text("changed later")
    assert table["/assets/index-a1.js"].body == b"1"
    with pytest.raises(TypeError):
        table["/etc/passwd"] = table["/"]  # type: ignore[index]  # what is tried


def test_without_a_built_page_one_leaf_says_how_to_build_it(tmp_path):
    table = page_of(tmp_path)
    assert list(table) == ["/"]
    assert b"pip install ." in table["/"].body
    assert b"<script" not in table["/"].body


def test_the_packaged_page_is_found():
    assert "/" in built_page()
    assert page_module.files("leverwright.server").joinpath("page.py").is_file()


def test_undo_goes_back_step_by_step_and_redo_forth():
    history = History("a")
    for text in "bcd":
        history = kept(history, text)
    assert undone(undone(history)) == History("b", ("a",), ("c", "d"))
    assert redone(redone(undone(undone(history)))) == history
    assert kept(undone(history), "e") == History("e", ("c", "b", "a"))
    assert undone(History("a")) == History("a")
    assert redone(History("a")) == History("a")
    assert kept(history, "d") is history


def test_undo_holds_a_bounded_number_of_steps_and_characters():
    history = History("start")
    for n in range(UNDO_STEPS + 50):
        history = kept(history, str(n))
    assert len(history.past) == UNDO_STEPS
    big = UNDO_BYTES // 4
    for letter in "abcdefgh":
        history = kept(history, letter * big)
    assert [step[0] for step in history.past] == list("gfed")


def test_the_bench_works_in_order_and_hands_failures_on():
    bench = Bench("test")
    done = []

    async def work():
        async with asyncio.TaskGroup() as group:
            for n in range(5):
                group.create_task(bench.run(partial(done.append, n)))
        with pytest.raises(ZeroDivisionError):
            await bench.run(lambda: 1 / 0)
        return await bench.run(threading.current_thread)

    assert run_apart(work()).name == "test"
    assert done == [0, 1, 2, 3, 4]


def test_work_that_nobody_waits_for_any_more_is_not_begun():
    bench = Bench("test")
    begun, hold = [], threading.Event()

    async def work():
        first = asyncio.create_task(bench.run(hold.wait))
        second = asyncio.create_task(bench.run(lambda: begun.append("second")))
        await asyncio.sleep(0.05)
        second.cancel()
        await asyncio.sleep(0.05)
        hold.set()
        await first
        await bench.run(lambda: begun.append("third"))

    run_apart(work())
    assert begun == ["third"]


def test_a_result_that_comes_after_the_end_is_dropped():
    bench = Bench("test")
    hold, done = threading.Event(), threading.Event()

    async def work():
        asyncio.create_task(bench.run(hold.wait))  # noqa: RUF006  left behind on purpose
        asyncio.create_task(bench.run(_fails))  # noqa: RUF006
        await asyncio.sleep(0.05)

    run_apart(work())
    hold.set()

    async def after():
        await bench.run(done.set)

    run_apart(after())
    assert done.is_set()


def _fails():
    raise ValueError


def moved(x, y=290, z=480, **more):
    return [{"op": "set", "key": ["points", "link-hole-left"], "value": [x, y, z], **more}]


def test_a_point_that_is_moved_gives_what_the_edited_text_gives():
    known = Known(Draft.from_text(VEHICLE, "cart.toml"))
    quick = known.moved(moved(-240.5))
    slow = Known(Draft.from_text(edit.apply(VEHICLE, moved(-240.5)), "cart.toml"))
    assert quick is not None
    assert quick.tried(["heave"], quick=True) == slow.tried(["heave"], quick=True)
    assert quick.quick_study.quick  # neither errors nor adjusters are worked out while a hand moves
    assert "study" not in vars(quick)


@pytest.mark.parametrize(
    "ops",
    [
        moved(6000), moved(-240, 5), moved(-240, -290), moved(-240, float("inf")),
        moved(float("nan")), moved(-240, -290, op="add"), [{"op": "set", "key": ["title"], "value": "x"}],
        [{"op": "set", "key": ["points", "no-such"], "value": [1, 2, 3]}],
        [{"op": "set", "key": ["points", "link-hole-right"], "value": [1, -200, 3]}],
        [{"op": "set", "key": ["points", "link-hole-left"], "value": [1, 200]}],
        [{"op": "set", "key": ["points", "link-hole-left"], "value": ["1 in", 200, 3]}],
        [{"op": "set", "key": ["points", "link-hole-left"], "value": [True, 200, 3]}],
        [{"op": "set", "key": ["points", "link-hole-left", "at"], "value": [1, 200, 3]}],
        [{"op": "set", "key": "points", "value": [1, 200, 3]}], [{"op": "delete", "key": ["points", "link-hole-left"]}],
        [{}], [*moved(-240), {"op": "set", "key": ["title"], "value": "x"}],
    ],
)  # fmt: skip
def test_any_other_edit_goes_through_the_text(ops):
    assert Known(Draft.from_text(VEHICLE, "cart.toml")).moved(ops) is None


def test_a_half_made_vehicle_goes_through_the_text():
    assert Known(Draft.from_text("leverwright = 1\n", "cart.toml")).moved(moved(-240)) is None


class FakeConnection:
    """A connection as the doorkeeper sees it."""

    def __init__(self, since=0.0, waits=True):
        self.transport = self
        self.waiting_since = since
        self.stalled_since = None
        self.closing_since = None
        self.aborted = False
        self.closing = False
        self._waits = waits

    def waits(self):
        return self._waits

    def is_closing(self):
        return self.closing

    def abort(self):
        self.aborted = True


def test_the_doorkeeper_drops_who_owes_something_too_long():
    keeper = Doorkeeper()
    slow, busy, unread, closing = (
        FakeConnection(),
        FakeConnection(waits=False),
        FakeConnection(waits=False),
        FakeConnection(waits=False),
    )
    unread.stalled_since = 0.0
    closing.closing = True
    for each in (slow, busy, unread, closing):
        keeper.admit(each)
    keeper.look_over(0.0)
    keeper.look_over(min(CLIENT_SECONDS, STALL_SECONDS, CLOSE_SECONDS) - 0.1)
    assert not any(each.aborted for each in (slow, busy, unread, closing))
    keeper.look_over(CLOSE_SECONDS + 0.1)
    assert closing.aborted
    keeper.look_over(max(CLIENT_SECONDS, STALL_SECONDS) + 0.1)
    assert slow.aborted
    assert unread.aborted
    assert not busy.aborted


def test_a_full_house_makes_room_by_the_one_that_lets_us_wait_longest():
    keeper = Doorkeeper()
    guests = [FakeConnection(since=float(n)) for n in range(CONNECTIONS)]
    guests[0]._waits = guests[1]._waits = False
    for guest in guests:
        keeper.admit(guest)
    newest = FakeConnection(since=1e9)
    keeper.admit(newest)
    assert [n for n, guest in enumerate(guests) if guest.aborted] == [2]
    assert len(keeper) == CONNECTIONS
    keeper.forget(newest)
    keeper.forget(newest)
    assert len(keeper) == CONNECTIONS - 1


def test_a_house_full_of_pages_still_makes_room():
    keeper = Doorkeeper()
    guests = [FakeConnection(since=float(n), waits=False) for n in range(CONNECTIONS)]
    for guest in guests:
        keeper.admit(guest)
    keeper.admit(FakeConnection())
    assert [n for n, guest in enumerate(guests) if guest.aborted] == [0]
