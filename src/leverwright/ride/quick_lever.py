"""A lever under its load, link and spring square to their arms: the arithmetic of the five numbers."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Literal

__all__ = ["SHORTEST_ARM", "Bench", "Fit", "Lever", "Readings"]

STANDARD_GRAVITY = 9.80665  # m/s2
SHORTEST_ARM = 0.025  # m, between two bolt holes with steel left around each
ROUND_ARM = 0.005  # m, equal arms are proposed in such steps

# What the movement says of the other numbers: it is as they say, less, more, what the arms the other
# way round would give, or there is nothing to compare.
Fit = Literal["agrees", "less", "more", "reversed", "untold"]
Readings = Mapping[str, float]


@dataclass(frozen=True, slots=True)
class Lever:
    """`rate` is the one that works, `preload` what holds the wheel back; SI.

    weight = rate * ratio * (ratio * travel + preload), by virtual work at the wheel.
    """

    link_arm: float
    spring_arm: float
    link_per_wheel: float
    weight: float  # N
    rate: float
    preload: float = 0.0

    @property
    def ratio(self) -> float:
        """Spring movement by wheel movement."""
        return self.spring_arm / self.link_arm * self.link_per_wheel

    @property
    def wheel_rate(self) -> float:
        """Force at the wheel by its movement [N/m]."""
        return self.rate * self.ratio**2

    @property
    def travel(self) -> float:
        """Wheel movement [m] under the load; preload holds it at zero, never below."""
        return max(0.0, self.weight / self.wheel_rate - self.preload / self.ratio)

    @property
    def swapped(self) -> Lever:
        """The same with link and spring on one another's holes."""
        return replace(self, link_arm=self.spring_arm, spring_arm=self.link_arm)

    @property
    def equal_arm(self) -> float:
        """Length [m] for both arms alike, between the two that they have."""
        middle = math.sqrt(self.link_arm * self.spring_arm)
        return max(SHORTEST_ARM, round(middle / ROUND_ARM) * ROUND_ARM)

    def with_arms(self, link_arm: float, spring_arm: float) -> Lever:
        """The same spring and load on other arms."""
        return replace(self, link_arm=link_arm, spring_arm=spring_arm)

    def ratio_for(self, travel: float) -> float:
        """Ratio with which the wheel moves by `travel`: positive root of the equation above."""
        held = self.preload
        return (math.sqrt(held**2 + 4 * travel * self.weight / self.rate) - held) / (2 * travel)

    def rate_for(self, travel: float) -> float:
        """Rate with which the wheel moves by `travel`, the same preload left in."""
        return self.weight / (self.ratio * (self.ratio * travel + self.preload))


@dataclass(frozen=True, slots=True)
class Bench:
    """The readings by name, and one standard deviation of each; SI."""

    readings: Readings
    errors: Readings
    link_per_wheel: float

    @property
    def moves(self) -> float | None:
        """How far the wheel was seen to move."""
        return self.readings.get("moves")

    @property
    def rate_known(self) -> bool:
        """Was a rate given?"""
        return "rate" in self.readings

    def plain(self, readings: Readings) -> Lever:
        """The lever as `readings` say, no preload; a rate that nobody knows is what the movement says."""
        weight = readings["load"] * STANDARD_GRAVITY
        unit = Lever(readings["link_arm"], readings["spring_arm"], self.link_per_wheel, weight, 1.0)
        rate = readings["rate"] if "rate" in readings else unit.travel / readings["moves"]
        return replace(unit, rate=rate)

    def working(self, readings: Readings, fit: Fit) -> Lever:
        """The lever that moves as it was seen to."""
        plain = self.plain(readings)
        if fit == "reversed":
            return plain.swapped
        if fit == "less":
            held = plain.weight / (plain.ratio * plain.rate) - plain.ratio * readings["moves"]
            return replace(plain, preload=held)
        if fit == "more":
            return replace(plain, rate=plain.rate * plain.travel / readings["moves"])
        return plain

    def spread(self, answer: Callable[[Readings], float]) -> float:
        """One standard deviation of `answer`: each reading moved by its error both ways, squares added."""
        squares = 0.0
        for key, error in self.errors.items():
            least = self.readings[key] * 1e-3  # a reading with a huge error stays above zero
            up, down = (max(least, self.readings[key] + way * error) for way in (1, -1))
            squares += ((answer({**self.readings, key: up}) - answer({**self.readings, key: down})) / 2) ** 2
        return math.sqrt(squares)
