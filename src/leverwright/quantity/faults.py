"""What is said about a quantity that cannot be read: found, allowed, what to do."""

from __future__ import annotations

__all__ = ["QuantityError", "quoted"]

# Characters of a refused text that are repeated in the sentence; more hides the sentence.
_LONGEST_QUOTE = 40


class QuantityError(ValueError):
    """A quantity that is refused, in three parts: what was found, what is allowed, what to do."""

    def __init__(self, found: str, allowed: str, do: str) -> None:
        super().__init__(f"{found}; allowed: {allowed}; {do}")
        self.found = found
        self.allowed = allowed
        self.do = do


def quoted(text: str) -> str:
    """`text` in quotes for a sentence: shortened, control and direction characters escaped."""
    shown = text if len(text) <= _LONGEST_QUOTE else text[:_LONGEST_QUOTE] + "..."
    return "'" + "".join(map(_visible, shown)) + "'"


def _visible(character: str) -> str:
    return character if character.isprintable() else f"\\u{ord(character):04x}"
