"""Does it sit right for the lightest and the heaviest that ride on it?"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from leverwright.findings.finding import COMMON_PRACTICE, Finding, finding
from leverwright.findings.words import both, length, on_wheels
from leverwright.ride import Answer
from leverwright.study import Study

__all__ = ["load_set_outside", "sag_in_load_sets"]

_SITS: Final = "Does it sit right?"
_LEAST_SAG, _LEAST_BUMP = 0.15, 0.25  # of total travel, lightest and heaviest load (CP)
_BAND = (1.2, 3.2)  # Hz, when no goal says (CP)
_SIGMAS = 2.0
_ALIKE = 0.02  # of a number: wheels that differ by less are told together


@dataclass(frozen=True, slots=True)
class _Extremes:
    """A wheel with the load sets that put the least and the most on it."""

    wheel: str
    lightest: str
    heaviest: str


def _extremes(study: Study) -> Iterator[_Extremes]:
    """Wheels that stand under two load sets or more."""
    for wheel in study.project.wheels:
        loads = {
            name: of.project.wheels[wheel].load
            for name, of in study.sets.items()
            if of.project.wheels[wheel].load is not None
        }
        if len(loads) > 1:
            order = sorted(loads, key=lambda name, loads=loads: loads[name].value)  # type: ignore[misc]
            yield _Extremes(wheel, order[0], order[-1])


def _answer(study: Study, load_set: str, wheel: str, name: str) -> Answer:
    return study.under(load_set).answers[wheel].of[name]


@finding("sag-outside", question=_SITS)
def sag_in_load_sets(study: Study) -> tuple[Finding, ...]:
    """Does the lightest load still leave droop, and the heaviest bump?"""
    if study.quick:
        return ()
    goal = study.project.goals.sag
    low = _LEAST_SAG if goal is None else min(_LEAST_SAG, goal[0])
    left = _LEAST_BUMP if goal is None else min(_LEAST_BUMP, 1.0 - goal[1])
    found: list[_Off] = []
    for ends in _extremes(study):
        for load_set, light in ((ends.lightest, True), (ends.heaviest, False)):
            if load_set == study.load_set:
                continue  # the usual load is judged by the band itself
            share = _answer(study, load_set, ends.wheel, "sag_percent")
            if share.value is None:
                continue
            spread = _SIGMAS * (share.error or 0.0)
            wrong = share.value < low - spread if light else 1.0 - share.value < left - spread
            if wrong:
                _add(found, _Off(load_set, light, [ends.wheel], share.value))
    return tuple(_sag(study, off, low if off.light else left) for off in found)


@dataclass(frozen=True, slots=True)
class _Off:
    """Wheels that sag too little under the lightest load, or too far under the heaviest, alike."""

    load_set: str
    light: bool
    wheels: list[str]
    share: float


def _add(found: list[_Off], off: _Off) -> None:
    for known in found:
        size = max(abs(known.share), abs(off.share), 1e-9)
        if (known.load_set, known.light) == (off.load_set, off.light) and abs(
            known.share - off.share
        ) <= _ALIKE * size:
            known.wheels.extend(off.wheels)
            return
    found.append(off)


def _sag(study: Study, off: _Off, limit: float) -> Finding:
    load_set, wheels, share = off.load_set, off.wheels, off.share
    answers = study.under(load_set).answers[wheels[0]].of
    if off.light:
        sag = answers["sag"]
        said = (
            f"With '{load_set}', the lightest load {on_wheels(wheels)}, it sags "
            f"{length(study, sag.value or 0.0, sag.error)} or {both(study, share, 'percent')} of its travel; "
            f"{100 * limit:.0f} % at least keeps the wheel on the ground in a hole. Less preload, or accept it where "
            "nobody rides in it then."
        )
    else:
        bump = answers["bump_left"]
        said = (
            f"With '{load_set}', the heaviest load {on_wheels(wheels)}, {length(study, max(0.0, bump.value or 0.0))} "
            f"or {both(study, 1.0 - share, 'percent')} of its travel is left for bumps; {100 * limit:.0f} % at least "
            "keeps it off its stops. More preload for this load, a stiffer spring, or a bump stop that comes in early."
        )
    return Finding(
        "sag-outside",
        "fix",
        _SITS,
        said,
        "Sag by equilibrium under that load set, by the whole travel. Limits: 15 % sag for the lightest, 25 % bump for "
        "the heaviest.",
        "the file's goal" if study.project.goals.sag else COMMON_PRACTICE,
        share,
        wheels=tuple(wheels),
    )


@finding("load-set-outside", question=_SITS)
def load_set_outside(study: Study) -> tuple[Finding, ...]:
    """Is the ride out of its band with some load aboard, because loads are too far apart for one spring?"""
    if study.quick:
        return ()
    told: list[tuple[list[str], _Extremes, tuple[float, float]]] = []
    for ends in _extremes(study):
        pair = _rides(study, ends)
        if pair is None or _inside(study, pair):
            continue
        for wheels, known, rides in told:
            same = (known.lightest, known.heaviest) == (ends.lightest, ends.heaviest)
            if same and all(abs(a - b) <= _ALIKE * b for a, b in zip(pair, rides, strict=True)):
                wheels.append(ends.wheel)
                break
        else:
            told.append(([ends.wheel], ends, pair))
    return tuple(_apart(study, wheels, ends, rides) for wheels, ends, rides in told)


def _rides(study: Study, ends: _Extremes) -> tuple[float, float] | None:
    """Ride frequency [Hz], tyre in series where stated, under the lightest and the heaviest load."""
    found = []
    for load_set in (ends.lightest, ends.heaviest):
        names = ("ride_frequency", "ride_frequency_without_tyre")
        values = [_answer(study, load_set, ends.wheel, name).value for name in names]
        value = next((each for each in values if each is not None), None)
        if value is None:
            return None
        found.append(value)
    return found[0], found[1]


def _inside(study: Study, rides: tuple[float, float]) -> bool:
    """Both in the band; or apart by so little that another spring would please both: then that is said elsewhere."""
    low, high = study.project.goals.frequency or _BAND
    quick, slow = rides
    return (low <= slow <= high and low <= quick <= high) or (quick < low or slow > high)


def _sprung(study: Study, load_set: str, wheel: str) -> float:
    there = study.under(load_set).project.wheels[wheel]
    unsprung = 0.0 if there.unsprung is None else there.unsprung.value
    return (math.nan if there.load is None else there.load.value) - unsprung


def _apart(study: Study, wheels: list[str], ends: _Extremes, rides: tuple[float, float]) -> Finding:
    light, heavy = (_sprung(study, name, ends.wheel) for name in (ends.lightest, ends.heaviest))
    ratio = heavy / light
    low, high = study.project.goals.frequency or _BAND
    quick, slow = (both(study, ride, "frequency") for ride in rides)
    said = (
        f"The sprung load goes from {both(study, light, 'mass')} with '{ends.lightest}' to "
        f"{both(study, heavy, 'mass')} with '{ends.heaviest}' {on_wheels(wheels)}: {ratio:.1f} to 1. With any straight "
        f"spring the light ride is {math.sqrt(ratio):.1f} times quicker than the heavy one, here {quick} and {slow}; "
        f"{low:g} to {high:g} Hz is "
        f"{'your goal' if study.project.goals.frequency else 'usual'}. Pick which one to please, turn the collar for "
        "each load (a card for each load set says how far it sinks), or let the ratio rise into bump."
    )
    return Finding(
        "load-set-outside",
        "watch",
        _SITS,
        said,
        "Frequency goes with the root of rate by sprung mass: one rate under two masses gives the root of their ratio.",
        "the file's goal" if study.project.goals.frequency else COMMON_PRACTICE,
        ratio,
        wheels=tuple(wheels),
    )
