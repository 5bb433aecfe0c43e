"""Small words that findings share: lists of names, lengths and travels in the study's own units."""

from __future__ import annotations

from collections.abc import Iterable

from leverwright.quantity import Kind, in_words, say, say_travel
from leverwright.study import Study

__all__ = ["both", "in_words", "length", "on_wheels", "the_wheels", "travel"]


def both(study: Study, value: float, kind: Kind, error: float | None = None) -> str:
    """A quantity in the study's units, with its spread where one is known."""
    return say(value, kind, system=study.units, error=error)


def length(study: Study, value: float, error: float | None = None) -> str:
    """A length in the study's units."""
    return say(value, "length", system=study.units, error=error)


def travel(study: Study, value: float) -> str:
    """A wheel travel with its sign in the study's units."""
    return say_travel(value, system=study.units)


def on_wheels(wheels: Iterable[str]) -> str:
    """Where: on wheel a, on wheels a and b; a name that says wheel itself is not told twice."""
    each = list(dict.fromkeys(wheels))
    if each == ["wheel"]:
        return "on the wheel"
    if each and all(name.startswith("wheel-") for name in each):
        return f"on {in_words(each)}"
    return f"on wheel{'s' if len(each) > 1 else ''} {in_words(each)}"


def the_wheels(wheels: Iterable[str], *, first: bool = False) -> str:
    """Wheels as what a sentence is about, `first` at its head; one named just wheel is the wheel."""
    said = in_words(wheels)
    return said if said != "wheel" else "The wheel" if first else "the wheel"
