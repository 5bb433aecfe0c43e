"""Does it ride at a good rhythm, and clear of what shakes it?"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

from leverwright.findings.finding import COMMON_PRACTICE, Finding, finding
from leverwright.findings.rows import rows, together
from leverwright.findings.words import both, on_wheels
from leverwright.ride import STANDARD_GRAVITY
from leverwright.study import Study

__all__ = ["excitation_near", "frequency_outside"]

_SITS: Final = "Does it sit right?"
_BAND = (1.2, 3.2)  # Hz for light vehicles with a rider, when no goal says (CP)
_SIGMAS = 2.0
_NEAR = (0.8, 1.25)  # ride frequency by excitation (CP)
_AMPLIFIED = 1.5  # times what a rigid wheel would pass on: worth saying outside that band too (CP)


@finding("frequency-outside", question=_SITS)
def frequency_outside(study: Study) -> tuple[Finding, ...]:
    """Is the ride frequency outside the band for the use?"""
    low, high = study.project.goals.frequency or _BAND
    off: list[tuple[tuple[str, ...], float]] = [
        ((wheel,), ride)
        for wheel, ride, spread in _rides(study)
        if ride < low - spread or ride > high + spread
    ]
    return tuple(_outside(study, wheels, ride) for wheels, ride in together(off))


def _rides(study: Study) -> Iterator[tuple[str, float, float]]:
    """Each wheel with its ride frequency [Hz], tyre in series where it is stated, and two standard deviations."""
    for row in rows(study):
        for column, wheel in enumerate(row.wheels):
            for name in ("ride_frequency", "ride_frequency_without_tyre"):
                ride = float(row.figures.value[name][column])
                if math.isfinite(ride):
                    error = 0.0 if row.errors is None else float(row.errors.value[name][column])
                    yield wheel, ride, _SIGMAS * error if math.isfinite(error) else 0.0
                    break


def _outside(study: Study, wheels: tuple[str, ...], ride: float) -> Finding:
    goal = study.project.goals.frequency
    low, high = goal or _BAND
    toward = low if ride < low else high
    share = (toward / ride) ** 2
    change = f"{share:.2f} times the wheel rate" if share < 10 else "a far stiffer spring"
    words = "slow: it wallows and sinks far" if ride < low else "quick: it shakes its rider"
    return Finding(
        "frequency-outside",
        "fix" if goal else "watch",
        _SITS,
        f"It bounces {both(study, ride, 'frequency')} {on_wheels(wheels)}, which is {words}; {low:g} to {high:g} Hz "
        f"{'is your goal' if goal else 'is usual'}. For {toward:g} Hz it needs {change}, by rate or by ratio "
        "squared; preload changes height, not this.",
        "Frequency = root of (heave rate, tyre in series where stated) / sprung mass, / 2 pi.",
        "the file's goal" if goal else COMMON_PRACTICE,
        ride,
        wheels=wheels,
    )


@finding("excitation-near", question=_SITS)
def excitation_near(study: Study) -> tuple[Finding, ...]:
    """Does a stated rhythm of the ground shake it near its own?"""
    band = study.project.goals.excitation
    if band is None:
        return ()
    near: list[tuple[tuple[str, ...], float]] = []
    for wheel, ride, _ in _rides(study):
        shaken = min(max(ride, band[0]), band[1])
        if _NEAR[0] <= ride / shaken <= _NEAR[1] or _passed_on(ride, shaken) >= _AMPLIFIED:
            near.append(((wheel,), ride))
    return tuple(_near(study, wheels, ride, band) for wheels, ride in together(near))


def _passed_on(ride: float, shaken: float) -> float:
    """Movement of the body by that of the ground, no damping; infinite where both are equal."""
    away = abs(1.0 - (shaken / ride) ** 2)
    return 1.0 / away if away > 0 else math.inf


def _near(study: Study, wheels: tuple[str, ...], ride: float, band: tuple[float, float]) -> Finding:
    shaken = min(max(ride, band[0]), band[1])
    times = _passed_on(ride, shaken)
    size = "many times" if times > 5 else f"up to {times:.1f} times"
    calm = band[0] / math.sqrt(2)
    sag = STANDARD_GRAVITY / (2 * math.pi * calm) ** 2
    said = both(study, shaken, "frequency")
    return Finding(
        "excitation-near",
        "fix" if _NEAR[0] <= ride / shaken <= _NEAR[1] else "watch",
        _SITS,
        f"The ground shakes it at {said} and it bounces {both(study, ride, 'frequency')} {on_wheels(wheels)}: it "
        f"passes the jolts on {size}. To be calmer than a plain wheel it would have to bounce below "
        f"{both(study, calm, 'frequency')}, which takes {both(study, sag, 'length')} of sag. Another speed, bigger "
        "soft tyres or a damper may do more than another lever.",
        "Movement passed on = 1 / |1 - (excitation / ride frequency)²|, no damping; below excitation / root 2 it is "
        "less than 1. Within 0.8 to 1.25 of each other they ring.",
        COMMON_PRACTICE,
        ride / shaken,
        wheels=wheels,
    )
