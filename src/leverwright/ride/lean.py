"""How far a sprung vehicle leans in a bend, and what that takes off its tip limit. All SI."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from leverwright.geometry import Array
from leverwright.linkage.kinematics import wheel_paths
from leverwright.ride.chassis_balance import Part
from leverwright.ride.frequency import STANDARD_GRAVITY
from leverwright.ride.standing import Standing

__all__ = ["Lean", "RollAxle", "lean_of", "leaning_limit", "roll_axles"]

_APART = 0.05  # m along the vehicle; wheels nearer than this are one axle
_SIDE = 1e-4  # m; a wheel nearer to the middle has no side


@dataclass(frozen=True, slots=True)
class RollAxle:
    """What resists roll at one place along the vehicle.

    x       m; rate N·m/rad (inf: rigid); height m of the roll centre over the ground there
    """

    x: float
    rate: float
    height: float


@dataclass(frozen=True, slots=True)
class Lean:
    """Roll of the sprung mass in a bend.

    per_lateral  rad of lean for each share of gravity sideways
    arm          m, the sprung mass' centre over the roll axis
    sprung       kg
    rate         N·m/rad, all axles together
    """

    per_lateral: float
    arm: float
    sprung: float
    rate: float


def roll_axles(parts: Sequence[Part], standings: Sequence[Standing]) -> list[RollAxle] | str:
    """Every axle's roll rate and roll centre at its standing position, or why they cannot be told.

    The rate is yᵀ K y with tyres in series. The roll centre is where the chassis turns when the left wheel goes up
    and the right one down: the wheels' lowest points move sideways by height × turn.
    """
    axles: list[RollAxle] = []
    for part, standing in zip(parts, standings, strict=True):
        found = _part_axles(part, standing)
        if isinstance(found, str):
            return found
        axles += found
    return _merged(axles)


def _part_axles(part: Part, standing: Standing) -> list[RollAxle] | str:
    centres, tyre = part.centres, part.sprung.tyre
    y = centres[:, 1]
    gives_tyre = np.where(np.isfinite(tyre), 1.0 / np.where(np.isfinite(tyre), tyre, 1.0), 0.0)
    if part.rigid:
        return [
            RollAxle(float(centres[w, 0]), _stiffness(float(y[w]), float(gives_tyre[w])), 0.0)
            for w in range(len(y))
        ]
    posed, springs = standing.posed, standing.springs
    if posed is None or springs is None:
        return standing.because or "it has no standing position"
    rate = springs.wheel_rate[0]
    if len(rate) != len(y):
        return "the wheels of an axle share one motion: it cannot roll"
    paths = wheel_paths(part.sprung.assembly.basis, posed.pose)
    # Lowest points: the hub's own path; a wheel's lean moves its lowest point by radius × lean besides.
    moved = np.einsum("wqi,qk->wik", paths[0], posed.rates.dq_dz[0])
    sideways = moved[:, 1] + _by_lean(part, standing)
    try:
        series = np.linalg.inv(np.linalg.inv(rate) + np.diag(gives_tyre))
    except np.linalg.LinAlgError:
        return "its springs have no rate at the wheels"
    return _each_axle(centres, series, sideways)


def _stiffness(y: float, gives: float) -> float:
    if abs(y) < _SIDE:
        return 0.0
    return math.inf if gives == 0.0 else y * y / gives


def _by_lean(part: Part, standing: Standing) -> Array:
    """Sideways move of each wheel's lowest point by its own lean, per travel of each wheel (W, W)."""
    assembly, posed = part.sprung.assembly, standing.posed
    assert posed is not None
    layout = assembly.layout
    out = np.zeros((len(part.names), posed.rates.dq_dz.shape[2]))
    for column, index in enumerate(layout.wheels):
        carrier = layout.carriers.of_body[layout.mechanism.wheels[index].body]
        mine = layout.unknown_carrier == carrier
        turn = assembly.basis.turn[0][:, 0] * mine  # about x, for each unknown
        # The lowest place hangs `radius` below the hub: turned about x it goes to the side by that.
        out[column] = part.radius[column] * (turn @ posed.rates.dq_dz[0])
    return out


def _each_axle(centres: Array, series: Array, sideways: Array) -> list[RollAxle]:
    """One axle for each x: its share of yᵀ K y, and its roll centre."""
    out = []
    left = list(range(len(centres)))
    y = centres[:, 1]
    force = series @ y
    while left:
        mine = [w for w in left if abs(centres[w, 0] - centres[left[0], 0]) < _APART]
        left = [w for w in left if w not in mine]
        sided = [w for w in mine if abs(y[w]) > _SIDE]
        height = float(np.mean((sideways @ y)[sided])) if sided else 0.0
        out.append(RollAxle(float(np.mean(centres[mine, 0])), float(y[mine] @ force[mine]), height))
    return out


def _merged(axles: list[RollAxle]) -> list[RollAxle]:
    """Axles at one x as one; roll centres by what each holds."""
    out: list[RollAxle] = []
    for axle in sorted(axles, key=lambda each: -each.x):
        if out and abs(out[-1].x - axle.x) < _APART:
            last = out.pop()
            if math.isinf(last.rate) or math.isinf(axle.rate) or last.rate + axle.rate == 0.0:
                height = 0.5 * (last.height + axle.height)
            else:
                height = (last.rate * last.height + axle.rate * axle.height) / (last.rate + axle.rate)
            out.append(RollAxle(0.5 * (last.x + axle.x), last.rate + axle.rate, height))
        else:
            out.append(axle)
    return out


def lean_of(axles: Sequence[RollAxle], sprung: float, centre: Array) -> Lean | str:
    """Lean of a sprung mass [kg] with its centre (2,): x along the vehicle and height over the ground, m.

    φ = m g arm / (K − m g arm) for each share of gravity sideways; the arm stands on the roll axis through the axles'
    roll centres. Source: statics of a body on a roll axis, small angles.
    """
    if not axles:
        return "nothing carries it"
    x = np.array([axle.x for axle in axles])
    high = np.array([axle.height for axle in axles])
    # Two axles make the roll axis; more are fitted; one alone is level.
    slope = 0.0 if len(axles) < 2 or np.ptp(x) < _APART else float(np.polyfit(x, high, 1)[0])
    axis = float(high.mean() + slope * (centre[0] - x.mean()))
    arm = float(centre[1]) - axis
    rate = sum(axle.rate for axle in axles)
    tips = sprung * STANDARD_GRAVITY * arm
    if math.isinf(rate):
        return Lean(0.0, arm, sprung, rate)
    if rate <= tips:
        return "nothing holds it upright: its roll rate is below what its own weight asks for"
    return Lean(tips / (rate - tips), arm, sprung, rate)


def leaning_limit(rigid: float, mass: float, height: float, lean: Lean) -> float:
    """Tip limit [of gravity] when the sprung mass leans outward by it: a (m h + ms arm φ) = a_rigid m h.

    rigid  1, the limit without lean; mass kg and height m of the whole vehicle
    """
    return rigid * mass * height / (mass * height + lean.sprung * lean.arm * lean.per_lateral)
