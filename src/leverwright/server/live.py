"""One page: its text, what it asked and has not been answered, in the order of asking.

Tries are different: while one is computed only the newest that waits survives, since
nobody wants to see where a finger was.
"""

from __future__ import annotations

import asyncio
import contextlib
import logging
import time
from collections import deque
from collections.abc import Callable
from functools import partial
from typing import TypeVar

from starlette.websockets import WebSocket, WebSocketDisconnect

from leverwright.server.bench import Benches
from leverwright.server.desk import Desk, Refusal, Stand
from leverwright.server.door import said
from leverwright.server.history import History, kept, redone, undone
from leverwright.server.known import Superseded
from leverwright.server.limits import NESTING, OPS, PAGES, REST_SECONDS, WAITING
from leverwright.wire.faults import SaidFault
from leverwright.wire.live import Ask, DiskEvent, Reply
from leverwright.wire.strict import StrictError, compact, decode, deeper_than

__all__ = ["Page", "Pages"]

_T = TypeVar("_T")
_LOG = logging.getLogger("leverwright.server")
_FORM, _TOO_MANY = 1008, 1013
_LAST_WORD_SECONDS = 0.5
_PATIENCE_SECONDS = 0.02


class Pages:
    """The open pages. A new one always gets in: the one silent for longest makes room."""

    def __init__(self, desk: Desk, benches: Benches) -> None:
        self._desk = desk
        self._benches = benches
        self._open: list[Page] = []

    def __len__(self) -> int:
        return len(self._open)

    async def serve(self, socket: WebSocket) -> None:
        """Live with one page until it goes."""
        if len(self._open) >= PAGES:
            silent = min(self._open, key=lambda page: page.heard)
            self._open.remove(silent)
            silent.end(_TOO_MANY)
        page = Page(socket, self._desk, self._benches)
        self._open.append(page)
        try:
            await page.live()
        finally:
            if page in self._open:
                self._open.remove(page)

    def tell(self, event: DiskEvent) -> None:
        """Say `event` to every page."""
        for page in self._open:
            page.tell(event)


