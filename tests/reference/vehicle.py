"""A project file read by hand for the reference engines.

It shares no line with the product: `tomllib`, plain numbers in millimetres, kilograms, newtons and
N/mm, no uncertainty, no mirror. What it hands on is SI in the chassis frame, as dictionaries.
"""

from __future__ import annotations

import math
import tomllib
from dataclasses import dataclass
from pathlib import Path
from typing import Any, TypeAlias

import numpy as np
import numpy.typing as npt

Array: TypeAlias = npt.NDArray[np.float64]

VEHICLES = Path(__file__).parent / "vehicles"
MM = 1e-3  # m


@dataclass(frozen=True, slots=True)
class CoilLaw:
    """Push of a coil with a gas push, + presses the eyes apart; lengths eye to eye in metres."""

    rate: float
    length_open: float
    length_closed: float
    preload: float
    gas: float

    def push(self, length: float) -> float:
        """Push [N] at `length` [m]; the coil cannot pull."""
        return max(0.0, self.rate * (self.length_open - length + self.preload)) + self.gas


@dataclass(frozen=True, slots=True)
class Twist:
    """A spring on a hinge: two bodies, N·m/rad, and rad in the set-up pose, + already resists bump."""

    bodies: tuple[str, str]
    rate: float
    twist: float


@dataclass(frozen=True, slots=True)
class Vehicle:
    """What a reference engine needs to know, SI; a flat drawing has points of two numbers."""

    text: str
    flat: bool
    points: dict[str, Array]
    bodies: dict[str, list[str]]
    bars: dict[str, tuple[str, str]]
    bar_length: dict[str, float]
    springs: dict[str, tuple[str, str]]
    laws: dict[str, CoilLaw]
    twists: dict[str, Twist]
    wheels: dict[str, tuple[str, str]]  # body, centre
    axes: dict[str, tuple[str, str]]
    rails: dict[str, tuple[str, Array]]  # held point and its direction

    @property
    def up(self) -> int:
        """Index of the vertical coordinate."""
        return 1 if self.flat else 2

    def bodies_at(self, point: str) -> list[str]:
        """Names of the bodies that carry `point`, in file order."""
        return [body for body, carried in self.bodies.items() if point in carried]

    def length(self, ends: tuple[str, str]) -> float:
        """Set-up distance [m] of two points."""
        return float(np.linalg.norm(self.points[ends[0]] - self.points[ends[1]]))


def _law(shock: dict[str, float]) -> CoilLaw:
    return CoilLaw(
        rate=shock["rate"] / MM,
        length_open=shock["length_open"] * MM,
        length_closed=shock["length_closed"] * MM,
        preload=shock["preload"] * MM,
        gas=shock.get("gas", 0.0),
    )


def _twist(spring: dict[str, Any]) -> Twist:
    per_degree = math.radians(1)
    first, second = spring["hinge"]
    return Twist((first, second), spring["rate"] / per_degree, spring["twist"] * per_degree)


def read_text(text: str) -> Vehicle:
    """The vehicle of a project text that keeps to the plain part of the format."""
    file = tomllib.loads(text)
    at = {n: p["at"] if isinstance(p, dict) else p for n, p in file["points"].items()}
    points = {name: np.array(xyz, dtype=float) * MM for name, xyz in at.items()}
    bars = {name: (bar["ends"][0], bar["ends"][1]) for name, bar in file.get("bars", {}).items()}
    springs = file.get("springs", {})
    wheels = file.get("wheels", {})
    measured = {n: float(np.linalg.norm(points[a] - points[b])) for n, (a, b) in bars.items()}
    cut = {n: b["length"] * MM for n, b in file.get("bars", {}).items() if "length" in b}
    return Vehicle(
        text=text,
        flat="plane" in file,
        points=points,
        bodies=file["bodies"],
        bars=bars,
        bar_length=measured | cut,
        springs={n: (s["ends"][0], s["ends"][1]) for n, s in springs.items() if "ends" in s},
        laws={n: _law(file["shocks"][s["shock"]]) for n, s in springs.items() if "shock" in s},
        twists={n: _twist(s) for n, s in springs.items() if "hinge" in s},
        wheels={name: (w["body"], w["centre"]) for name, w in wheels.items()},
        axes={n: (w["axis"][0], w["axis"][1]) for n, w in wheels.items() if "axis" in w},
        rails={
            name: (held["point"], np.array(held["along"], dtype=float))
            for name, held in file.get("held", {}).items()
            if "point" in held
        },
    )


def read(name: str) -> Vehicle:
    """The reference mechanism `vehicles/NAME.toml`."""
    return read_text((VEHICLES / f"{name}.toml").read_text(encoding="utf-8"))
