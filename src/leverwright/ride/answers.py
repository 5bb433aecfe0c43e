"""The answers of the contract: each a value, one standard deviation, or the reason why it cannot be said."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from leverwright.geometry import Array
from leverwright.linkage import Layout, Mechanism
from leverwright.quantity import Kind
from leverwright.ride.back_check import ALLOWED, BackCheck
from leverwright.ride.cycle import Travels
from leverwright.ride.figures import FIGURES, RATIO, Figures
from leverwright.ride.sprung import SprungAssembly
from leverwright.ride.trust import BENT, CLOSE_TO_DEAD_CENTRE
from leverwright.ride.uncertainty import Errors
from leverwright.springs import Cord, TwistLaw

__all__ = [
    "Answer",
    "AxleAnswers",
    "AxlePart",
    "WheelAnswers",
    "answer_axles",
    "answer_wheels",
    "opposite_wheels",
    "wheel_answers",
    "withheld",
]

# What hangs on the ratio so that it bends where that does.
_BENDING = frozenset({"wheel_rate", "heave_rate", "ride_frequency", "ride_frequency_without_tyre"})
_OPPOSITE = 0.05  # m; wheels further apart along the vehicle are not one axle (CP)

_KINDS: dict[str, Kind] = {
    "sag_percent": "percent",
    "wheel_rate": "stiffness",
    "heave_rate": "stiffness",
    "ride_frequency": "frequency",
    "ride_frequency_without_tyre": "frequency",
    "hop_frequency": "frequency",
    "dead_centre_angle": "angle",
    "transmission_angle_least": "angle",
}


@dataclass(frozen=True, slots=True)
class Answer:
    """SI value and standard deviation; `because` says why a value is missing, or where it was taken instead.

    kind   of quantity, as `leverwright.quantity` names it; per_metre marks a hinge spring's ratio, rad/m
    rough  hangs on a place that nothing measures: `because` names it, and no ± can be told
    """

    value: float | None
    kind: Kind
    error: float | None = None
    because: str | None = None
    per_metre: bool = False
    rough: bool = False


@dataclass(frozen=True, slots=True)
class WheelAnswers:
    """All answers of one wheel: `of` by name of the contract, ratios by spring."""

    wheel: str
    of: Mapping[str, Answer]
    motion_ratio: Mapping[str, Answer]
    heave_ratio: Mapping[str, Answer]


@dataclass(frozen=True, slots=True)
class AxleAnswers:
    """A pair of wheels left and right; roll_rate in N·m/rad."""

    wheels: tuple[str, str]
    roll_rate: Answer


def wheel_answers(
    sprung: SprungAssembly, figures: Figures, errors: Errors | None
) -> tuple[WheelAnswers, ...]:
    """One set of answers a wheel of the assembly."""
    layout = sprung.assembly.layout
    bent = _bent(errors, slice(None))
    out = []
    for w, wheel in enumerate(layout.wheel_names):
        of = {}
        for name in FIGURES:
            sigma = None if errors is None else errors.value[name][w]
            because = figures.because.get(name) or (bent if name in _BENDING else None)
            of[name] = _answer(figures.value[name][w], _KINDS.get(name, "length"), sigma, because)
        moving, heave = {}, {}
        for s, spring in enumerate(layout.line_names):
            if isinstance(sprung.laws[s], Cord):
                continue
            twist = isinstance(sprung.laws[s], TwistLaw)
            because = figures.because.get(RATIO) or _bent(errors, slice(s, s + 1))
            one = None if errors is None else errors.ratio[s, w]
            both = None if errors is None else errors.heave[s]
            moving[spring] = _answer(
                figures.ratio[s, w], "ratio", one, because or _shared(figures, s, w), twist
            )
            heave[spring] = _answer(figures.heave[s], "ratio", both, because, twist)
        out.append(WheelAnswers(wheel, of, moving, heave))
    return tuple(out)


def _bent(errors: Errors | None, springs: slice) -> str | None:
    """Why the ± of what hangs on these springs' ratios is not to be trusted, if so."""
    bent = errors is not None and bool(np.any(errors.bend[springs] > BENT))
    return CLOSE_TO_DEAD_CENTRE if bent else None


