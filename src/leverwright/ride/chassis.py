"""How the chassis stands under a load: heave, pitch, roll, and what each wheel and a coupling carry.

Every wheel touches the ground straight below its centre and rolls or slides there until nothing pushes sideways any
more (rocked to and fro, settled). Unknown are the ground's loads and the ground's plane in chassis axes; known are
three balances (of weight and of two moments, with everything where it has turned to) and that each wheel's lowest
point lies in the plane. Loads only differ from those of a rigid table by what springs and tyres decide.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from leverwright.geometry import Array, Mask
from leverwright.ride.chassis_balance import Burden, Hitch, Part, Table, There, along_ground
from leverwright.ride.frequency import STANDARD_GRAVITY

__all__ = [
    "MOST_LEAN",
    "Burden",
    "ChassisStanding",
    "Hitch",
    "Part",
    "chassis_at",
    "level_loads",
    "stand_chassis",
]

MOST_LEAN = math.radians(15.0)  # beyond, wheels carry sideways and nothing here holds any more
_STEPS = 60  # Newton steps; six are usual, a wheel on its preload takes some more
_SETTLED = 1e-10  # m, or of the whole load: rounding of the standing positions is 1e-12
_SHORTENED = 8  # halvings of a step that would not come nearer
_EVEN = 1e-12  # of the largest slope: below, nothing gives there
_LIFTED = 1e-9  # of the whole load: a wheel that carries less has left the ground


@dataclass(frozen=True, slots=True)
class ChassisStanding:
    """Where the chassis stands; `because` says why it cannot be told, all else is then NaN.

    names       wheels, in the order of W; loads (W,) kg, coupling kg (NaN without one)
    heave       m, rise of the chassis over the middle of the wheels from the set-up pose
    pitch, roll rad, ISO 8855: + nose down, + left side up
    covariance  (W, W) or with a coupling (W + 1, W + 1) kg², from the ± of masses and their places
    up          (3,) direction square to the ground, chassis axes; ground: a place x lies up · x - ground over it
    centre      (3,) m centre of gravity of everything, wheels where they are now
    lifted      wheels that have left the ground
    """

    names: tuple[str, ...]
    loads: Array
    coupling: float
    heave: float
    pitch: float
    roll: float
    covariance: Array
    up: Array
    ground: float
    centre: Array
    contacts: Array  # (W, 3) m, lowest point of each wheel, chassis axes
    heights: Array  # (W,) m, travel of each wheel
    lifted: tuple[str, ...] = ()
    because: str | None = None

    def over_ground(self, place: Array) -> float:
        """Height [m] of a place of the chassis (3,) over the ground."""
        return float(self.up @ place) - self.ground


def stand_chassis(parts: Sequence[Part], burden: Burden, hitch: Hitch | None = None) -> ChassisStanding:
    """The equilibrium of the whole vehicle under `burden`."""
    table = Table(tuple(parts), burden, hitch)
    trouble = table.trouble()
    if trouble is not None:
        return _nowhere(table, trouble)
    over = () if hitch is not None else table.tipped()
    if over:
        return _nowhere(table, _tipped(over))
    grounded = np.ones(len(table.names), dtype=bool)
    for _ in range(2 * len(table.names) + 1):
        found = _settle(table, grounded)
        if isinstance(found, str):
            return _nowhere(table, found)
        at, there = found
        lift = grounded & (at[: len(grounded)] < -_LIFTED * table.weight)
        back = ~grounded & (there.gap < -_SETTLED)
        if not (lift | back).any():
            return _told(table, at, there, grounded)
        grounded = (grounded & ~lift) | back
        if table.rank(grounded) < len(table.axes) + 1:
            names = [n for n, on in zip(table.names, grounded, strict=True) if not on]
            return _nowhere(table, _tipped(names))
    return _nowhere(table, "its wheels find no ground that all of them can stand on")


def chassis_at(parts: Sequence[Part], loads: Array, hitch: Hitch | None = None) -> ChassisStanding:
    """The chassis over wheel loads (W,) kg that a scale read: the plane that fits the wheels' lowest points best."""
    table = Table(tuple(parts), Burden(np.zeros(1), np.zeros((1, 3)), np.zeros(1), np.zeros((1, 3))), hitch)
    trouble = table.trouble()
    if trouble is not None:
        return _nowhere(table, trouble)
    at = np.append(loads * STANDARD_GRAVITY, np.full(table.count - len(loads), np.nan))
    at = np.append(at, np.zeros(3))
    columns = [table.count + k for k in (*table.axes, 2)]
    for _ in range(_STEPS):
        there = table.at(at)
        if isinstance(there, str):
            return _nowhere(table, there)
        low = there.contact
        if hitch is not None:
            low = np.vstack([low, hitch.at - hitch.height * there.up])
        rows = np.column_stack([low[:, table.axes], np.ones(len(low))])
        before = at[columns]
        at[columns] = np.linalg.lstsq(rows, low[:, 2], rcond=None)[0]
        if np.abs(at[columns] - before).max() < _SETTLED:
            break
    return _told(table, at, table.at(at), np.ones(len(loads), dtype=bool))


