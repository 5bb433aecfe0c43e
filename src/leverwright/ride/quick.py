"""It is too stiff, or too soft: why? Told from five numbers, without a drawing.

The lever's two arms, the load on the wheel, the spring's rate and how far the wheel moves under that
load. The link is taken to stand square to its arm and the spring to its own, and the load to come on
slowly, from the hanging wheel up. Then, with ratio r (spring movement by wheel movement):

    load * g = rate * r * (r * moves + preload)      (virtual work; while moves = 0 the preload holds it)
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Literal

from leverwright.ride.quick_numbers import QuickError, QuickNumbers, read_quick

__all__ = [
    "AIM",
    "USUAL_TRAVEL",
    "Blame",
    "ChangeKind",
    "Feel",
    "Fit",
    "QuickChange",
    "QuickError",
    "QuickNumbers",
    "QuickVerdict",
    "quick_verdict",
    "read_quick",
]

Feel = Literal["too stiff", "too soft", "usual", "does not move", "untold"]
Blame = Literal["ratio", "spring", "preload", "nothing", "unknown"]
# What the movement says of the other numbers: it is as they say, less, more, what the arms the other
# way round would give, or there is nothing to compare.
Fit = Literal["agrees", "less", "more", "reversed", "untold"]
ChangeKind = Literal["swap", "equal", "arm", "spring", "preload"]

STANDARD_GRAVITY = 9.80665  # m/s2
USUAL_TRAVEL = (0.025, 0.110)
"""Wheel movement [m] under the standing load that is neither stiff nor soft: a ride frequency of 3.2
to 1.5 Hz on a straight spring without preload (g / movement = angular frequency squared). Common practice."""
AIM = math.sqrt(USUAL_TRAVEL[0] * USUAL_TRAVEL[1])
"""Wheel movement [m] that a new arm or spring is aimed at: the middle of that band by ratio, 2.2 Hz."""
SIGMAS = 2.0  # readings that differ by fewer standard deviations may be the same
EQUAL_ARMS = 0.03  # of 1; arms that differ by less count as equal
MOST_PRELOAD = 0.040  # m; no collar squashes a hanging coil further: then something sticks
SHORTEST_ARM, LONGEST_ARM = 0.025, 0.250  # m, a lever that can be cut and fits beside a wheel
ROUND_ARM = 0.005  # m, equal arms are proposed in such steps


@dataclass(frozen=True, slots=True)
class QuickChange:
    """One change, and how far the wheel moves under the same load before and after [m]."""

    kind: ChangeKind
    link_arm: float  # m
    spring_arm: float  # m
    rate: float | None  # N/m; None where nobody knows it
    before: float
    after: float
    after_error: float  # m, one standard deviation
    feel: Feel


@dataclass(frozen=True, slots=True)
class QuickVerdict:
    """What the five numbers say; lengths in m, rates in N/m, errors one standard deviation."""

    numbers: QuickNumbers
    ratio: float  # spring movement by wheel movement, arms as typed
    ratio_error: float
    wheel_rate: float | None = None  # rate * ratio^2
    expected: float | None = None  # wheel movement without preload
    expected_error: float | None = None
    feel: Feel = "untold"
    fit: Fit = "untold"
    swapped_fits = False
    if known and moves is not None:
        off = math.hypot(error, bench.errors["moves"])
        swapped_fits = _swapped_fits(plain, moves, off)
        fit = _fit(plain, moves, off, swapped_fits)
    working = bench.working(bench.readings, fit)
    feel = _feel(plain.travel if moves is None else moves, fit)
    return replace(
        bare,
        wheel_rate=plain.rate * plain.ratio**2 if known else None,
        expected=plain.travel if known else None,
        expected_error=error if known else None,
        feel=feel,
        fit=fit,
        swapped_fits=swapped_fits,
        blame=_blame(working, feel, fit, known),
        preload=working.preload if fit == "less" else None,
        working_rate=plain.weight / (moves * plain.ratio**2) if moves else None,
        needed_ratio=working.ratio_for(AIM),
        needed_rate=working.rate_for(AIM),
        changes=_changes(bench, fit, feel),
    )


def _fit(plain: _Lever, moves: float, error: float, swapped_fits: bool) -> Fit:
    """How the movement [m] that was seen agrees with the one that the numbers give."""
    if abs(moves - plain.travel) <= SIGMAS * error:
        return "agrees"
    if moves < plain.travel:
        return "less"
    return "reversed" if swapped_fits else "more"


def _swapped_fits(plain: _Lever, moves: float, error: float) -> bool:
    """Would the other way round give the movement [m] that was seen? Its error is as large by share."""
    swapped = plain.swapped.travel
    apart = abs(plain.spring_arm / plain.link_arm - 1) > EQUAL_ARMS
    return apart and abs(moves - swapped) <= SIGMAS * error * max(1.0, swapped / plain.travel)


def _feel(travel: float, fit: Fit) -> Feel:
    if travel <= 0 and fit == "less":
        return "does not move"
    if travel < USUAL_TRAVEL[0]:
        return "too stiff"
    return "too soft" if travel > USUAL_TRAVEL[1] else "usual"


def _blame(working: _Lever, feel: Feel, fit: Fit, known: bool) -> Blame:
    """The one of the three whose change cures it; `known`: the rate was given."""
    if fit == "reversed":
        return "ratio"
    if fit == "more":
        return "unknown"
    if feel == "usual":
        return "nothing"
    free = replace(working, preload=0.0)
    if fit == "less" and feel != "too soft" and free.travel >= USUAL_TRAVEL[0]:
        return "preload" if working.preload <= MOST_PRELOAD else "unknown"
    share = free.spring_arm / free.link_arm
    if feel == "too soft":
        cured = share < 1 - EQUAL_ARMS and free.equal.travel <= USUAL_TRAVEL[1]
        return "ratio" if cured else "spring"
    if share > 1 + EQUAL_ARMS and free.swapped.travel >= USUAL_TRAVEL[0]:
        return "ratio"
    return "spring" if known else "unknown"


def _changes(bench: _Bench, fit: Fit, feel: Feel) -> tuple[QuickChange, ...]:
    """What could be done, with its outcome: arms first, then spring and preload."""
    working = bench.working(bench.readings, fit)
    wanted: list[tuple[ChangeKind, Callable[[_Lever], _Lever]]] = []
    if abs(working.spring_arm / working.link_arm - 1) > EQUAL_ARMS:
        wanted += [("swap", lambda lever: lever.swapped)]
        equal = working.equal
        wanted += [
            ("equal", lambda lever: replace(lever, link_arm=equal.link_arm, spring_arm=equal.spring_arm))
        ]
    if feel != "usual":
        arm = round(working.ratio_for(AIM) / working.link_per_wheel * working.link_arm, 3)
        if SHORTEST_ARM <= arm <= LONGEST_ARM:
            wanted += [("arm", lambda lever: replace(lever, spring_arm=arm))]
        rate = working.rate_for(AIM)
        wanted += [("spring", lambda lever: replace(lever, rate=rate))]
    if fit == "less" and working.preload <= MOST_PRELOAD:
        wanted += [("preload", lambda lever: replace(lever, preload=0.0))]
    return tuple(_outcome(bench, fit, kind, change) for kind, change in wanted)


def _outcome(bench: _Bench, fit: Fit, kind: ChangeKind, change: Callable[[_Lever], _Lever]) -> QuickChange:
    """The change carried out, with the error that the readings leave on it."""
    working = bench.working(bench.readings, fit)
    changed = change(working)
    known = "rate" in bench.readings or kind == "spring"
    return QuickChange(
        kind,
        changed.link_arm,
        changed.spring_arm,
        changed.rate if known else None,
        bench.readings.get("moves", working.travel),
        changed.travel,
        bench.spread(lambda readings: change(bench.working(readings, fit)).travel),
        _feel(changed.travel, "untold"),
    )
