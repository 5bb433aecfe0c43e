"""The lever that a shock wants: motion ratio, travel and rocker arms from its stroke, rate and load.

A shock in hand fixes the layout. Its stroke and rate are given, so is the load; the wheel stands
where it should (sag) at one motion ratio only, and that ratio gives the wheel travel.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from leverwright.project.archetypes.measurement import Measurement, Measurements, refuse
from leverwright.quantity import say, to_surface

__all__ = ["PRELOAD", "WHEEL_AND_SHOCK", "Lever", "Room", "lever_for", "mm", "rocker_arms"]

STANDARD_GRAVITY = 9.80665  # m/s2
PRELOAD = 0.002  # m, just enough to keep a coil on its seats
SAG_SHARE = 0.35  # of the travel, from full droop to standing; common practice 30 to 40 %
LEAST_TRAVEL = 0.040  # m; less is hardly worth a rocker
LEAST_RATIO = 0.3  # 1, spring per wheel; below it friction in the shock holds the wheel still
MOST_RATIO = 1.5  # 1; above it the rocker's spring arm outgrows the space beside a small wheel
# N/m at the wheel: a 75 kg person over two wheels moves them 12 mm, clear of the 10 mm that counts
# as too stiff (common practice).
MOST_WHEEL_RATE = 30_000.0
LEAST_ROCKER_ARM = 0.045  # m; half a millimetre of hole error is then 1.1 % of ratio
SHORTEST_STROKE_SHARE = 0.06  # of the open length
LONGEST_STROKE_SHARE = 0.42  # of the open length: a shock cannot telescope further

WHEEL_AND_SHOCK: tuple[Measurement, ...] = (
    Measurement(
        "wheel-radius",
        "wheel radius",
        "length",
        "205 mm",
        "From the floor to the middle of the axle, tyre at pressure, vehicle loaded.",
        0.06,
        0.6,
    ),
    Measurement(
        "load",
        "load on one wheel",
        "mass",
        "62 kg",
        "What a scale under this wheel reads with the usual rider seated and all wheels level.",
        5.0,
        600.0,
    ),
    Measurement(
        "unsprung",
        "unsprung weight of that wheel",
        "mass",
        "8 kg",
        "Wheel, brake and half of the arm: what moves with the wheel and rests on no spring.",
        0.2,
        150.0,
    ),
    Measurement(
        "shock-open",
        "shock length, fully open",
        "length",
        "318 mm",
        "Eye centre to eye centre, shock hanging by one eye.",
        0.09,
        0.8,
    ),
    Measurement(
        "shock-closed",
        "shock length, fully closed",
        "length",
        "246 mm",
        "Eye centre to eye centre, pushed in until it stops. A loaded coil that slips can maim: have it "
        "taken off, with a spring compressor, by a qualified person, and follow the local rules.",
        0.06,
        0.75,
    ),
    Measurement(
        "rate",
        "spring rate",
        "stiffness",
        "22 N/mm",
        "Force for each millimetre, from a scale under the squashed shock. A loaded coil that slips can maim: "
        "have a qualified person squash it, guided and behind a guard, and follow the local rules.",
        0.5e3,
        500e3,
    ),
)
"""The six questions that every archetype with one shock a wheel asks first."""


@dataclass(frozen=True, slots=True)
class Room:
    """What a kind of vehicle leaves for the lever."""

    travel: float  # m, most wheel travel from full droop to full bump
    ratio: float = MOST_RATIO  # most spring movement per wheel movement


@dataclass(frozen=True, slots=True)
class Lever:
    """What the shock wants; lengths in m, force in N."""

    ratio: float  # 1, spring per wheel
    travel: float  # m, wheel, full droop to full bump
    ride_length: float  # m, shock eye to eye as the wheel stands
    stop_touches: float  # m before closed, where the bump stop begins

    @property
    def bump(self) -> float:
        """Wheel travel [m] left above the standing position."""
        return self.travel * (1 - SAG_SHARE)

    @property
    def droop(self) -> float:
        """Wheel travel [m] below the standing position."""
        return self.travel * SAG_SHARE

    def frequency(self, measured: Measurements) -> float:
        """Ride frequency [Hz] on the springs alone, the ratio taken as constant: sqrt(rate ratio^2 / mass) / 2 pi."""
        mass = measured["load"] - measured["unsprung"]
        return math.sqrt(measured["rate"] * self.ratio**2 / mass) / (2 * math.pi)


def lever_for(measured: Measurements, room: Room) -> Lever:
    """The lever for the shock and load in `measured`; ProjectError where no lever would do.

    Standing: rate * (SAG_SHARE * stroke + preload) * ratio = sprung weight; travel = stroke / ratio.
    """
    stroke = _stroke(measured)
    weight = _sprung_weight(measured)
    squash = SAG_SHARE * stroke + PRELOAD
    shortest, longest = _travels_that_work(measured, weight, stroke, room)
    travel = stroke * measured["rate"] * squash / weight
    if not shortest <= travel <= longest:
        # Said to three figures: half a percent inside, so that what is said is also accepted.
        least = 1.005 * shortest * weight / (stroke * squash)
        most = 0.995 * longest * weight / (stroke * squash)
        raise refuse(
            measured.archetype,
            "rate",
            f"{say(measured['rate'], 'stiffness')}, which would have to move the wheel by {say(travel, 'length')} "
            f"with a ratio of {stroke / travel:.2f}",
            f"{say(least, 'stiffness')} to {say(most, 'stiffness')} for this load, stroke and arm",
            "take a softer spring" if travel > longest else "take a stiffer spring",
        )
    ride_length = measured["shock-open"] - SAG_SHARE * stroke
    return Lever(stroke / travel, travel, ride_length, stop_touches=0.2 * stroke)


def rocker_arms(lever: Lever, link_ratio: float, swing: float) -> tuple[float, float]:
    """Link arm and spring arm [m] of a rocker whose link moves `link_ratio` times the wheel.

    swing  rad, most turn of the rocker from ride to full bump, taken small: movement / arm
    """
    spring_per_link = lever.ratio / link_ratio
    link_arm = max(LEAST_ROCKER_ARM, LEAST_ROCKER_ARM / spring_per_link, lever.bump * link_ratio / swing)
    link_arm = round(link_arm, 3)
    return link_arm, round(link_arm * spring_per_link, 3)


def mm(length: float) -> str:
    """A length [m] as the file's number, to 1 mm."""
    return str(round(to_surface(length, "length")))


