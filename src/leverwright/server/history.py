"""The text of one page with its undo and redo, bounded."""

from __future__ import annotations

from dataclasses import dataclass

from leverwright.server.limits import UNDO_BYTES, UNDO_STEPS

__all__ = ["History", "kept", "redone", "undone"]


@dataclass(frozen=True, slots=True)
class History:
    """`past` and `future` from the nearest step to the farthest."""

    text: str
    past: tuple[str, ...] = ()
    future: tuple[str, ...] = ()


def kept(history: History, text: str) -> History:
    """`text` as one more step; the farthest steps go when there are too many."""
    if text == history.text:
        return history
    return History(text, _bounded((history.text, *history.past)))


def undone(history: History) -> History:
    """One step back, where there is one."""
    if not history.past:
        return history
    text, *past = history.past
    return History(text, tuple(past), (history.text, *history.future))


def redone(history: History) -> History:
    """One step forth, where there is one."""
    if not history.future:
        return history
    text, *future = history.future
    return History(text, (history.text, *history.past), tuple(future))


def _bounded(steps: tuple[str, ...]) -> tuple[str, ...]:
    room = UNDO_BYTES
    for count, step in enumerate(steps[:UNDO_STEPS]):
        room -= len(step)
        if room < 0:
            return steps[:count]
    return steps[:UNDO_STEPS]
