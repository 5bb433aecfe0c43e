"""It is too stiff, or too soft: why? Told from five numbers, without a drawing.

The lever's two arms, the load on the wheel, the spring's rate and how far the wheel moves under that
load. The link is taken to stand square to its arm and the spring to its own, and the load to come on
slowly, from the hanging wheel up.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Literal

from leverwright.ride.quick_lever import SHORTEST_ARM, Bench, Fit, Lever
from leverwright.ride.quick_numbers import QuickError, QuickNumbers, read_quick

__all__ = [
    "AIM",
    "MOST_PRELOAD",
    "SIGMAS",
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
ChangeKind = Literal["swap", "equal", "arm", "spring", "preload"]
_Change = Callable[[Lever], Lever]

USUAL_TRAVEL = (0.025, 0.110)
"""Wheel movement [m] under the standing load that is neither stiff nor soft: a ride frequency of 3.2
to 1.5 Hz on a straight spring without preload (g / movement = angular frequency squared). Common practice."""
AIM = math.sqrt(USUAL_TRAVEL[0] * USUAL_TRAVEL[1])
"""Wheel movement [m] that a new arm or spring is aimed at: the middle of that band by ratio, 2.2 Hz."""
SIGMAS = 2.0  # readings that differ by fewer standard deviations may be the same
EQUAL_ARMS = 0.03  # of 1; arms that differ by less count as equal (CP)
MOST_PRELOAD = 0.040  # m; no collar squashes a hanging coil further: then something sticks (CP)
LONGEST_ARM = 0.250  # m, a lever that fits beside a wheel (CP)


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
    swapped_fits: bool = False  # would the arms the other way round give the movement that was seen?
    blame: Blame = "unknown"
    preload: float | None = None  # squash of the hanging spring that would explain a movement that is less
    working_rate: float | None = None  # rate that would explain the movement without preload
    needed_ratio: float | None = None  # for a movement of AIM with the same spring
    needed_rate: float | None = None  # for a movement of AIM with the same arms
    changes: tuple[QuickChange, ...] = ()


def quick_verdict(numbers: QuickNumbers) -> QuickVerdict:
    """Which of ratio, spring and preload makes it too stiff or too soft, and what each change would do."""
    bench = Bench(numbers.readings, numbers.errors, numbers.link_per_wheel)
    ratio = bench.readings["spring_arm"] / bench.readings["link_arm"] * numbers.link_per_wheel
    shares = (bench.errors[arm] / bench.readings[arm] for arm in ("link_arm", "spring_arm"))
    bare = QuickVerdict(numbers, ratio, ratio * math.hypot(*shares))
    if bench.rate_known or bench.moves:
        return _judged(bare, bench)
    return bare if bench.moves is None else replace(bare, feel="does not move")


def _judged(bare: QuickVerdict, bench: Bench) -> QuickVerdict:
    """The verdict where there is a rate, a movement, or both."""
    plain, moves, known = bench.plain(bench.readings), bench.moves, bench.rate_known
    error = bench.spread(lambda readings: bench.plain(readings).travel)
    fit, swapped_fits = _fit(bench, plain, error)
    working = bench.working(bench.readings, fit)
    feel = _feel(plain.travel if moves is None else moves, fit)
    return replace(
        bare,
        wheel_rate=plain.wheel_rate if known else None,
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


def _fit(bench: Bench, plain: Lever, error: float) -> tuple[Fit, bool]:
    """How the movement agrees with the numbers; and whether it would, with the arms the other way round."""
    moves = bench.moves
    if moves is None or not bench.rate_known:
        return "untold", False
    swapped = plain.swapped.travel
    off = SIGMAS * math.hypot(error, bench.errors["moves"])
    # The other way round the error of the movement is as large by share.
    off_swapped = SIGMAS * math.hypot(error * swapped / plain.travel, bench.errors["moves"])
    swapped_fits = abs(moves - swapped) <= off_swapped
    if abs(moves - plain.travel) <= off:
        return "agrees", swapped_fits
    if moves < plain.travel:
        return "less", swapped_fits
    return ("reversed" if swapped_fits else "more"), swapped_fits


def _feel(travel: float, fit: Fit) -> Feel:
    if travel <= 0 and fit == "less":
        return "does not move"
    if travel < USUAL_TRAVEL[0]:
        return "too stiff"
    return "too soft" if travel > USUAL_TRAVEL[1] else "usual"


def _blame(working: Lever, feel: Feel, fit: Fit, known: bool) -> Blame:
    """The one of the three whose change cures it; `known`: the rate was given."""
    if fit == "reversed":
        return "ratio"
    if fit == "more":
        return "unknown"
    if feel == "usual":
        return "nothing"
    free = replace(working, preload=0.0)
    share = free.spring_arm / free.link_arm
    if feel == "too soft":
        equal = free.with_arms(free.equal_arm, free.equal_arm)
        return "ratio" if share < 1 - EQUAL_ARMS and equal.travel <= USUAL_TRAVEL[1] else "spring"
    if fit == "less" and free.travel >= USUAL_TRAVEL[0]:
        return "preload" if working.preload <= MOST_PRELOAD else "unknown"
    if share > 1 + EQUAL_ARMS and free.swapped.travel >= USUAL_TRAVEL[0]:
        return "ratio"
    return "spring" if known else "unknown"


def _changes(bench: Bench, fit: Fit, feel: Feel) -> tuple[QuickChange, ...]:
    """What could be done, with its outcome: arms first, then spring and preload."""
    if fit == "more":
        return ()  # the numbers contradict one another: nothing to cut by
    working = bench.working(bench.readings, fit)
    wanted: list[tuple[ChangeKind, _Change]] = []
    if abs(working.spring_arm / working.link_arm - 1) > EQUAL_ARMS:
        both = working.equal_arm
        wanted.append(("swap", lambda lever: lever.swapped))
        wanted.append(("equal", lambda lever: lever.with_arms(both, both)))
    if feel != "usual":
        arm = round(working.ratio_for(AIM) / working.link_per_wheel * working.link_arm, 3)
        if SHORTEST_ARM <= arm <= LONGEST_ARM:
            wanted.append(("arm", lambda lever: lever.with_arms(lever.link_arm, arm)))
        rate = working.rate_for(AIM)
        wanted.append(("spring", lambda lever: replace(lever, rate=rate)))
    if fit == "less" and working.preload <= MOST_PRELOAD:
        wanted.append(("preload", lambda lever: replace(lever, preload=0.0)))
    return tuple(_outcome(bench, fit, kind, change) for kind, change in wanted)


def _outcome(bench: Bench, fit: Fit, kind: ChangeKind, change: _Change) -> QuickChange:
    """The change carried out, with the error that the readings leave on it."""
    working = bench.working(bench.readings, fit)
    changed = change(working)
    return QuickChange(
        kind,
        changed.link_arm,
        changed.spring_arm,
        changed.rate if bench.rate_known or kind == "spring" else None,
        working.travel if bench.moves is None else bench.moves,
        changed.travel,
        bench.spread(lambda readings: change(bench.working(readings, fit)).travel),
        _feel(changed.travel, "untold"),
    )
