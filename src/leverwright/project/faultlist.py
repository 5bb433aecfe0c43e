"""Faults gathered while a file is read, put in the order in which they are reported."""

from __future__ import annotations

import enum
from collections.abc import Iterable
from dataclasses import dataclass

from leverwright.project.fault import Fault, visible
from leverwright.project.outline import Outline, Path
from leverwright.quantity import quoted

__all__ = ["MOST_FAULTS", "FaultList", "Rank", "dotted", "near_name"]

MOST_FAULTS = 50
"""Faults listed of one file: more than one can mend at once, and a message stays under 64 kB."""

# Names looked through for near ones, in all faults of a file together: each takes up to 0.1 ms.
_MOST_COMPARED = 5_000
# Of 1, difflib's ratio; below it, names that only share a word are taken for slips of one another.
_ALIKE = 0.7
_SIDES = ("-left", "-right")
_LONGEST_SHOWN = 80  # characters of one part of a key in a message
_BARE = frozenset("ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789_-")


class Rank(enum.IntEnum):
    """Order in which faults are reported."""

    LIMIT = 0
    UNKNOWN_KEY = 1
    TYPE = 2
    MISSING_KEY = 3
    DANGLING = 4
    GEOMETRY = 5


@dataclass(frozen=True, slots=True)
class _Gathered:
    rank: Rank
    line: int | None
    path: Path
    said: tuple[str, str, str]
    wrong: str
    known: tuple[str, ...]


class FaultList:
    """The faults of one file so far."""

    def __init__(self, file: str, outline: Outline) -> None:
        self._file = file
        self._outline = outline
        self._gathered: list[_Gathered] = []
        self._places: set[tuple[Rank, Path]] = set()

    def add(self, rank: Rank, path: Path, said: tuple[str, str, str]) -> None:
        """Keeps a fault at a key; `said` is found, allowed, what to do."""
        self._keep(_Gathered(rank, self._outline.line(path), path, said, "", ()))

    def add_misspelt(
        self, rank: Rank, path: Path, said: tuple[str, str, str], wrong: str, known: Iterable[str]
    ) -> None:
        """Keeps a fault whose remedy is a name of `known` near to `wrong`, if there is one."""
        self._keep(_Gathered(rank, self._outline.line(path), path, said, wrong, tuple(known)))

    def add_whole(self, said: tuple[str, str, str]) -> None:
        """Keeps a limit that the file as a whole passes."""
        self._keep(_Gathered(Rank.LIMIT, None, (), said, "", ()))

    def has(self, rank: Rank, path: Path) -> bool:
        """Is there a fault of this rank at this key already?"""
        return (rank, path) in self._places

    def touches(self, table: str) -> bool:
        """Is there a fault in this table already?"""
        return any(place[:1] == (table,) for _, place in self._places)

    def _keep(self, one: _Gathered) -> None:
        self._gathered.append(one)
        self._places.add((one.rank, one.path))

    def in_order(self) -> tuple[Fault, ...]:
        """The faults in the order of reporting: by rank, then by line."""
        ordered = sorted(self._gathered, key=lambda one: (one.rank, one.line or 0))
        faults = []
        left = _MOST_COMPARED
        for one in ordered[:MOST_FAULTS]:
            left -= len(one.known)
            faults.append(self._fault(one, near=left >= 0))
        return tuple(faults)

    def _fault(self, one: _Gathered, *, near: bool) -> Fault:
        found, allowed, do = one.said
        meant = near_name(one.wrong, one.known) if near and one.known else None
        if meant is not None:
            do = f"did you mean {quoted(meant)}?"
        key = dotted(one.path) if one.path else None
        return Fault(self._file, one.line, key, found, allowed, do)


def near_name(wrong: str, known: Iterable[str]) -> str | None:
    """The known name most like `wrong`, None when none is like it.

    Names of one side are compared without their `-left` or `-right`, which would make all of them alike.
    """
    import difflib  # only where something is misspelt: it takes 2 ms of each start

    side = next((end for end in _SIDES if wrong.endswith(end)), "")
    stems = {name.removesuffix(side).lower(): name for name in known if name.endswith(side)}
    near = difflib.get_close_matches(wrong.removesuffix(side).lower(), stems, n=1, cutoff=_ALIKE)
    if near:
        return stems[near[0]]
    # Of a short name two letters exchanged leave too little alike: the same letters count as near.
    letters = sorted(wrong.removesuffix(side).lower())
    return next((name for stem, name in stems.items() if sorted(stem) == letters), None)


def dotted(path: Path) -> str:
    """The dotted name of a key, with quotes where TOML needs them."""
    return ".".join(_part(part) for part in path)


def _part(part: str) -> str:
    if part and _BARE.issuperset(part) and len(part) <= _LONGEST_SHOWN:
        return part
    shown = part if len(part) <= _LONGEST_SHOWN else part[:_LONGEST_SHOWN] + "..."
    escaped = shown.replace("\\", "\\\\").replace('"', '\\"')
    return f'"{"".join(visible(c) for c in escaped)}"'
