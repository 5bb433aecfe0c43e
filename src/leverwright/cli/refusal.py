"""A refusal on the command line: one sentence, or with --json the same as a document; status 2."""

from __future__ import annotations

import difflib
import json
from collections.abc import Iterable
from typing import TYPE_CHECKING

from leverwright.quantity import quoted

if TYPE_CHECKING:
    from leverwright.project import Fault

__all__ = ["COMMAND_LINE", "Refused", "listed", "refused_fault"]

_MOST_LISTED = 30  # names in a sentence; the vehicles of this program have some twenty points

COMMAND_LINE = "command line"
"""Stands where a refusal names its file, when the fault is in what was typed."""


class Refused(Exception):  # named for what happened, as the other refusals here
    """What was typed, or what it names, cannot be used."""

    def __init__(self, found: str, allowed: str, do: str, *, key: str | None = None) -> None:
        super().__init__(found)
        self.file = COMMAND_LINE
        self.line: int | None = None
        self.key = key
        self.found = found
        self.allowed = allowed
        self.do = do

    @classmethod
    def no_name(
        cls, name: str, names: Iterable[str], key: str, *, what: str = "not in this vehicle"
    ) -> Refused:
        """A name that is none of `names`, with the nearest of them."""
        known = list(names)
        near = difflib.get_close_matches(name, known, 1)
        do = f"did you mean {near[0]}?" if near else "use one of these"
        return cls(f"{quoted(name)} is {what}", listed(known), do, key=key)

    @property
    def sentence(self) -> str:
        """The one text that a person reads."""
        where = [self.file]
        if self.line is not None:
            where.append(f"line {self.line}")
        if self.key is not None:
            where.append(self.key)
        return f"{', '.join(where)}: {self.found}; allowed: {self.allowed}; {self.do}"

    @property
    def document(self) -> str:
        """The refusal as strict ASCII JSON."""
        texts = {
            "file": self.file,
            "key": self.key,
            "found": self.found,
            "allowed": self.allowed,
            "do": self.do,
        }
        whole = {name: None if text is None else _whole(text) for name, text in texts.items()}
        error = {"file": whole.pop("file"), "line": self.line, **whole}
        return json.dumps({"leverwright": 1, "error": error}, allow_nan=False)


def listed(names: Iterable[str]) -> str:
    """Names one after the other; of many the first, and how many more there are."""
    known = list(names)
    more = len(known) - _MOST_LISTED
    rest = [f"and {more} more"] if more > 0 else []
    return ", ".join(known[:_MOST_LISTED] + rest) or "none"


def _whole(text: str) -> str:
    """`text` with halves of character pairs, which strict JSON has no place for, escaped."""
    return text.encode("utf-8", "backslashreplace").decode()


def refused_fault(fault: Fault) -> Refused:
    """The refusal of a file, as its reader words it."""
    refused = Refused(fault.found, fault.allowed, fault.do, key=fault.key)
    refused.file, refused.line = fault.file, fault.line
    return refused
