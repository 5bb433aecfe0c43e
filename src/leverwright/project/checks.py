"""Keys that must be there, and keys that exclude one another."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Any, TypeVar

from leverwright.project.entries import Entry
from leverwright.project.faultlist import FaultList, Rank
from leverwright.project.outline import Outline
from leverwright.quantity import quoted

__all__ = ["Checks", "Tables"]

Tables = Mapping[str, Mapping[str, Entry]]
Thing = TypeVar("Thing")


class Checks:
    """Looks at entries on their way into things; what does not fit goes into the faults."""

    def __init__(self, outline: Outline, faults: FaultList) -> None:
        self._outline = outline
        self._faults = faults

    def all(
        self, entries: Mapping[str, Entry], make: Callable[[Entry, Any], Thing | None]
    ) -> Mapping[str, Thing]:
        """Every thing of a table that could be made, in file order."""
        made = {name: make(entry, entry.fields) for name, entry in entries.items()}
        return MappingProxyType({name: one for name, one in made.items() if one is not None})

    def require(self, entry: Entry, keys: tuple[str, ...], instead: str = "") -> bool:
        """Are these keys there and fit? A missing one is a fault at the table's header."""
        for key in keys:
            if key in entry.fields or key in entry.broken or entry.twin_of is not None:
                continue
            said = (f"the key {quoted(key)} is missing", instead or _what_is_allowed(key), f"add {key} = …")
            self._faults.add(Rank.MISSING_KEY, (*entry.path, key), said)
        return all(key in entry.fields for key in keys)

    def require_one(self, entry: Entry, keys: tuple[str, ...], instead: str) -> bool:
        """Is exactly one of these keys there, and fit?"""
        there = [key for key in entry.places if key in keys]
        if not there:
            return self.require(entry, keys[:1], instead)
        return self.exclude(entry, tuple(there[1:]), there[0], instead) and there[0] in entry.fields

    def exclude(self, entry: Entry, keys: tuple[str, ...], other: str, reason: str) -> bool:
        """Reports each of the keys that stands beside the other, which excludes it; True when none does."""
        beside = [key for key in keys if key in entry.places and other in entry.places]
        for key in beside:
            said = (f"{quoted(key)} stands beside {quoted(other)}", reason, f"take {key} or {other} out")
            self.report(entry, key, said)
        return not beside

    def report(self, entry: Entry, key: str, said: tuple[str, str, str]) -> None:
        """A fault at a key; what a twin has from its original is reported there alone."""
        place = entry.place(key)
        if entry.twin_of is None or not self._faults.has(Rank.TYPE, place):
            self._faults.add(Rank.TYPE, place, said)

    def line(self, entry: Entry) -> int:
        """The line at which an entry begins."""
        return self._outline.line(entry.path)


def _what_is_allowed(key: str) -> str:
    return _EXAMPLES.get(key, f"a table with its {key}")


_EXAMPLES: Mapping[str, str] = MappingProxyType(
    {
        "leverwright": "leverwright = 1, the version of the file format",
        "at": "a place with its coordinates, at = [x, y, z]",
        "ends": 'ends = ["one point", "another"]',
        "length_open": "a shock's length eye to eye, fully open, mm",
        "length_closed": "a shock's length eye to eye, fully closed, mm",
        "preload": "the coil's compression when the shock is fully open, mm; 0 or negative is allowed",
        "body": 'the body that carries the wheel, body = "name"',
        "centre": 'the point at the wheel centre, centre = "name"',
        "radius": "the wheel's radius, mm",
        "load": "what a scale under the wheel reads, kg, vehicle standing, usual rider aboard",
        "length": "the strap's length when taut, mm",
        "touches": "how far before closed the stop touches, mm",
        "mass": "kg",
        "diameter": "the wire's diameter, mm",
        "active": "the turns that move",
        "in": 'what the scale reads at each mark going in, kg; N or lbf as texts, "180 N"',
        "corners": "four corners [x, y] in pixels, going round the rectangle from its origin",
        "rectangle": "width and height of the rectangle in the picture, mm",
        "second_corners": "four corners [x, y] of a second rectangle of the same plane",
        "second_rectangle": "its width and height, mm",
        "picture": "the picture's file name, which the page gives it",
        "depth": "y (side) or x (front) of the plane of the rectangle, mm",
        "view": '"side" or "front"',
        "lifted": '"front" or "rear", the end that was lifted',
        "by": "how far, mm",
        "level": "what the scale at the other end read before, kg",
        "tilted": "what it read with the end lifted, kg",
        "wheel_moved": "how far the wheel had moved at each step, mm",
        "spring_moved": "how far the spring had moved at each step, mm",
        "loads": "what the scale under the wheel read, kg, two loads or more, loads = [105, 155]",
        "heights": "how high the axle stood above the floor under each load, mm, heights = [400, 390.5]",
        "reads": "what was read, or a list of repeats",
    }
)