def level_loads(
    parts: Sequence[Part], burden: Burden, hitch: Hitch | None = None
) -> tuple[Array, Array] | str:
    """Loads (C,) kg of wheels, then of the coupling, on legs that all give alike, level as drawn; covariance (C, C).

    For a vehicle whose springs cannot be told yet. On three places, or two in a flat drawing, that is plain statics.
    """
    table = Table(tuple(parts), burden, hitch)
    trouble = table.trouble()
    if trouble is not None:
        return trouble
    places = table.places()
    share = np.linalg.pinv(np.vstack([np.ones(len(places)), places.T]))  # (C, 1 + A)
    loads: Array = share @ np.append(1.0, burden.centre[table.axes]) * burden.total
    by_mass = share @ np.vstack([np.ones(len(burden.mass)), burden.at[:, table.axes].T]) * burden.mass_error
    by_place = np.einsum("ca,k,ka->cka", share[:, 1:], burden.mass, burden.at_error[:, table.axes])
    spread = by_place.reshape(len(places), -1)
    return loads, by_mass @ by_mass.T + spread @ spread.T


def _tipped(lifted: Sequence[str]) -> str:
    which = " and ".join(lifted)
    return (
        f"it tips over: {which} leave{'s' if len(lifted) == 1 else ''} the ground, because the centre of gravity of "
        "this load lies outside the wheels that would be left; prop it, or place the load elsewhere"
    )


def _settle(table: Table, grounded: Mask) -> tuple[Array, There] | str:
    """Newton's method, a step halved until it comes nearer; wheels not `grounded` carry nothing."""
    wheels, count = len(table.names), table.count
    up = np.flatnonzero(~grounded)
    scale = np.concatenate([[table.weight], np.full(2, table.weight), np.full(count, 1e-3)])
    scale[3 + up] = table.weight

    def at(u: Array) -> tuple[There, Array, Array] | str:
        there = table.at(u)
        if isinstance(there, str):
            return there
        residual, slopes = there.residual.copy(), there.slopes.copy()
        residual[3 + up], slopes[3 + up] = u[up], 0.0
        slopes[3 + up, up] = 1.0
        return there, residual, slopes

    u = table.start()
    u[up] = 0.0
    now = at(u)
    if isinstance(now, str):
        return now
    for _ in range(_STEPS):
        there, residual, slopes = now
        off = float(np.abs(residual / scale).max())
        apart = residual[3:][np.append(grounded, np.ones(count - wheels, dtype=bool))]
        if np.abs(apart).max(initial=0.0) < _SETTLED and np.abs(residual[:3]).max() < _SETTLED * table.weight:
            return u, there
        # Wheels that all stand on their stops give nothing: of the ways to share, the most even one is taken.
        step = np.linalg.lstsq(slopes / scale[:, None], -residual / scale, rcond=_EVEN)[0]
        step *= min(1.0, 0.1 / max(0.1, float(np.abs(step[count : count + 2]).max())))
        best: tuple[Array, tuple[There, Array, Array], float] | None = None
        for k in range(_SHORTENED):
            tried_at = u + step * 0.5**k
            tried = at(tried_at)
            if isinstance(tried, str):
                if k == _SHORTENED - 1 and best is None:
                    return tried
                continue
            far = float(np.abs(tried[1] / scale).max())
            if best is None or far < best[2]:
                best = (tried_at, tried, far)
            if far < (1.0 - 0.1 * 0.5**k) * off:
                break
        assert best is not None
        u, now = best[0], best[1]
        if max(abs(u[count]), abs(u[count + 1])) > math.tan(2.0 * MOST_LEAN):
            return _LEANS
    return (
        "its springs find no balance under this load: it may fall over, or a spring falls through its travel"
    )


