"""Tells the pages when something else has changed the project file."""

from __future__ import annotations

import asyncio
from typing import Protocol

from leverwright.server.bench import Bench
from leverwright.wire.live import DiskEvent

__all__ = ["LOOK_SECONDS", "watch_file"]

# How often the file is looked at; one stat, nothing is read unless it differs.
LOOK_SECONDS = 1.0


class _Told(Protocol):
    def __len__(self) -> int: ...
    def tell(self, event: DiskEvent) -> None: ...


class _Watched(Protocol):
    def stamp(self) -> tuple[int, ...] | None: ...
    def revision(self) -> str | None: ...


async def watch_file(desk: _Watched, pages: _Told, bench: Bench) -> None:
    """Until cancelled: an event for each new content of the file."""
    stamp, revision = desk.stamp(), await bench.run(desk.revision)
    while True:
        await asyncio.sleep(LOOK_SECONDS)
        now = desk.stamp()
        if now == stamp:
            continue
        stamp, before, revision = now, revision, await bench.run(desk.revision)
        if revision != before:
            pages.tell(DiskEvent("changed_on_disk", revision))
