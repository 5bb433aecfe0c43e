"""Does it tip over before it slides, in any load set?"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING, Final, Literal

from leverwright.findings.finding import COMMON_PRACTICE, Finding, finding
from leverwright.findings.words import both, length
from leverwright.quantity import say, say_between
from leverwright.ride import STANDARD_GRAVITY
from leverwright.study import Study

# What tips is reckoned with for those alone who say what is aboard.
if TYPE_CHECKING:
    from leverwright.assemble.stance import Tipping

__all__ = ["tips_first"]

_DRIVE: Final = "Is it safe to drive and to touch?"
_GRIP = 0.8  # of gravity that tyres hold sideways on dry hard ground (CP); where it tips later than that, it slides
_WANTED = 0.40  # of gravity that a light vehicle should stand before it tips (CP)
_BEND = 6.0  # m, a tight bend of a yard or a path
_CARE = "Drive at half of it at most, and ask a qualified person; no margin here is a permission."


@finding("tips-first", question=_DRIVE)
def tips_first(study: Study) -> tuple[Finding, ...]:
    """At what sideways pull do the inner wheels lift, against what the ground can hold?"""
    if study.quick:
        return ()
    found = list(_limits(study))
    over = [
        _tipped(name, of)
        for name, of in _sets(study)
        if of.chassis is not None and (of.chassis.because or "").startswith("it tips over")
    ]
    if found:
        name, tipping = min(found, key=lambda row: row[1].ends[0])
        if tipping.ends[0] < _GRIP:
            over.append(_tips(study, found, (name, tipping), not over))
    return tuple(over)


def _sets(study: Study) -> Iterator[tuple[str, Study]]:
    if study.sets:
        yield from study.sets.items()
    else:
        yield "", study


def _limits(study: Study) -> Iterator[tuple[str, Tipping]]:
    for name, of in _sets(study):
        if of.loading is not None and not isinstance(of.loading.tipping, str):
            yield name, of.loading.tipping


def _tipped(name: str, of: Study) -> Finding:
    assert of.chassis is not None
    said = f"With '{name}' aboard {of.chassis.because}."
    return Finding("tips-first", "stop", _DRIVE, said, _WHY, "statics", 0.0)


def _tips(
    study: Study, found: list[tuple[str, Tipping]], worst: tuple[str, Tipping], all_stand: bool
) -> Finding:
    name, tipping = worst
    severity: Literal["fix", "watch"] = "fix" if tipping.ends[0] < _WANTED else "watch"
    every = all_stand and all(each.ends[0] < _GRIP for _, each in found) and len(found) > 1
    aboard = f" with '{name}' aboard" if name else ""
    others = "; ".join(f"{_share(each.ends)} g with '{n}'" for n, each in found if n != name)
    said = (
        f"It tips over before it slides{', in every load set' if every else ''}: at {_share(tipping.ends)} g sideways"
        f"{aboard}, that is {_speed(study, tipping)} in a bend of {_BEND:g} m radius, or a side slope of "
        f"{_slope(tipping)}{f' ({others})' if others else ''}. Ground that holds "
        f"{_GRIP:g} g is assumed. {_with_brakes(tipping)}{_with_lean(tipping)}{_cure(study, tipping)}"
        f"{_half(tipping)} {_CARE}"
    )
    return Finding("tips-first", severity, _DRIVE, said, _WHY, COMMON_PRACTICE, tipping.least)


def _share(ends: tuple[float, float]) -> str:
    """A share of gravity, or where it lies."""
    return f"{ends[0]:.2f}" if ends[0] == ends[1] else say_between(*ends, "ratio")


def _slope(tipping: Tipping) -> str:
    """The side slope, in whole degrees to the safe side where no range is known."""
    low, high = tipping.slope_ends
    return f"{math.floor(math.degrees(low))} deg" if low == high else say_between(low, high, "angle")


def _half(tipping: Tipping) -> str:
    """Half of the slope that it surely stands: the low end where a range is known."""
    low, high = tipping.slope_ends
    what = "Half of it" if low == high else "Half of the lower end"
    return f"{what} is {math.floor(0.5 * math.degrees(low))} deg of slope."


def _speed(study: Study, tipping: Tipping) -> str:
    from leverwright.ride.tipping import speed_in_bend

    low, high = (speed_in_bend(end, _BEND, STANDARD_GRAVITY) for end in tipping.ends)
    if study.units == "metric":
        fast = 3.6 * low, 3.6 * high
        return f"{fast[0]:.1f} km/h" if low == high else f"between {fast[0]:.1f} and {fast[1]:.1f} km/h"
    return say(low, "speed", system="inch") if low == high else say_between(low, high, "speed", system="inch")


def _with_brakes(tipping: Tipping) -> str:
    """What braking in the bend does: on three wheels it matters."""
    from leverwright.assemble.stance import BRAKING

    if abs(tipping.braking - tipping.rigid) < 0.005:
        return ""
    way = "raises" if tipping.braking > tipping.rigid else "lowers"
    return (
        f"Braking at {BRAKING:g} g in the bend {way} it from {tipping.rigid:.2f} to {tipping.braking:.2f} g, and it "
        f"goes over its front wheels at {tipping.over_front:.2f} g. "
    )


def _with_lean(tipping: Tipping) -> str:
    if tipping.lean is None:
        return f"Springs and tyres lower it further; by how much cannot be told: {tipping.no_lean}. "
    if tipping.lean.per_lateral < 1e-4:
        return "Springs would not cure this; leaning would make it worse. "
    from leverwright.assemble.stance import limit_ends

    return (
        f"It leans by {math.degrees(tipping.lean.per_lateral):.1f} deg for each g, which takes it from "
        f"{_share(limit_ends(tipping.rigid, tipping.error))} to {_share(tipping.ends)} g. "
    )


def _cure(study: Study, tipping: Tipping) -> str:
    """The track or the height that would stand what is wanted."""
    from leverwright.ride.tipping import track_factor

    if tipping.least >= _WANTED:
        return ""
    stance = tipping.stance
    wide = float(stance.places[:, 1].max() - stance.places[:, 1].min())
    share = tipping.least / tipping.rigid if tipping.rigid > 0 else 1.0
    factor = track_factor(stance, _WANTED / share) if share > 0 else math.inf
    low = both(study, stance.height * tipping.least / _WANTED, "length")
    track = (
        "no track is wide enough"
        if math.isinf(factor)
        else f"the track would have to be {length(study, factor * wide)}"
    )
    return (
        f"For {_WANTED:.2f} g {track} instead of {length(study, wide)}, or the centre of gravity {low} high instead of "
        f"{length(study, stance.height)}; nearer to the wider axle helps too: move the seat before the wheels. "
    )


_WHY = (
    "Static: half the width at the centre of gravity / its height, on three wheels to the line between two wheels; "
    "slope = arc tangent; leaning by roll rates. Quick steering and bumps tip it sooner."
)