def _stroke(measured: Measurements) -> float:
    """Shock stroke [m]; refused where open and closed cannot both be right."""
    longest, shortest = measured["shock-open"], measured["shock-closed"]
    stroke = longest - shortest
    least, most = SHORTEST_STROKE_SHARE * longest, LONGEST_STROKE_SHARE * longest
    if not least <= stroke <= most:
        raise refuse(
            measured.archetype,
            "shock-closed",
            f"{say(shortest, 'length')} closed with {say(longest, 'length')} open",
            f"closed from {say(longest - most, 'length')} to {say(longest - least, 'length')}",
            "measure both lengths from eye centre to eye centre",
        )
    return stroke


def _travels_that_work(
    measured: Measurements, weight: float, stroke: float, room: Room
) -> tuple[float, float]:
    """Least and most wheel travel [m] for this weight [N], stroke [m] and room; refused where none is."""
    squash = SAG_SHARE * stroke + PRELOAD
    softest = weight * stroke / (squash * MOST_WHEEL_RATE)
    shortest = max(LEAST_TRAVEL, stroke / room.ratio, softest)
    longest = min(room.travel, stroke / LEAST_RATIO)
    if softest >= longest:
        most = 0.995 * longest * squash * MOST_WHEEL_RATE / stroke / STANDARD_GRAVITY
        raise refuse(
            measured.archetype,
            "load",
            f"{say(weight / STANDARD_GRAVITY, 'mass')} on the spring of one wheel that may travel "
            f"{say(longest, 'length')}",
            f"at most {say(most, 'mass')} on the spring with these measurements",
            "carry less, or take a longer arm and a shock of more stroke",
        )
    if shortest >= longest:
        raise refuse(
            measured.archetype,
            "shock-open",
            f"{say(stroke, 'length')} of stroke where the wheel has room for {say(room.travel, 'length')} of travel",
            f"a stroke from {say(LEAST_RATIO * LEAST_TRAVEL, 'length')} to {say(room.ratio * room.travel, 'length')}",
            "take another shock or give the wheel more room",
        )
    return shortest, longest


def _sprung_weight(measured: Measurements) -> float:
    """Weight [N] that rests on the spring of one wheel."""
    load, unsprung = measured["load"], measured["unsprung"]
    if unsprung > 0.6 * load:
        raise refuse(
            measured.archetype,
            "unsprung",
            f"{say(unsprung, 'mass')} unsprung of {say(load, 'mass')} on the wheel",
            f"at most {say(0.6 * load, 'mass')}",
            "weigh the wheel with half of its arm, or the load with the rider seated",
        )
    return (load - unsprung) * STANDARD_GRAVITY
