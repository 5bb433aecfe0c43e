"""What a coil does, from its wire: rate, stress, strength of the wire, length when solid. All SI.

Sources: Shigley's Mechanical Engineering Design, chapter 10 (rate, factors, ends, wire strengths);
EN 13906-1 (its k is the Bergstraesser factor); EN 10270-1 (tensile strength of patented wire).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

__all__ = [
    "CHROME_SILICON",
    "CHROME_VANADIUM",
    "END_COILS",
    "HARD_DRAWN",
    "MUSIC_WIRE",
    "OIL_TEMPERED",
    "SHEAR_MODULUS_STEEL",
    "Coil",
    "Ends",
    "WireGrade",
    "bergstraesser_factor",
    "buckles_at",
    "coil_rate",
    "coil_stress",
    "direct_shear_factor",
    "patented_wire_strength",
    "push_at_stress",
    "slenderness_limit",
    "solid_length",
    "spring_index",
    "surge_frequency",
    "total_coils",
    "wahl_factor",
    "wire_strength",
]

# Shear modulus of cold-drawn spring steel [Pa]; EN 13906-1 table. Wires differ by 3.5 % either way.
SHEAR_MODULUS_STEEL = 81.5e9

Ends = Literal["plain", "plain ground", "closed", "closed ground"]

# Coils at the ends that carry no twist, and how many wires more than the coils stand on each other
# when solid. Source: Shigley, table of dimensions of compression springs by kind of end.
END_COILS: dict[Ends, tuple[int, int]] = {
    "plain": (0, 1),
    "plain ground": (1, 0),
    "closed": (2, 1),
    "closed ground": (2, 0),
}


@dataclass(frozen=True, slots=True)
class Coil:
    """A cylindrical compression coil of round wire.

    wire           m, diameter of the bare wire, not over paint
    mean_diameter  m, outside diameter less one wire
    active         coils that twist: all less those that lie flat at the ends
    """

    wire: float
    mean_diameter: float
    active: float

    def __post_init__(self) -> None:
        """Refuse what cannot be wound."""
        sizes = (self.wire, self.mean_diameter, self.active)
        if not all(math.isfinite(size) and size > 0 for size in sizes):
            raise ValueError(
                f"a coil of wire {self.wire} m, mean diameter {self.mean_diameter} m and {self.active} "
                "active coils; all three must be above 0: measure the one that is not"
            )
        if self.mean_diameter <= self.wire:
            raise ValueError(
                f"a mean diameter of {self.mean_diameter} m on wire of {self.wire} m leaves no hole; "
                "it must be larger than the wire: mean diameter is outside diameter less one wire"
            )


@dataclass(frozen=True, slots=True)
class WireGrade:
    """Least tensile strength of a wire, which falls with its diameter as a power.

    strength   Pa, at the reference diameter
    reference  m
    exponent   1, how fast it falls
    source     where the two numbers come from
    """

    strength: float
    reference: float
    exponent: float
    source: str


_TABLE = "Shigley's Mechanical Engineering Design, table of tensile strength of common spring wires, metric"

MUSIC_WIRE = WireGrade(2211e6, 1e-3, 0.145, _TABLE)
OIL_TEMPERED = WireGrade(1855e6, 1e-3, 0.187, _TABLE)
HARD_DRAWN = WireGrade(1783e6, 1e-3, 0.190, _TABLE)
CHROME_VANADIUM = WireGrade(2005e6, 1e-3, 0.168, _TABLE + " (from memory)")
CHROME_SILICON = WireGrade(1974e6, 1e-3, 0.108, _TABLE + " (from memory)")


def spring_index(coil: Coil) -> float:
    """Mean diameter by wire diameter [1], C in the books; 4 to 12 is usual."""
    return coil.mean_diameter / coil.wire


def coil_rate(coil: Coil, shear_modulus: float = SHEAR_MODULUS_STEEL) -> float:
    """Spring rate [N/m] = G d⁴ / (8 D³ n).

    The wire enters with its fourth power, the diameter with its third: measure these two best.
    """
    return shear_modulus * coil.wire**4 / (8 * coil.mean_diameter**3 * coil.active)


def direct_shear_factor(index: float) -> float:
    """Stress by that of pure twist [1] when the plain shear of the push is added: 1 + 0.5 / C."""
    return 1 + 0.5 / index


def wahl_factor(index: float) -> float:
    """Stress at the inside of the coil by that of pure twist [1], direct shear and curvature: Wahl."""
    return (4 * index - 1) / (4 * index - 4) + 0.615 / index


def bergstraesser_factor(index: float) -> float:
    """The same by Bergstraesser [1], (4C + 2) / (4C − 3); EN 13906-1's (C + 0.5) / (C − 0.75)."""
    return (4 * index + 2) / (4 * index - 3)


