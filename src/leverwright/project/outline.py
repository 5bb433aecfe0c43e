"""Where each key of a TOML text stands: its line and the places of its key and value.

The parser of the standard library gives values without places; this scanner gives the places. It goes
over the text once, without backtracking, and takes any text: what is not TOML is the parser's to refuse.
It refuses what would make the parser slow: deep brackets, many dots, many digits.
"""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass, field
from typing import NamedTuple

from leverwright.project.limits import LIMITS

__all__ = ["Item", "Outline", "Path", "Piece", "TooMuch", "outline_of", "said"]

Path = tuple[str, ...]

# Possessive (++, *+), so that no text makes it go back. An unclosed string ends at its line's or the text's end.
_TOKEN = re.compile(
    r"""[ \t\r]*+(?:
    (?P<newline>\n)
  | (?P<comment>\#[^\n]*+)
  | (?P<string>\"\"\"(?:[^"\\]|\\(?s:.)|"{1,2}+(?!"))*+(?:"{3,5}+|\\?\Z)
             | '''(?:[^']|'{1,2}+(?!'))*+(?:'{3,5}+|\Z)
             | "(?:[^"\\\n]|\\[^\n])*+(?:"|\\?(?=\n)|\\?\Z)
             | '[^'\n]*+(?:'|(?=\n)|\Z))
  | (?P<mark>[\[\]{}=,])
  | (?P<bare>[^\s\[\]{}=,"'\#]++|\S|[^\S\n])
    )""",
    re.VERBOSE,
)


class TooMuch(Exception):
    """A limit is passed; `line` and `path` are None when the whole text is meant."""

    def __init__(self, what: str, most: str, line: int | None = None, path: Path | None = None) -> None:
        super().__init__(what)
        self.what = what
        self.most = most
        self.line = line
        self.path = path


class Piece(NamedTuple):
    """One token: what it is (`newline`, `string`, `bare` or the mark itself), its place and its line."""

    kind: str
    start: int
    end: int
    line: int


class Item(NamedTuple):
    """One written key, or one table header.

    line    1-based line of the key
    base    path of the table in which it is written; () for a header
    key     place of the key's text, dots and all; for a header without its brackets
    parts   places of the path's last components, as many as are written here
    value   place of the value's text; for a header the place of the header with its brackets
    form    "value", "header" or "member" (of an inline table)
    """

    line: int
    base: Path
    key: tuple[int, int]
    parts: tuple[tuple[int, int], ...]
    value: tuple[int, int]
    form: str


@dataclass(slots=True)
class Outline:
    """Every key of a text.

    items    path → where it is written
    lines    path → line; of a table without a header the line of its first key
    strings  (path, start, end) of each string value, those in arrays too
    arrays   path → places of the elements of an array value
    repeats  (path, line, first line) of keys written twice
    """

    items: dict[Path, Item] = field(default_factory=dict)
    lines: dict[Path, int] = field(default_factory=dict)
    strings: list[tuple[Path, int, int]] = field(default_factory=list)
    arrays: dict[Path, list[tuple[int, int]]] = field(default_factory=dict)
    marks: list[tuple[Path, str, int]] = field(default_factory=list)
    repeats: list[tuple[Path, int, int]] = field(default_factory=list)

    def line(self, path: Path) -> int:
        """Line of the key, else of the nearest table above it that is written, else 1."""
        while path:
            if path in self.lines:
                return self.lines[path]
            path = path[:-1]
        return 1


def outline_of(text: str) -> Outline:
    """The outline of a TOML text; TooMuch where a limit is passed."""
    scanner = _Scanner(text, _pieces(text))
    scanner.document()
    return scanner.outline


def _pieces(text: str) -> list[Piece]:
    """The tokens of the text, comments left out; brackets too deep are refused."""
    pieces: list[Piece] = []
    line = 1
    depth = 0
    for match in _TOKEN.finditer(text):
        kind = match.lastgroup
        if kind is None or kind == "comment":
            continue
        start, end = match.span(kind)
        if kind == "mark":
            kind = text[start]
            if kind in "[{":
                depth += 1
                if depth > LIMITS.levels:
                    raise TooMuch(
                        f"brackets nested more than {LIMITS.levels} deep", f"{LIMITS.levels} levels"
                    )
            elif kind in "]}":
                depth = max(0, depth - 1)
            if len(pieces) > LIMITS.pieces:
                raise _too_many_pieces()
        pieces.append(Piece(kind, start, end, line))
        if kind == "newline":
            line += 1
        elif kind == "string":
            line += text.count("\n", start, end)
    if len(pieces) > LIMITS.pieces:
        raise _too_many_pieces()
    pieces.append(Piece("end", len(text), len(text), line))
    return pieces


def _too_many_pieces() -> TooMuch:
    return TooMuch(f"more than {LIMITS.pieces} words, numbers and marks", f"at most {LIMITS.pieces}")