def withheld(names: tuple[str, ...], springs: tuple[str, ...], because: str) -> tuple[WheelAnswers, ...]:
    """Answers that all say why they cannot be said."""
    of = {name: Answer(None, _KINDS.get(name, "length"), None, because) for name in FIGURES}
    ratio = {spring: Answer(None, "ratio", None, because) for spring in springs}
    return tuple(WheelAnswers(name, of, ratio, ratio) for name in names)


def _shared(figures: Figures, spring: int, wheel: int) -> str | None:
    if figures.posed is None or not np.isnan(figures.ratio[spring, wheel]):
        return None
    return "the wheels share one motion: the ratio stands at the wheel that is driven"


def _answer(
    value: float, kind: Kind, sigma: float | None, because: str | None, per_metre: bool = False
) -> Answer:
    if not np.isfinite(value):
        return Answer(None, kind, None, because or "it cannot be told", per_metre)
    error = None if sigma is None or not np.isfinite(sigma) else float(sigma)
    return Answer(float(value), kind, error, because, per_metre)


def answer_wheels(
    names: Sequence[str], rows: Iterable[tuple[SprungAssembly, Figures, Errors | None, BackCheck]]
) -> dict[str, WheelAnswers]:
    """Answers of every wheel; one that belongs to no assembly stands on the chassis and says so."""
    found: dict[str, WheelAnswers] = {}
    for sprung, figures, errors, check in rows:
        layout = sprung.assembly.layout
        if check.holds:
            each = wheel_answers(sprung, figures, errors)
        else:
            principle, size = check.worst
            because = f"withheld: the back-check of {principle} is off by {size:.1e}, more than {ALLOWED:.0e}"
            springs = tuple(
                n for n, law in zip(layout.line_names, sprung.laws, strict=True) if not isinstance(law, Cord)
            )
            each = withheld(layout.wheel_names, springs, because)
        found |= {answers.wheel: answers for answers in each}
    rigid = tuple(name for name in names if name not in found)
    found |= {
        answers.wheel: answers
        for answers in withheld(rigid, (), "this wheel is fixed to the chassis: it does not move")
    }
    return found


@dataclass(frozen=True, slots=True)
class AxlePart:
    """One assembly as roll sees it; `measured` is the layout whose places its errors name: its own or its twin's."""

    sprung: SprungAssembly
    travels: Travels | None
    figures: Figures
    errors: Errors | None
    measured: Layout


def answer_axles(mechanism: Mechanism, parts: Sequence[AxlePart]) -> tuple[AxleAnswers, ...]:
    """Roll rate [N·m/rad] of each pair of wheels that stand opposite each other.

    The moment Σ y_i F_i of a body rolled by φ, with z_i = y_i φ and F = K z about the middle of the pair: yᵀ K y.
    Source: virtual work in roll.
    """
    rate: dict[tuple[str, str], float] = {}
    because: dict[str, str] = {}
    for part in parts:
        names, travels, springs = part.sprung.assembly.layout.wheel_names, part.travels, part.figures.springs
        if travels is None or springs is None or not part.sprung.has_spring:
            because |= dict.fromkeys(names, "no spring holds it against roll, or it cannot move")
        elif not travels.driving.each:
            because |= dict.fromkeys(names, "its wheels share one motion: it cannot roll")
        else:
            rate |= rate_entries(names, springs.wheel_rate[0])
    return tuple(_roll(pair, rate, because, parts) for pair in opposite_wheels(mechanism))