def coil_stress(coil: Coil, push: float, factor: float) -> float:
    """Shear stress in the wire [Pa] at `push` [N] = factor · 8 F D / (π d³)."""
    return factor * 8 * push * coil.mean_diameter / (math.pi * coil.wire**3)


def push_at_stress(coil: Coil, stress: float, factor: float) -> float:
    """Push [N] at which the wire carries the shear `stress` [Pa]: `coil_stress` turned round."""
    return stress * math.pi * coil.wire**3 / (factor * 8 * coil.mean_diameter)


def wire_strength(grade: WireGrade, wire: float) -> float:
    """Least tensile strength [Pa] of wire of diameter `wire` [m] = A · (d / reference)^−m."""
    return float(grade.strength * (wire / grade.reference) ** -grade.exponent)


def patented_wire_strength(wire: float) -> float:
    """Least tensile strength [Pa] of EN 10270-1 grade SM wire of diameter `wire` [m].

    (1980 − 740 · log10 d) MPa, d in mm: a fit from memory, within 10 MPa of the printed 1980, 1760,
    1630, 1530, 1460 MPa at 1 to 5 mm.
    """
    return (1980 - 740 * math.log10(wire / 1e-3)) * 1e6


def total_coils(active: float, ends: Ends) -> float:
    """All the coils one counts, from those that twist."""
    return active + END_COILS[ends][0]


def solid_length(coil: Coil, ends: Ends) -> float:
    """Length [m] with every coil on the next: wire × (all coils + 1), without the 1 if ground."""
    idle, extra = END_COILS[ends]
    return coil.wire * (coil.active + idle + extra)


# Shear by elastic modulus of spring steel, 81.5 / 206 GPa: EN 13906-1.
_SHEAR_BY_ELASTIC = 81.5 / 206.0


def slenderness_limit(shear_by_elastic: float = _SHEAR_BY_ELASTIC) -> float:
    """Free length by mean diameter, times the seating factor [1], below which a coil never buckles: 2.58 for steel."""
    return math.pi * math.sqrt((1 - shear_by_elastic) / (0.5 + shear_by_elastic))


def buckles_at(free_length: float, mean_diameter: float, seating: float) -> float | None:
    """Compression [m] at which a coil bows out, None where it never does. Source: EN 13906-1 (from memory).

    seating  ν: 0.5 both ends held square, 0.7 one of them hinged, 1 both hinged, 2 one end free
    """
    part = _SHEAR_BY_ELASTIC
    slender = math.pi * mean_diameter / (seating * free_length)
    inside = 1 - (1 - part) / (0.5 + part) * slender**2
    if inside < 0:
        return None
    return free_length * 0.5 / (1 - part) * (1 - math.sqrt(inside))


def surge_frequency(coil: Coil, shear_modulus: float, density: float) -> float:
    """First frequency [Hz] at which a coil held at both ends surges in itself: half the root of rate by active mass."""
    mass = density * math.pi**2 / 4 * coil.wire**2 * coil.mean_diameter * coil.active
    return 0.5 * math.sqrt(coil_rate(coil, shear_modulus) / mass)
