"""Shocks that one owns: the ratio each wants, where it would stand, which two match and how a collar trims them. SI.

The ratio is taken as constant over the travel, as it is before a lever is drawn.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from leverwright.ride.frequency import STANDARD_GRAVITY, natural_frequency
from leverwright.springs import ShockLaw, law_push, law_rate

__all__ = [
    "BAND",
    "RATES_FIX",
    "RATES_STOP",
    "Owned",
    "Pair",
    "Sought",
    "Trim",
    "Want",
    "pair_of",
    "sought",
    "stands",
    "want_of",
]

BAND = (0.30, 0.40)  # share of the stroke, from open, at which the spring should carry the standing load (CP)
RATES_FIX, RATES_STOP = 0.05, 0.10  # share that the rates of a pair may differ by (CP)
_FORCES = 0.05  # share that their forces at the standing length may differ by before they want trimming (CP)
_SURE = 2.0  # standard deviations; rates that differ by less are taken as one
_SLACK = 0.0005  # m; less is taken up by a rubber seat
_GRID = 2001  # places along the stroke between which the load is looked for


@dataclass(frozen=True, slots=True)
class Owned:
    """One shock as far as it is known.

    law         its force over its length
    rate_error  N/m, one standard deviation; None where not known
    gas         N; None where it is not told apart from preload
    bind_room   m from fully closed to where the coils touch; None where not known
    """

    name: str
    law: ShockLaw
    rate_error: float | None = None
    gas: float | None = None
    bind_room: float | None = None

    @property
    def stroke(self) -> float:
        """From fully open to fully closed [m]."""
        return self.law.length_open - self.law.length_closed

    def push(self, squash: float) -> float:
        """Force [N] at a squash [m] from fully open; NaN where it was not measured."""
        return float(law_push(self.law, np.array([self.law.length_open - squash]))[0])

    @property
    def rate(self) -> float:
        """Rate [N/m] over the first third of the stroke, where it stands."""
        far = self.stroke / 3.0
        return (self.push(far) - self.push(0.0)) / far if len(self.law.rows) else self.law.rate


@dataclass(frozen=True, slots=True)
class Want:
    """The motion ratio that a shock wants under a load, and what it gives.

    ratio         (least, best, most) at which it stands at 40, 35 and 30 % of its stroke
    wheel_travel  m, whole, at the best ratio; sag m there
    frequency     Hz without the tyre, at the best ratio
    """

    ratio: tuple[float, float, float]
    wheel_travel: float
    sag: float
    frequency: float


@dataclass(frozen=True, slots=True)
class Trim:
    """Tighten one coil so that both start alike.

    by           m of collar on the shock `tighten`
    loosen_most  m that the other's collar could be turned back before its coil goes loose; None where not known
    has_room     whether the tightened coil still has that much to coil bind; None where not known
    """

    tighten: str
    other: str
    by: float
    loosen_most: float | None
    has_room: bool | None

    @property
    def may_loosen(self) -> bool:
        """Whether turning back the other instead would leave its coil held."""
        return self.loosen_most is not None and self.loosen_most >= self.by + _SLACK


@dataclass(frozen=True, slots=True)
class Pair:
    """Two shocks for the two sides of one axle.

    rate_share   difference of rates by their mean, with one standard deviation (None where not known)
    force_share  difference of forces at the standing squash of the first load, by their mean
    sag          for each load m of wheel from fully open, first and second shock; NaN where one does not carry it
    trimmed      the same once trimmed; () without a trim
    verdict      "match", "trim", "poor" (over 5 %) or "no" (over 10 %)
    """

    names: tuple[str, str]
    rate_share: float
    rate_share_error: float | None
    force_share: float
    sag: tuple[tuple[float, float], ...]
    trim: Trim | None
    trimmed: tuple[tuple[float, float], ...]
    verdict: Literal["match", "trim", "poor", "no"]


@dataclass(frozen=True, slots=True)
class Sought:
    """What another shock must have: stroke [m] at least, and rate × stroke [N] between two values."""

    stroke: float
    squash_force: tuple[float, float]


def stands(owned: Owned, load: float, ratio: float) -> float:
    """Squash [m] from fully open at which the shock carries `load` [kg] at that ratio.

    0 where it stands on preload; NaN where it is squashed whole, or was not measured so far.
    """
    wanted = load * STANDARD_GRAVITY / ratio
    squash = np.linspace(0.0, owned.stroke, _GRID)
    push = law_push(owned.law, owned.law.length_open - squash)
    above = np.flatnonzero(push >= wanted)  # NaN is not
    if not len(above):
        return math.nan
    k = int(above[0])
    if k == 0:
        return 0.0
    share = (wanted - push[k - 1]) / (push[k] - push[k - 1])
    return float(squash[k - 1] + share * (squash[k] - squash[k - 1]))


def want_of(owned: Owned, load: float, band: tuple[float, float] = BAND) -> Want | None:
    """The ratio at which `load` [kg] squashes the shock into the band of its stroke; None where not measured there.

    ratio = load × g / force there: the product of stroke and rate decides, not the rate alone.
    """
    shares = (band[1], 0.5 * (band[0] + band[1]), band[0])
    forces = [owned.push(share * owned.stroke) for share in shares]
    if not all(math.isfinite(force) and force > 0.0 for force in forces):
        return None
    least, best, most = (load * STANDARD_GRAVITY / force for force in forces)
    rate = float(law_rate(owned.law, np.array([owned.law.length_open - shares[1] * owned.stroke]))[0])
    return Want(
        (least, best, most),
        owned.stroke / best,
        shares[1] * owned.stroke / best,
        natural_frequency(rate * best**2, load),
    )


def sought(load: float, ratio: float, wheel_travel: float, band: tuple[float, float] = BAND) -> Sought:
    """What to look for when the lever stays: stroke for the travel, stroke × rate for the load, without preload."""
    force = load * STANDARD_GRAVITY / ratio
    return Sought(wheel_travel * ratio, (force / band[1], force / band[0]))


def pair_of(first: Owned, second: Owned, loads: Sequence[float], ratio: float) -> Pair:
    """Two shocks compared under loads [kg] at one wheel each, the usual one first; fully open without any."""
    rates = first.rate, second.rate
    mean = 0.5 * sum(rates)
    share = abs(rates[0] - rates[1]) / mean
    errors = [each.rate_error for each in (first, second) if each.rate_error is not None]
    known = math.hypot(*errors) / mean if len(errors) == len(rates) else None
    sag = tuple(_sags(first, second, load, ratio) for load in loads)
    at = min((s * ratio for s in (sag[0] if sag else ()) if math.isfinite(s)), default=0.0)
    forces = first.push(at), second.push(at)
    force_share = abs(forces[0] - forces[1]) / max(0.5 * sum(forces), 1e-9)
    alike = share <= RATES_FIX
    trim = _trim(first, second, at, sure=known is None or share > _SURE * known) if alike else None
    if share > RATES_STOP:
        verdict: Literal["match", "trim", "poor", "no"] = "no"
    elif not alike:
        verdict = "poor"
    else:
        verdict = "trim" if force_share > _FORCES and trim is not None else "match"
    trim = trim if verdict == "trim" else None
    trimmed: tuple[tuple[float, float], ...] = ()
    if trim is not None:
        pair = [_tightened(each, trim) for each in (first, second)]
        trimmed = tuple(_sags(pair[0], pair[1], load, ratio) for load in loads)
    return Pair((first.name, second.name), share, known, force_share, sag, trim, trimmed, verdict)


def _sags(first: Owned, second: Owned, load: float, ratio: float) -> tuple[float, float]:
    return stands(first, load, ratio) / ratio, stands(second, load, ratio) / ratio


def _trim(first: Owned, second: Owned, standing: float, *, sure: bool) -> Trim | None:
    """Tighten the weaker until both push alike.

    At fully open where their rates are one as far as is known, else at the standing squash. Not the other way round
    beyond what the other's coil carries of its own: gas cannot be turned back.
    """
    at = standing if sure else 0.0
    weak, strong = sorted((first, second), key=lambda owned: owned.push(at))
    if len(weak.law.rows) or not math.isfinite(strong.push(at) - weak.push(at)):
        return None
    by = (strong.push(at) - weak.push(at)) / weak.law.rate
    carried = None if strong.gas is None or len(strong.law.rows) else max(0.0, strong.law.preload)
    return Trim(
        weak.name,
        strong.name,
        by,
        carried,
        None if weak.bind_room is None else weak.bind_room >= by,
    )


def _tightened(owned: Owned, trim: Trim) -> Owned:
    if owned.name != trim.tighten:
        return owned
    law = owned.law
    tightened = ShockLaw(
        law.length_open,
        law.length_closed,
        law.rate,
        law.preload + trim.by,
        law.gas,
        law.friction,
        law.rows,
        law.stop,
    )
    return Owned(owned.name, tightened, owned.rate_error, owned.gas, owned.bind_room)
