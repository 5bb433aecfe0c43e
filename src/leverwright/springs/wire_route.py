"""The second opinion on a spring: its rate from wire and coils, with a ± and what the usual slips would give. SI.

k = G d⁴ / (8 D³ n). Sources of the modulus: EN 13906-1 has 81.5 GPa for cold-drawn wire, makers' tables run from 11.25
to 12.0 Mpsi (77.6 to 82.7 GPa), 6.7 % apart before anything is measured; 78.5 GPa ± 3.5 % covers them.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from leverwright.quantity import Quantity
from leverwright.springs.wire import Coil, coil_rate

__all__ = ["MODULUS", "Slip", "SlipName", "WireMeasured", "WireRate", "wire_rate"]

MODULUS = Quantity(78.5e9, 0.035 * 78.5e9, "modulus")  # Pa; steel spring wire of unknown make
# One standard deviation where the file states none, as a caliper and an eye on a rusty coil give (CP).
_WIRE, _DIAMETER, _COILS = 0.05e-3, 0.5e-3, 0.25
_PAINT = 0.2e-3  # m that paint makes a wire thicker (CP)
_END_COILS = 2.0  # coils that lie flat at the two ends of a closed coil and do not twist
_TABLES = 77.6e9, 82.7e9  # Pa, 11.25 and 12.0 Mpsi: lowest and highest of the makers' tables

SlipName = Literal["paint", "outside", "end-coils", "modulus"]


@dataclass(frozen=True, slots=True)
class WireMeasured:
    """A coil as a builder measures it: one of `outside` and `mean` diameter; m, turns, Pa."""

    diameter: Quantity
    outside: Quantity | None
    mean: Quantity | None
    active: Quantity
    modulus: Quantity | None = None


@dataclass(frozen=True, slots=True)
class Slip:
    """A usual slip of measuring.

    made    N/m that this slip would show, were the sizes as stated true
    undone  N/m that is true if the stated sizes already hold this slip; of the modulus the lowest table's
    """

    name: SlipName
    made: float
    undone: float


@dataclass(frozen=True, slots=True)
class WireRate:
    """Rate by wire and coils.

    rate      N/m with one standard deviation
    shares    share of the rate that each of wire, diameter, coils and modulus leaves unsure
    assumed   which of these took a usual error because the file states none
    """

    rate: Quantity
    coil: Coil
    shares: dict[str, float]
    assumed: tuple[str, ...]
    slips: tuple[Slip, ...]


def wire_rate(wire: WireMeasured) -> WireRate:
    """Rate from wire and coils; the ± of an outside diameter counts the wire's error once more, in the mean."""
    modulus = wire.modulus or MODULUS
    across = wire.mean or wire.outside
    if across is None:
        raise ValueError("a coil without outside or mean diameter")
    coil = Coil(wire.diameter.value, _mean(wire, wire.diameter.value, across.value), wire.active.value)
    errors = {
        "wire": (wire.diameter.error, _WIRE),
        "diameter": (across.error, _DIAMETER),
        "coils": (wire.active.error, _COILS),
        "modulus": (modulus.error, 0.0),
    }
    sigma = {name: usual if own is None else own for name, (own, usual) in errors.items()}
    # The mean is the outside less one wire: a wire read too thick makes the mean too small, and both stiffen.
    by_wire = 4.0 / coil.wire + (3.0 / coil.mean_diameter if wire.mean is None else 0.0)
    shares = {
        "wire": by_wire * sigma["wire"],
        "diameter": 3.0 * sigma["diameter"] / coil.mean_diameter,
        "coils": sigma["coils"] / coil.active,
        "modulus": sigma["modulus"] / modulus.value,
    }
    rate = coil_rate(coil, modulus.value)
    return WireRate(
        Quantity(rate, rate * math.hypot(*shares.values()), "stiffness"),
        coil,
        shares,
        tuple(name for name, (own, _) in errors.items() if own is None),
        tuple(_slips(wire, coil, modulus.value)),
    )


def _mean(wire: WireMeasured, diameter: float, across: float) -> float:
    """Mean diameter [m] with that wire and that reading across the coil."""
    return across if wire.mean is not None else across - diameter


def _slips(wire: WireMeasured, coil: Coil, modulus: float) -> list[Slip]:
    across = coil.mean_diameter + (0.0 if wire.mean is not None else coil.wire)

    def rate(diameter: float, mean: float, active: float, of: float = modulus) -> float:
        possible = 0.0 < diameter < mean and active > 0.0
        return coil_rate(Coil(diameter, mean, active), of) if possible else math.nan

    def painted(more: float) -> float:
        return rate(coil.wire + more, _mean(wire, coil.wire + more, across), coil.active)

    return [
        Slip("paint", painted(_PAINT), painted(-_PAINT)),
        Slip(
            "outside",
            rate(coil.wire, coil.mean_diameter + coil.wire, coil.active),
            rate(coil.wire, coil.mean_diameter - coil.wire, coil.active),
        ),
        Slip(
            "end-coils",
            rate(coil.wire, coil.mean_diameter, coil.active + _END_COILS),
            rate(coil.wire, coil.mean_diameter, coil.active - _END_COILS),
        ),
        Slip(
            "modulus",
            rate(coil.wire, coil.mean_diameter, coil.active, _TABLES[1]),
            rate(coil.wire, coil.mean_diameter, coil.active, _TABLES[0]),
        ),
    ]