def opposite_wheels(mechanism: Mechanism) -> list[tuple[tuple[str, str], tuple[float, float]]]:
    """Pairs of wheels left and right of the centre plane at the same x within 50 mm, with their y [m]; twins first."""
    if mechanism.normal is not None and mechanism.normal[1] != 0.0:
        return []
    places = {w.name: mechanism.points[w.centre] for w in mechanism.wheels}
    left = [n for n, at in places.items() if at[1] > 0.0]
    right = [n for n, at in places.items() if at[1] < 0.0]
    pairs = []
    for name in left:
        twin = name.removesuffix("-left") + "-right"
        near = [r for r in right if abs(places[r][0] - places[name][0]) < _OPPOSITE]
        mate = (
            twin
            if twin in right
            else min(near, key=lambda r: abs(places[r][1] + places[name][1]), default=None)
        )
        if mate is not None:
            right.remove(mate)
            pairs.append(((name, mate), (float(places[name][1]), float(places[mate][1]))))
    return pairs


def _roll(
    pair: tuple[tuple[str, str], tuple[float, float]],
    rate: Mapping[tuple[str, str], float],
    because: Mapping[str, str],
    parts: Sequence[AxlePart],
) -> AxleAnswers:
    wheels, y = pair
    reason = because.get(wheels[0]) or because.get(wheels[1])
    if reason is None and any((w, w) not in rate for w in wheels):
        reason = "a wheel of this pair is fixed to the chassis"
    if reason is not None:
        return AxleAnswers(wheels, Answer(None, "torsion", None, reason))
    arm = [value - 0.5 * (y[0] + y[1]) for value in y]
    total = sum(
        arm[i] * arm[j] * rate.get((a, b), 0.0) for i, a in enumerate(wheels) for j, b in enumerate(wheels)
    )
    if not np.isfinite(total):
        return AxleAnswers(
            wheels, Answer(None, "torsion", None, "the springs' rate at the wheels cannot be told")
        )
    sigma = _roll_spread(wheels, y[0] - y[1], float(total), parts)
    return AxleAnswers(wheels, Answer(float(total), "torsion", sigma))


def _roll_spread(
    wheels: tuple[str, str], gap: float, total: float, parts: Sequence[AxlePart]
) -> float | None:
    """Standard deviation [N·m/rad] of yᵀ K y with y = ±gap/2; the same spring on both sides errs on both alike."""
    mine = [part for part in parts if set(wheels) & set(part.sprung.assembly.layout.wheel_names)]
    rows, laws = [], []
    for part in mine:
        if part.errors is None:
            return None
        row = _roll_row(part, part.errors, wheels, (gap, total))
        laws.append(row[part.errors.laws].copy())
        row[part.errors.laws] = 0.0
        rows.append(row)
    alike = len({len(each) for each in laws}) == 1
    shared = np.sum(laws, axis=0) if alike else np.concatenate(laws)
    variance = sum(float(row @ row) for row in rows) + float(shared @ shared)
    return float(np.sqrt(variance)) if np.isfinite(variance) else None


def _roll_row(part: AxlePart, errors: Errors, wheels: tuple[str, str], size: tuple[float, float]) -> Array:
    """What one standard deviation of each input of one assembly does to the roll rate, (K,)."""
    gap, total = size
    names = part.sprung.assembly.layout.wheel_names
    arm = np.array([0.5 * gap * (1.0 if n == wheels[0] else -1.0 if n == wheels[1] else 0.0) for n in names])
    row: Array = np.einsum("kij,i,j->k", errors.rate_rows, arm, arm)
    mechanism = part.measured.mechanism
    for column, wheel in enumerate(part.measured.wheels):
        centre = mechanism.wheels[wheel].centre
        side = np.sign(mechanism.points[centre, 1]) if arm[column] != 0.0 else 0.0
        for k, place in enumerate(errors.places):
            if place == (centre, 1):
                row += side * 2.0 * total / gap * errors.of_place(k)
    return row


def rate_entries(names: tuple[str, ...], matrix: Array) -> dict[tuple[str, str], float]:
    """The rate matrix (W, W) by names."""
    return {(a, b): float(matrix[i, j]) for i, a in enumerate(names) for j, b in enumerate(names)}