class _Scanner:
    """A cursor over the tokens; leaves what it cannot follow to the parser."""

    def __init__(self, text: str, pieces: list[Piece]) -> None:
        self.text = text
        self.pieces = pieces
        self.at = 0
        self.parts = 0
        self.outline = Outline()

    def document(self) -> None:
        """Reads every statement of the text."""
        base: Path = ()
        while (piece := self.pieces[self.at]).kind != "end":
            if piece.kind == "newline":
                self.at += 1
            elif piece.kind == "[":
                base = self.header()
            else:
                self.pair(base, "value")
                self.skip_line()

    def header(self) -> Path:
        """Reads `[a.b]` or `[[a.b]]`."""
        first = self.pieces[self.at]
        array = self.pieces[self.at + 1].kind == "["
        self.at += 2 if array else 1
        path, spans = self.key()
        end = self.pieces[self.at]
        while self.pieces[self.at].kind == "]":
            end = self.pieces[self.at]
            self.at += 1
        if path:
            key = (spans[0][0], spans[-1][1])
            item = Item(first.line, (), key, spans, (first.start, end.end), "header")
            self.record(path, item, repeatable=array)
        self.skip_line()
        return path

    def pair(self, base: Path, form: str) -> None:
        """Reads `key = value`, in a table or between the braces of an inline table."""
        piece = self.pieces[self.at]
        parts, spans = self.key()
        path = base + parts
        if self.pieces[self.at].kind != "=" or not parts:
            return
        self.at += 1
        value = self.value(path)
        key = (spans[0][0], spans[-1][1])
        self.record(path, Item(piece.line, base, key, spans, value, form))

    def key(self) -> tuple[Path, tuple[tuple[int, int], ...]]:
        """Reads a key with its dots; the path's parts and the places of each."""
        parts: list[str] = []
        spans: list[tuple[int, int]] = []
        line = self.pieces[self.at].line
        while (piece := self.pieces[self.at]).kind in ("bare", "string"):
            self.at += 1
            if piece.kind == "string":
                parts.append(said(self.text[piece.start : piece.end]))
                spans.append((piece.start, piece.end))
            else:
                place = piece.start
                for part in self.text[piece.start : piece.end].split("."):
                    if part:
                        parts.append(part)
                        spans.append((place, place + len(part)))
                    place += len(part) + 1
            if len(parts) > LIMITS.dots + 1:
                raise TooMuch(f"a key of more than {LIMITS.dots} dots", f"{LIMITS.dots} dots", line, None)
        self.parts += len(parts)
        if self.parts > LIMITS.key_parts:
            raise TooMuch(f"more than {LIMITS.key_parts} parts of keys", f"at most {LIMITS.key_parts}")
        return tuple(parts), tuple(spans)

    def value(self, path: Path) -> tuple[int, int]:
        """Reads one value and everything in it; its place."""
        piece = self.pieces[self.at]
        if piece.kind == "{":
            return self.inline_table(path)
        if piece.kind == "[":
            return self.array(path)
        start = end = piece.start
        while (piece := self.pieces[self.at]).kind in ("bare", "string", "="):
            if piece.kind == "string":
                self.outline.strings.append((path, piece.start, piece.end))
            elif piece.kind == "bare":
                self.number(piece, path)
            end = piece.end
            self.at += 1
        return start, end

    def number(self, piece: Piece, path: Path) -> None:
        """Notes a number with a mark between thousands; refuses one of very many digits."""
        written = self.text[piece.start : piece.end]
        if len(written) > LIMITS.digits and written[0] in "+-.0123456789":
            raise TooMuch(
                f"a number of {len(written)} characters",
                f"{LIMITS.digits} characters for a number",
                piece.line,
                path,
            )
        if "_" in written and written.lstrip("+-")[:1].isdigit():
            self.outline.marks.append((path, written, piece.line))

    def inline_table(self, path: Path) -> tuple[int, int]:
        """Reads `{ a = 1, b = 2 }`."""
        start = self.pieces[self.at].start
        self.at += 1
        while (piece := self.pieces[self.at]).kind not in ("}", "end", "newline"):
            before = self.at
            self.pair(path, "member")
            self.at += self.at == before or self.pieces[self.at].kind == ","
        self.at += piece.kind == "}"
        return start, piece.end

    def array(self, path: Path) -> tuple[int, int]:
        """Reads `[1, 2]`, over as many lines as it takes."""
        start = self.pieces[self.at].start
        self.at += 1
        places: list[tuple[int, int]] = []
        while (piece := self.pieces[self.at]).kind not in ("]", "end"):
            if piece.kind in ("newline", ",", "}"):
                self.at += 1
                continue
            places.append(self.value(path))
        self.at += piece.kind == "]"
        self.outline.arrays[path] = places
        return start, piece.end

    def record(self, path: Path, item: Item, *, repeatable: bool = False) -> None:
        """Keeps where a key is written, and that it is written twice."""
        known = self.outline.items.get(path)
        if known is not None and not repeatable:
            self.outline.repeats.append((path, item.line, known.line))
            return
        self.outline.items[path] = item
        self.outline.lines[path] = item.line
        for length in range(len(path) - 1, 0, -1):
            if path[:length] in self.outline.lines:
                break  # and so is all above it
            self.outline.lines[path[:length]] = item.line

    def skip_line(self) -> None:
        """Goes on to the end of the line."""
        while self.pieces[self.at].kind not in ("newline", "end"):
            self.at += 1


def said(quoted: str) -> str:
    """The text that a quoted string or key says."""
    if "\\" not in quoted and quoted[:3] not in ('"""', "'''"):
        return quoted[1:-1]
    try:
        return str(tomllib.loads(f"key = {quoted}")["key"])
    except tomllib.TOMLDecodeError:
        return quoted[1:-1]