_LEANS = (
    "it would lean by more than 15 deg, which this program does not follow: the springs are too soft for this load, "
    "or it stands far beside the wheels"
)


def _told(table: Table, u: Array, there: There | str, grounded: Mask) -> ChassisStanding:
    if isinstance(there, str):
        return _nowhere(table, there)
    wheels, count = len(table.names), table.count
    a, b = float(u[count]), float(u[count + 1])
    pitch, roll = math.asin(a / math.hypot(a, b, 1.0)), -math.atan(b)
    if max(abs(pitch), abs(roll)) > MOST_LEAN:
        return _nowhere(table, _LEANS)
    middle = table.set_up.mean(axis=0)
    middle[2] = float((table.set_up[:, 2] - table.radius).mean())
    return ChassisStanding(
        table.names,
        np.where(grounded, u[:wheels], 0.0) / STANDARD_GRAVITY,
        float(u[wheels]) / STANDARD_GRAVITY if table.hitch is not None else math.nan,
        float(there.up @ middle) - there.ground,
        pitch,
        roll,
        _covariance(table, u, there, grounded),
        there.up,
        there.ground,
        there.centre,
        there.contact,
        there.height,
        tuple(name for name, on in zip(table.names, grounded, strict=True) if not on),
    )


def _covariance(table: Table, u: Array, there: There, grounded: Mask) -> Array:
    """(C, C) kg² of the loads from the ± of masses and places; NaN where nothing carries at all."""
    if table.weight == 0.0:
        return np.full((table.count, table.count), np.nan)
    slopes = there.slopes.copy()
    up = np.flatnonzero(~grounded)
    slopes[3 + up] = 0.0
    slopes[3 + up, up] = 1.0
    scale = np.abs(slopes).max(axis=1, keepdims=True)
    response = np.linalg.lstsq(slopes / scale, np.eye(len(slopes), 3) / scale, rcond=_EVEN)[0][: table.count]
    along = along_ground(u[table.count :])
    for k in {0, 1} - set(table.axes):
        along = along.copy()
        along[k] = 0.0
    burden = table.burden
    by_mass = response @ np.vstack([np.ones(len(burden.mass)), along @ burden.at.T]) * burden.mass_error
    by_place = np.einsum("cj,ji,k,ki->cki", response[:, 1:], along, burden.mass, burden.at_error)
    spread = by_place.reshape(table.count, -1)
    out: Array = by_mass @ by_mass.T + spread @ spread.T
    return out


def _nowhere(table: Table, because: str) -> ChassisStanding:
    wheels, nothing = len(table.names), float("nan")
    three = np.full(3, np.nan)
    return ChassisStanding(
        table.names,
        np.full(wheels, np.nan),
        nothing,
        nothing,
        nothing,
        nothing,
        np.full((table.count, table.count), np.nan),
        three,
        nothing,
        three,
        np.full((wheels, 3), np.nan),
        np.full(wheels, np.nan),
        because=because,
    )
