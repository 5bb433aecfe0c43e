"""Is the tyre the suspension already?"""

from __future__ import annotations

import math
from typing import Final

import numpy as np

from leverwright.findings.finding import COMMON_PRACTICE, Finding, finding
from leverwright.findings.rows import Row, rows, together
from leverwright.findings.words import both, length, on_wheels
from leverwright.ride import STANDARD_GRAVITY
from leverwright.ride.frequency import natural_frequency
from leverwright.study import Study

__all__ = ["tyre_is_suspension"]

_MOVES: Final = "Does it move?"
_LEAST_GAIN = 0.20  # of the frequency on tyres alone; less is not worth the steel (CP)
_WISHES = (2.0, 1.45)  # Hz; a ride that is worth a spring, and a soft one (CP)


@finding("tyre-is-suspension", question=_MOVES)
def tyre_is_suspension(study: Study) -> tuple[Finding, ...]:
    """Do the springs add little to what the tyre gives already?"""
    found: list[tuple[tuple[str, ...], float]] = []
    known: dict[str, tuple[Row, int]] = {}
    for row in rows(study):
        for column, wheel in enumerate(row.wheels):
            gain = 1.0 - float(row.figures.value["ride_frequency"][column]) / _on_tyres(row, column)
            if np.isfinite(gain) and gain < _LEAST_GAIN:
                found.append(((wheel,), gain))
                known[wheel] = (row, column)
    return tuple(_little(study, wheels, gain, *known[wheels[0]]) for wheels, gain in together(found))


def _on_tyres(row: Row, column: int) -> float:
    """Frequency [Hz] of the whole load on this tyre, no spring."""
    return float(natural_frequency(row.sprung.tyre[column], row.sprung.load[column]))


def _little(study: Study, wheels: tuple[str, ...], gain: float, row: Row, column: int) -> Finding:
    ride, plain = float(row.figures.value["ride_frequency"][column]), _on_tyres(row, column)
    wishes = "; ".join(
        _wish(study, wish, row, column) for wish in _WISHES if _wheel_rate(wish, row, column) > 0
    )
    return Finding(
        "tyre-is-suspension",
        "watch",
        _MOVES,
        f"The tyre is the suspension {on_wheels(wheels)}: on its tyre alone it would bounce "
        f"{both(study, plain, 'frequency')}, with the springs {both(study, ride, 'frequency')}, a gain of "
        f"{100 * gain:.0f} %. Not springing it and letting air out is an answer.{' ' + wishes + '.' if wishes else ''}",
        "Frequency of the load on the tyre, against that of the sprung mass on spring and tyre in series. "
        f"{100 * float(row.sprung.unsprung[column]) / float(row.sprung.load[column]):.0f} % of the load is unsprung.",
        COMMON_PRACTICE,
        gain,
        wheels=wheels,
    )


def _wheel_rate(wish: float, row: Row, column: int) -> float:
    """Wheel rate [N/m] that gives `wish` Hz in series with the tyre; negative where the tyre alone is too soft."""
    tyre, sprung = float(row.sprung.tyre[column]), float(row.sprung.sprung[column])
    together_rate = sprung * (2 * math.pi * wish) ** 2
    return together_rate * tyre / (tyre - together_rate) if tyre > together_rate else -1.0


def _wish(study: Study, wish: float, row: Row, column: int) -> str:
    rate, sprung = _wheel_rate(wish, row, column), float(row.sprung.sprung[column])
    share = math.sqrt(rate / float(row.figures.value["heave_rate"][column]))
    ratio = share * float(np.nanmax(np.abs(row.figures.heave)))
    return (
        f"{wish:g} Hz would take {both(study, rate, 'stiffness')} at the wheel, a ratio of {ratio:.2f} with this "
        f"spring, and {length(study, sprung * STANDARD_GRAVITY / rate)} of sag"
    )
