"""How a figure is said that nothing measured stands behind: about, and in two figures at most."""

from __future__ import annotations

from leverwright.quantity.rounding import fixed
from leverwright.quantity.say import shown_unit
from leverwright.quantity.units import Kind, System

__all__ = ["say_about", "say_about_ratio", "say_about_travel", "say_about_twist_ratio"]

_FROM = "from the sketch"
_FINEST = 2  # decimals; less than a hundredth of a millimetre or a degree is not said even of a measurement


def say_about(value: float, kind: Kind, *, system: System = "metric") -> str:
    """The SI `value` of a sketched place: "about 87 mm (from the sketch)"; inches are decimal, two figures."""
    unit = shown_unit(kind, system)
    said = f"about {_two(unit.from_si(value))}"
    return f"{said} {unit.symbol} ({_FROM})" if unit.symbol else f"{said} ({_FROM})"


def say_about_travel(travel: float, *, system: System = "metric") -> str:
    """The same of a wheel travel, with its sign: "about +66 mm (from the sketch)"."""
    said = say_about(travel, "length", system=system)
    return said.replace("about ", "about +", 1) if travel > 0 and not said.startswith("about 0 ") else said


def say_about_ratio(ratio: float, *, system: System = "metric") -> str:
    """The same of a motion ratio: "about 0.61 (from the sketch; spring moves 6.1 mm for 10 mm of wheel; 1 : 1.6)"."""
    said, size = _two(ratio), abs(ratio)
    if float(said) == 0:  # what is said, so an exact comparison
        return f"about {said} ({_FROM}; spring does not move with the wheel)"
    far = f"{_two(10 * size)} mm for 10 mm of" if system == "metric" else f"{_two(size)} in for 1 in of"
    moves = f"spring moves {far} wheel" if ratio > 0 else f"spring gets longer, the wrong way, by {far} bump"
    return f"about {said} ({_FROM}; {moves}; 1 : {_two(1 / size)})"


def say_about_twist_ratio(twist: float, *, system: System = "metric") -> str:
    """The same of a spring on a hinge [rad per m of wheel]."""
    wheel, words = (0.01, "10 mm") if system == "metric" else (0.0254, "1 in")
    turn = _two(shown_unit("angle", system).from_si(abs(twist) * wheel))
    if twist < 0 and turn != "0":
        return f"about {turn} deg ({_FROM}; unwinds so far for {words} of bump, the wrong way)"
    return f"about {turn} deg ({_FROM}; twists so far for {words} of wheel)"


def _two(number: float) -> str:
    """At most two figures, and no zero behind the point that says nothing."""
    rounded = float(f"{number:.1e}")
    said = fixed(rounded, _FINEST)
    return said.rstrip("0").rstrip(".")