class Page:
    """One socket."""

    def __init__(self, socket: WebSocket, desk: Desk, benches: Benches) -> None:
        self.heard = asyncio.get_running_loop().time()
        self._socket = socket
        self._desk = desk
        self._benches = benches
        self._history = History("")
        self._revision: str | None = None
        self._asked: deque[Ask] = deque()
        self._try: Ask | None = None
        self._event: DiskEvent | None = None
        self._wake = asyncio.Event()
        self._ends: int | None = None
        self._remedies: asyncio.Task[None] | None = None
        self._resting: asyncio.Task[None] | None = None
        self._seeks = 0  # id of the request that `_remedies` answers
        self._sending = asyncio.Lock()
        self._task: asyncio.Task[None] | None = None

    def end(self, code: int) -> None:
        """Close the socket, also when the page does not read its answer."""
        self._ends = code
        self._wake.set()
        if code and self._task is not None:
            self._task.cancel()

    def tell(self, event: DiskEvent) -> None:
        """Say `event` between two answers."""
        self._event = event
        self._wake.set()

    async def live(self) -> None:
        """Hear and answer until either side ends it."""
        await self._socket.accept()
        hearing = asyncio.create_task(self._hear())
        self._task = asyncio.create_task(self._talk())
        try:
            await self._task
        except (WebSocketDisconnect, asyncio.CancelledError):
            if self._ends is None:
                raise
        finally:
            hearing.cancel()
            self._task.cancel()
            for task in (self._remedies, self._resting):
                if task is not None:
                    task.cancel()
        if self._ends:
            # A client that does not read keeps even this back; the doorkeeper drops it then.
            with contextlib.suppress(RuntimeError, WebSocketDisconnect, TimeoutError):
                await asyncio.wait_for(self._socket.close(self._ends), _LAST_WORD_SECONDS)

    async def _talk(self) -> None:
        while self._ends is None:
            await self._wake.wait()
            self._wake.clear()
            await self._catch_up()

    async def _hear(self) -> None:
        """Take messages in; a kept step overtakes the tries before it."""
        while True:
            message = await self._socket.receive()
            self.heard = asyncio.get_running_loop().time()
            text = message.get("text")
            if message["type"] == "websocket.disconnect":
                return self.end(0)
            if text is None or len(self._asked) >= WAITING:
                return self.end(_FORM)
            try:
                ask = decode(text.encode("utf-8", "surrogatepass"), Ask)
            except StrictError:
                return self.end(_FORM)
            if self._resting is not None:
                self._resting.cancel()
            if ask.do == "try":
                self._try = ask
            else:
                self._asked.append(ask)
                self._try = None
            self._wake.set()

    async def _catch_up(self) -> None:
        while self._ends is None and (self._event or self._asked or self._try):
            if self._event is not None:
                event, self._event = self._event, None
                await self._send(compact(event))
            if self._asked:
                await self._answer(self._asked.popleft())
            elif self._try is not None:
                ask, self._try = self._try, None
                await self._answer(ask)

    async def _answer(self, ask: Ask) -> None:
        if ask.do == "remedies":
            await self._seek_remedies(ask)
            return
        try:
            raw = await self._do(ask)
        except Refusal as refusal:
            raw = compact(Reply(ask.id, error=refusal.fault))
        except Exception:  # noqa: BLE001  logged whole
            # The page must not fall silent because one text was more than the program can bear.
            _LOG.exception("a message failed")
            raw = compact(Reply(ask.id, error=_failed()))
        await self._send(raw)
        if ask.do == "try" and self._try is None and not self._asked:
            self._resting = asyncio.create_task(self._rest(ask, self._stand(self._history)))

    async def _do(self, ask: Ask) -> bytes:
        if len(ask.ops) > OPS or deeper_than(NESTING, ask.ops):
            raise Refusal(said("an edit too large", f"{OPS} steps, {NESTING} levels", "send it in parts"))
        if ask.do == "try":
            return await self._run(partial(self._desk.tried, self._stand(self._history), ask, whole=False))
        history = await self._stepped(ask)
        raw = await self._run(partial(self._desk.shown, self._stand(history), ask.id))
        self._history = history
        return raw

    async def _rest(self, ask: Ask, stand: Stand) -> None:
        """The whole answer to a try, when no message has come for a while."""
        await asyncio.sleep(REST_SECONDS)
        whole = partial(self._desk.tried, stand, ask, whole=True)
        with contextlib.suppress(Refusal):  # said already, at once
            await self._send(await self._benches.remedies.run(whole))  # the next try does not wait for it

    async def _stepped(self, ask: Ask) -> History:
        """The history after a step that is kept."""
        if ask.do == "open":
            text, self._revision = await self._benches.files.run(self._desk.read)
            return History(text)
        if ask.do == "replace" and ask.text is not None:
            return kept(self._history, ask.text)
        if ask.do == "edit":
            return kept(
                self._history, await self._run(partial(self._desk.edited, self._history.text, ask.ops))
            )
        if ask.do == "undo":
            return undone(self._history)
        if ask.do == "redo":
            return redone(self._history)
        raise Refusal(said(f"the request '{ask.do[:40]}'", "those of the reference", "reload the page"))

    def _stand(self, history: History) -> Stand:
        return Stand(history.text, self._revision, can_undo=bool(history.past), can_redo=bool(history.future))

    async def _seek_remedies(self, ask: Ask) -> None:
        """Beside everything else: tries go on meanwhile, and a newer request replaces an older."""
        before, self._seeks = self._seeks, ask.id
        if self._remedies is not None and not self._remedies.done():
            self._remedies.cancel()
            await self._send(compact(Reply(before, stale=True)))
        self._remedies = asyncio.create_task(self._tell_remedies(ask, self._history.text))

    async def _tell_remedies(self, ask: Ask, text: str) -> None:
        try:
            raw = await self._benches.remedies.run(
                partial(self._desk.remedied, text, ask.id, self._patience(text))
            )
        except Superseded:
            raw = compact(Reply(ask.id, stale=True))
        except Exception:  # noqa: BLE001  logged whole
            _LOG.exception("remedies failed")
            raw = compact(Reply(ask.id, error=_failed()))
        with contextlib.suppress(WebSocketDisconnect, RuntimeError):  # the page has gone meanwhile
            await self._send(raw)

    def _patience(self, text: str) -> Callable[[], None]:
        """Called between the studies that remedies take: a hand that moves goes first, a new text ends it."""

        def wait() -> None:
            while True:
                if self._ends is not None or text != self._history.text:
                    raise Superseded
                if not self._benches.answers.busy:
                    return
                time.sleep(_PATIENCE_SECONDS)

        return wait

    async def _run(self, work: Callable[[], _T]) -> _T:
        return await self._benches.answers.run(work)

    async def _send(self, raw: bytes) -> None:
        async with self._sending:
            await self._socket.send_text(raw.decode("ascii"))


def _failed() -> SaidFault:
    return said("the program failed inside", "nothing you did", "undo the last step and go on")
