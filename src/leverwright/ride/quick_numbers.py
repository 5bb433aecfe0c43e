"""The five numbers of "it is too stiff, or too soft: why?", as typed and as read."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from leverwright.quantity import Kind, Quantity, QuantityError, read_quantity, say

__all__ = ["QuickError", "QuickNumbers", "read_quick"]

# One standard deviation where none is stated: a tape between two holes, bathroom scales, a rate from
# wire and coils, a tape at a wheel. Common practice, from memory.
_ARM_ERROR = 0.0005  # m
_LOAD_ERROR = 0.5  # kg
_RATE_ERROR = 0.07  # of the rate
_MOVES_ERROR = 0.002  # m

# Kind, name, least and most: outside, a unit or a decimal point has slipped.
_ASKED: Mapping[str, tuple[Kind, str, float, float]] = {
    "link_arm": ("length", "the link arm", 0.005, 2.0),
    "spring_arm": ("length", "the spring arm", 0.005, 2.0),
    "load": ("mass", "the load on the wheel", 0.5, 5000.0),
    "rate": ("stiffness", "the spring rate", 100.0, 5e6),
    "moves": ("length", "the movement of the wheel", 0.0, 2.0),
}
_UNKNOWN = ("", "unknown", "?")


class QuickError(QuantityError):
    """One of the five numbers is refused; `key` says which."""

    def __init__(self, key: str, found: str, allowed: str, do: str) -> None:
        super().__init__(found, allowed, do)
        self.key = key


@dataclass(frozen=True, slots=True)
class QuickNumbers:
    """The five numbers; None where nobody knows."""

    link_arm: Quantity  # m, rocker's pivot to the link's hole
    spring_arm: Quantity  # m, rocker's pivot to the spring's hole
    load: Quantity  # kg on the wheel
    rate: Quantity | None  # N/m
    moves: Quantity | None  # m, wheel, from hanging to loaded
    link_per_wheel: float = 1.0  # movement of the link's lower end by that of the wheel

    @property
    def readings(self) -> dict[str, float]:
        """The known ones by name, SI."""
        return {key: known.value for key, known in self._known().items()}

    @property
    def errors(self) -> dict[str, float]:
        """One standard deviation of each known one, the usual one where none is stated; SI."""
        return {key: self._error(key, known) for key, known in self._known().items()}

    def _known(self) -> dict[str, Quantity]:
        given = {key: getattr(self, key) for key in _ASKED}
        return {key: quantity for key, quantity in given.items() if quantity is not None}

    def _error(self, key: str, known: Quantity) -> float:
        if known.error is not None:
            return known.error
        if key == "rate":
            return _RATE_ERROR * known.value
        return {"load": _LOAD_ERROR, "moves": _MOVES_ERROR}.get(key, _ARM_ERROR)


def read_quick(typed: Mapping[str, str | None], link_per_wheel: float = 1.0) -> QuickNumbers:
    """The five numbers as typed, by name; rate and movement may be None, "" or "unknown".

    QuickError where one cannot be read or is no such size.
    """
    if not 0.05 <= link_per_wheel <= 20:
        raise QuickError(
            "link_per_wheel",
            f"{link_per_wheel:g} for the movement of the link by that of the wheel",
            "0.05 to 20",
            "divide the arm from pivot to link by the arm from pivot to wheel",
        )
    link_arm, spring_arm, load = (_read(key, typed.get(key)) for key in ("link_arm", "spring_arm", "load"))
    rate, moves = (
        None if (typed.get(key) or "").strip().lower() in _UNKNOWN else _read(key, typed.get(key))
        for key in ("rate", "moves")
    )
    return QuickNumbers(link_arm, spring_arm, load, rate, moves, link_per_wheel)


def _read(key: str, typed: str | None) -> Quantity:
    kind, name, least, most = _ASKED[key]
    if typed is None or not typed.strip():
        raise QuickError(key, f"nothing for {name}", "a number", f"measure {name}")
    try:
        quantity = read_quantity(typed, kind)
    except QuantityError as error:
        raise QuickError(key, error.found, error.allowed, error.do) from error
    if not least <= quantity.value <= most:
        raise QuickError(
            key,
            f"{say(quantity.value, kind)} for {name}",
            f"{say(least, kind)} to {say(most, kind)}",
            "check the unit, the sign and the decimal point",
        )
    return quantity
