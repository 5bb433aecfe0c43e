"""Force laws of springs, stops, straps and hinge springs over their length or angle."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from leverwright.geometry import Array

__all__ = ["Cord", "Law", "ShockLaw", "StopLaw", "TwistLaw", "law_friction", "law_push", "law_rate"]

_NO_ROWS = np.zeros((0, 3))


@dataclass(frozen=True, slots=True)
class StopLaw:
    """Bump stop that touches at an eye-to-eye length; `rows` (n, 2) of (compression m, N) replaces the rate."""

    length: float  # m at first touch
    rate: float  # N/m; 0 with a table
    rows: Array = field(default_factory=lambda: np.zeros((0, 2)))


@dataclass(frozen=True, slots=True)
class ShockLaw:
    """Coil (or measured table) over a shock, eye to eye.

    rate      N/m of the coil; with `rows` (n, 3) of (compression from open m, N in, N out) the table replaces it
    preload   m the coil is shortened when fully open; negative: loose by that much
    gas       N at any length; friction N, half of going in less coming out
    """

    length_open: float
    length_closed: float
    rate: float
    preload: float
    gas: float = 0.0
    friction: float = 0.0
    rows: Array = field(default_factory=lambda: _NO_ROWS)
    stop: StopLaw | None = None


@dataclass(frozen=True, slots=True)
class Cord:
    """Strap: slack below its length [m], pulls with `rate` [N/m] above; rigid straps limit travel and pull nothing."""

    length: float
    rate: float


@dataclass(frozen=True, slots=True)
class TwistLaw:
    """Torsion on a hinge: rate [N·m/rad], angle [rad] in the set-up pose, + already resists bump."""

    rate: float
    twist: float


Law = ShockLaw | Cord | TwistLaw


def law_push(law: Law, length: Array) -> Array:
    """Push [N] at lengths [m], + presses the ends apart; torque [N·m] against bump at angles [rad] for a twist.

    Shock: max(0, rate × (open − length + preload)) + gas + bump stop; a table is straight between its rows and
    NaN outside them, because it was not measured there.
    """
    if isinstance(law, TwistLaw):
        return law.rate * (law.twist + length)
    if isinstance(law, Cord):
        return -law.rate * np.maximum(0.0, length - law.length)
    if len(law.rows):
        coil = _between(law.length_open - length, law.rows[:, 0], 0.5 * (law.rows[:, 1] + law.rows[:, 2]))
    else:
        coil = np.maximum(0.0, law.rate * (law.length_open - length + law.preload))
    return coil + law.gas + (0.0 if law.stop is None else _stop_push(law.stop, length))


def law_rate(law: Law, length: Array) -> Array:
    """Rise of the push per shortening [N/m] (N·m/rad for a twist), same shape; at a corner the softer side."""
    if isinstance(law, TwistLaw):
        return np.full(length.shape, law.rate)
    if isinstance(law, Cord):
        return np.where(length > law.length, law.rate, 0.0)
    if len(law.rows):
        coil = _slope(law.length_open - length, law.rows[:, 0], 0.5 * (law.rows[:, 1] + law.rows[:, 2]))
    else:
        coil = np.where(law.length_open - length + law.preload > 0.0, law.rate, 0.0)
    if law.stop is None:
        return coil
    if len(law.stop.rows):
        return coil + _slope(law.stop.length - length, law.stop.rows[:, 0], law.stop.rows[:, 1], outside=0.0)
    return coil + np.where(length < law.stop.length, law.stop.rate, 0.0)


def law_friction(law: Law, length: Array) -> Array:
    """Friction [N] either way at lengths [m]; from a table half of going in less coming out."""
    if not isinstance(law, ShockLaw):
        return np.zeros(length.shape)
    if len(law.rows):
        band = _between(law.length_open - length, law.rows[:, 0], 0.5 * (law.rows[:, 1] - law.rows[:, 2]))
        return np.maximum(band, law.friction)
    return np.full(length.shape, law.friction)


def _stop_push(stop: StopLaw, length: Array) -> Array:
    pressed = stop.length - length
    if len(stop.rows):
        inside = _between(pressed, stop.rows[:, 0], stop.rows[:, 1])
        return np.where(pressed <= 0.0, 0.0, inside)
    return stop.rate * np.maximum(0.0, pressed)


# Lengths come out of a solver that closes to 1e-11 m; a table's end is met within that.
_TABLE_END = 1e-9


def _between(at: Array, places: Array, values: Array) -> Array:
    inside = (at >= places[0] - _TABLE_END) & (at <= places[-1] + _TABLE_END)
    return np.where(inside, np.interp(at, places, values), np.nan)


def _slope(at: Array, places: Array, values: Array, outside: float = np.nan) -> Array:
    steps = np.diff(values) / np.diff(places)
    inside = (at >= places[0] - _TABLE_END) & (at <= places[-1] + _TABLE_END)
    row = np.clip(np.searchsorted(places, at, side="right") - 1, 0, len(steps) - 1)
    return np.where(inside, steps[row], outside)
