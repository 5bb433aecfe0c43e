"""Names and titles are text everywhere: what a PDF, an SVG, a DXF and a file name may show of them."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Container
from xml.sax.saxutils import escape, quoteattr

__all__ = ["dxf_text", "file_stem", "shortened", "shown", "xml_attribute", "xml_text"]

# Cc control, Cf format (direction marks, joiners), Cs surrogates, Co private, Cn not assigned,
# Zl Zp line and paragraph ends: no ink of their own, and some turn the text around them.
_NO_INK = frozenset({"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"})
_LONGEST_STEM = 60
# Names that one operating system keeps for devices, with any ending.
_DEVICES = re.compile(r"(con|prn|aux|nul|com[0-9]|lpt[0-9])", re.ASCII)


def shown(text: str, glyphs: Container[int] | None = None) -> str:
    r"""`text` with everything that has no ink, or no glyph in the font, as its code: \\u4e2d.

    glyphs  code points that the font can draw; None: all
    """
    return "".join(_one(character, glyphs) for character in text)


def shortened(text: str, most: int) -> str:
    """At most `most` characters; the middle goes, for names differ at their ends."""
    if len(text) <= most:
        return text
    head = (most - 1) // 2
    return text[:head] + "\N{HORIZONTAL ELLIPSIS}" + text[len(text) - (most - 1 - head) :]


def xml_text(text: str) -> str:
    """`text` for the inside of an XML element."""
    return escape(shown(text))


def xml_attribute(text: str) -> str:
    """`text` as an XML attribute, quotes included."""
    return quoteattr(shown(text))


def dxf_text(text: str) -> str:
    r"""`text` for a DXF string: one line, none of the codes that a DXF reader acts on.

    %% starts a drawing code, ^ a control character, \\U+ and \\M+ a character by number: a space
    after each first sign breaks the code and keeps it readable.
    """
    plain = shown(text).replace("%%", "% % ").replace("^", "^ ")
    return re.sub(r"\\(?=[UMum]\+)", r"\\ ", plain)


def file_stem(text: str, otherwise: str) -> str:
    """A file name's stem of small letters, digits and hyphens, whole words: never a path, a device or empty."""
    folded = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode("ascii").lower()
    stem = re.sub(r"[^a-z0-9]+", "-", folded).strip("-")
    if len(stem) > _LONGEST_STEM:
        whole = stem[: _LONGEST_STEM + 1].rpartition("-")[0]  # a number or a word is not cut in two
        stem = whole or stem[:_LONGEST_STEM]
    if not stem:
        return otherwise
    return f"{otherwise}-{stem}" if _DEVICES.fullmatch(stem) else stem


def _one(character: str, glyphs: Container[int] | None) -> str:
    code = ord(character)
    drawable = unicodedata.category(character) not in _NO_INK
    if drawable and (glyphs is None or code in glyphs):
        return character
    return f"\\u{code:04x}" if code <= 0xFFFF else f"\\U{code:08x}"
