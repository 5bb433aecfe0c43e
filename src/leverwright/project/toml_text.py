"""A TOML text checked against the limits, parsed, and outlined."""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass

from leverwright.project.fault import Fault
from leverwright.project.faultlist import dotted
from leverwright.project.limits import LIMITS
from leverwright.project.outline import Outline, Path, TooMuch, outline_of
from leverwright.quantity import QuantityError, quoted, read_quantity

__all__ = ["Parsed", "Refused", "parse"]

_PLACE = re.compile(r" \(at (?:line (\d+), column \d+|end of document)\)$")
_DECIMAL_COMMA = re.compile(r"=\s*([-+]?\d+,\d+)\s*(?:[#,}]|$)")
_PLAIN_VALUE = re.compile(r"=\s*[^\s\"'\[{]")
_ALLOWED = 'a line of TOML 1.0, such as key = 12.5 or key = "text"'


class Refused(Exception):
    """The text cannot be parsed; `fault` says why."""

    def __init__(self, fault: Fault) -> None:
        super().__init__(fault.sentence)
        self.fault = fault


@dataclass(frozen=True, slots=True)
class Parsed:
    """What a text says, and where: `values` as the parser gives them."""

    values: dict[str, object]
    outline: Outline


def parse(text: str, file: str) -> Parsed:
    """The values and places of a TOML text; Refused when it passes a limit or is not TOML."""
    body = text.removeprefix("\ufeff")
    _check_size(body, file)
    try:
        outline = outline_of(body)
    except TooMuch as much:
        key = dotted(much.path) if much.path else None
        raise Refused(Fault(file, much.line, key, much.what, much.most, "write it simpler")) from None
    _check_lines(body, outline, file)
    try:
        values = tomllib.loads(body)
    except ValueError as error:
        raise Refused(_syntax_fault(str(error), body, outline, file)) from None
    return Parsed(values, outline)


def _check_size(text: str, file: str) -> None:
    """Refuses what is too large as a whole, and characters that no file can hold."""
    try:
        size = len(text.encode())
    except UnicodeEncodeError:
        allowed = "text that UTF-8 can write"
        found = "half of a character pair stands in the text"
        raise Refused(Fault(file, None, None, found, allowed, "write the character anew")) from None
    if size > LIMITS.file_bytes:
        found, allowed = f"{size} bytes", f"at most {LIMITS.file_bytes} bytes"
        raise Refused(Fault(file, None, None, found, allowed, "keep one vehicle in a file"))
    lines = text.count("\n") + (not text.endswith("\n"))
    if lines > LIMITS.lines:
        found, allowed = f"{lines} lines", f"at most {LIMITS.lines} lines"
        raise Refused(Fault(file, None, None, found, allowed, "keep one vehicle in a file"))


def _check_lines(text: str, outline: Outline, file: str) -> None:
    """Refuses a line that is too long."""
    for line, written in enumerate(text.split("\n"), start=1):
        if len(written) > LIMITS.line_characters:
            found = f"a line of {len(written)} characters"
            allowed = f"at most {LIMITS.line_characters} characters"
            key = _key_of_line(outline, line)
            raise Refused(Fault(file, line, key, found, allowed, "break the line inside its brackets"))


def _syntax_fault(message: str, text: str, outline: Outline, file: str) -> Fault:
    """The parser's complaint as a fault with its line and key."""
    if outline.repeats and any(word in message for word in ("verwrite", "twice", "Duplicate", "mutate")):
        path, line, first = outline.repeats[0]
        found = f"{quoted(path[-1])} is written a second time, first in line {first}"
        return Fault(
            file, line, dotted(path), found, "each key and each [table] once", "take one of them out"
        )
    place = _PLACE.search(message)
    last = max(1, text.count("\n") + (not text.endswith("\n")))
    line = int(place[1]) if place and place[1] else last
    what = _PLACE.sub("", message)
    written = text.split("\n")[line - 1].strip()
    comma = _DECIMAL_COMMA.search(written)
    if comma:
        return _comma_fault(comma[1], file, line, _key_of_line(outline, line))
    found = f"{quoted(written)} cannot be read"
    return Fault(file, line, _key_of_line(outline, line), found, _ALLOWED, _syntax_hint(written, what))


def _comma_fault(written: str, file: str, line: int, key: str | None) -> Fault:
    """A bare number with a decimal comma, in the words that it would get inside quotes."""
    try:
        read_quantity(written, "ratio")
    except QuantityError as error:
        return Fault(file, line, key, error.found, "digits with a decimal point", error.do.replace("'", ""))
    raise ValueError(f"{written!r} reads as a number")  # no text with a comma does


def _syntax_hint(written: str, message: str) -> str:
    if "nclosed" in message or "nterminated" in message:
        return "close the bracket or the quotes that were opened"
    if _PLAIN_VALUE.search(written):
        return "put text in quotes, and write decimals with a point"
    return "compare the line with its neighbours: quotes, brackets, commas, ="


def _key_of_line(outline: Outline, line: int) -> str | None:
    """The key or table that stands in a line, else the one before it."""
    best: Path | None = None
    best_line = 0
    for path, item in outline.items.items():
        if best_line < item.line <= line:
            best, best_line = path, item.line
    return dotted(best) if best else None
