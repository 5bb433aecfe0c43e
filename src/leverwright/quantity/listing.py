"""Names in a row, as a sentence says them."""

from __future__ import annotations

from collections.abc import Iterable

__all__ = ["in_words"]


def in_words(names: Iterable[str]) -> str:
    """Names in a row, each once: a, a and b, a, b and c."""
    each = list(dict.fromkeys(names))
    return each[0] if len(each) == 1 else f"{', '.join(each[:-1])} and {each[-1]}" if each else "nothing"
