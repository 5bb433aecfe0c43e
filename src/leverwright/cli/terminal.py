"""What reaches the terminal: escaped, wrapped, coloured only where somebody looks at it."""

from __future__ import annotations

import io
import os
import re
import shutil
import textwrap
import unicodedata
from typing import Literal, TextIO

__all__ = ["Style", "Terminal", "escaped", "shown_name"]

Style = Literal["plain", "title", "stop", "fix", "watch", "good", "faint"]

_COLOURS: dict[Style, str] = {
    "title": "1",
    "stop": "1;31",
    "fix": "1;33",
    "watch": "36",
    "good": "32",
    "faint": "2",
}
# Categories of characters that move the cursor, turn the direction of text or are not there at all.
_HIDDEN = frozenset(("Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"))
# What a terminal without these signs is shown instead.
_PLAIN_SIGNS = str.maketrans({"·": "*", "±": "+/-", "°": " deg", "…": "...", "×": "x", "→": "->", "–": "-"})
_WIDEST, _NARROWEST = 100, 40
# A number and its unit, the two halves of a fraction, both sides of "1 : 1.56": not parted by a line end.
_KEPT_TOGETHER = re.compile(
    r"(?<=[0-9]) (?=(?:mm|cm|m|in|kg|lb|N|kN|lbf|Hz|deg|%|[0-9]|:)[^a-z]|:)|(?<= :) (?=[0-9])"
)
_UNBROKEN = "\N{NO-BREAK SPACE}"


class Terminal:
    """Writes lines of text to one stream."""

    def __init__(self, stream: TextIO | None) -> None:
        self._stream = (
            io.StringIO() if stream is None else stream
        )  # None: closed when the program was started
        self.watched = _is_watched(self._stream)
        self._coloured = self.watched and not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb"
        columns = shutil.get_terminal_size((_WIDEST, 24)).columns if self.watched else _WIDEST
        self.width = max(_NARROWEST, min(columns, _WIDEST))

    def line(self, text: str = "", style: Style = "plain", *, indent: int = 0) -> None:
        """One paragraph, wrapped to the width; `indent` spaces before each of its lines."""
        self._paragraph(text, style, " " * indent, " " * indent)

    def item(self, label: str, text: str) -> None:
        """A label and what belongs to it, wrapped beside the label."""
        self._paragraph(text, "plain", escaped(label), " " * len(label))

    def _paragraph(self, text: str, style: Style, first: str, rest: str) -> None:
        rows = textwrap.wrap(
            _KEPT_TOGETHER.sub(_UNBROKEN, escaped(text)),
            self.width,
            initial_indent=first,
            subsequent_indent=rest,
            break_long_words=False,
            break_on_hyphens=False,
        )
        for row in rows or [""]:
            self._put(row.replace(_UNBROKEN, " "), style)

    def row(self, text: str, style: Style = "plain") -> None:
        """One line of a table, spaces kept."""
        self._put(escaped(text), style)

    def raw(self, text: str) -> None:
        """A document of ASCII, such as JSON, as it is."""
        self._stream.write(text + "\n")

    def announce(self, text: str) -> None:
        """One line, unbroken, handed over at once: somebody waits for it."""
        self._put(escaped(text), "plain")
        self._stream.flush()

    def progress(self, text: str) -> None:
        """A line that the next one overwrites; only where somebody looks."""
        if self.watched:
            self._stream.write("\r\x1b[K" + self._shown(escaped(text))[: self.width - 1])
            self._stream.flush()

    def _put(self, row: str, style: Style) -> None:
        shown = self._shown(row)
        if self._coloured and style in _COLOURS and shown:
            shown = f"\x1b[{_COLOURS[style]}m{shown}\x1b[0m"
        self._stream.write(shown + "\n")

    def _shown(self, row: str) -> str:
        """`row` in the characters that the stream has."""
        encoding = self._stream.encoding or "ascii"
        try:
            row.encode(encoding)
        except UnicodeEncodeError:
            plain = row.translate(_PLAIN_SIGNS)
            return plain.encode(encoding, "backslashreplace").decode(encoding)
        return row


def escaped(text: str) -> str:
    r"""`text` with control, direction and invisible characters as \uXXXX."""
    return "".join(map(_shown_character, text))


def shown_name(file: str | os.PathLike[str]) -> str:
    """A file's name as text that JSON and a terminal can hold; bytes that are no UTF-8 are escaped."""
    return os.fsencode(file).decode("utf-8", "backslashreplace")


def _shown_character(character: str) -> str:
    if character.isascii() and character.isprintable():
        return character
    if unicodedata.category(character) in _HIDDEN:
        code = ord(character)
        return f"\\u{code:04x}" if code < 0x10000 else f"\\U{code:08x}"
    return character


def _is_watched(stream: TextIO) -> bool:
    try:
        return stream.isatty()
    except ValueError:  # a stream that is closed
        return False
