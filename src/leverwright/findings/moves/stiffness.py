"""Is it far too stiff, what is to blame, and are the lever's arms the wrong way round?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Final

import numpy as np

from leverwright.assemble import mechanism_of
from leverwright.findings.finding import COMMON_PRACTICE, Finding, finding
from leverwright.findings.rows import Row, rows, together
from leverwright.findings.words import both, length, on_wheels
from leverwright.linkage import Lever, geometry_of, levers
from leverwright.quantity import say_ratio
from leverwright.ride import (
    NEAR,
    STANDARD_GRAVITY,
    SprungAssembly,
    figures_of,
    find_all_travels,
    opposite_wheels,
    stand_all,
    sweep_all,
)
from leverwright.search import Ops, tried
from leverwright.search.arms import arms_set
from leverwright.springs import ShockLaw
from leverwright.study import Study

__all__ = ["arms_reversed", "too_stiff"]

_MOVES: Final = "Does it move?"
_PERSON = 75.0  # kg over one axle (CP)
_LEAST_MOVE = 0.010  # m that this person should move it (CP)
_TYRE_SHARE = 0.5  # of the tyre's rate, most that the wheel's may be (CP)
_SAG = (0.30, 0.40)  # of total travel, when no goal says (CP)


@dataclass(frozen=True, slots=True)
class _Stiff:
    """How far a person moves it, and the wheel rate that would be soft enough."""

    moves: float
    rate: float
    needed: float
    by_tyre: bool
    people: float  # kg on this wheel


def _share_of_person(study: Study, wheel: str) -> float:
    """Mass [kg] of the person on this wheel: half where a wheel stands opposite, also in a drawing of one side."""
    if study.project.plane == "xz" or any(wheel in pair for pair, _ in opposite_wheels(study.mechanism)):
        return 0.5 * _PERSON
    return _PERSON


@finding("too-stiff", question=_MOVES)
def too_stiff(study: Study) -> tuple[Finding, ...]:
    """Does a person hardly move it, or is the tyre the softer spring?"""
    found: list[tuple[tuple[str, ...], float]] = []
    told: dict[str, tuple[Row, _Stiff]] = {}
    for row in rows(study):
        for column, wheel in enumerate(row.wheels):
            stiff = _stiffness(study, row, column, wheel)
            if stiff is not None:
                found.append(((wheel,), -stiff.rate / stiff.needed))
                told[wheel] = (row, stiff)
    return tuple(_too_stiff(study, wheels, *told[wheels[0]]) for wheels, _ in together(found))


def _stiffness(study: Study, row: Row, column: int, wheel: str) -> _Stiff | None:
    rate = float(row.figures.value["heave_rate"][column])
    if not np.isfinite(rate) or rate <= 0.0:
        return None
    people = _share_of_person(study, wheel)
    moves = people * STANDARD_GRAVITY / rate
    if row.standing.on == "preload":
        moves = _beyond_preload(row, column, people * STANDARD_GRAVITY)
    tyre = float(row.sprung.tyre[column])
    enough = people * STANDARD_GRAVITY / _LEAST_MOVE
    by_tyre = np.isfinite(tyre) and rate > _TYRE_SHARE * tyre
    if moves >= _LEAST_MOVE and not by_tyre:
        return None
    return _Stiff(moves, rate, min(enough, _TYRE_SHARE * tyre) if by_tyre else enough, bool(by_tyre), people)


def _beyond_preload(row: Row, column: int, force: float) -> float:
    """How far a force [N] moves a wheel that its spring still holds at full droop."""
    posed, springs = row.heave.posed, row.heave.springs
    if posed is None or springs is None:
        return 0.0
    push = springs.wheel_push.sum(axis=1) / len(row.wheels)
    reached = float(row.sprung.sprung[column]) * STANDARD_GRAVITY + force
    return float(np.interp(reached, push, posed.travel) - posed.travel[0]) if reached > push[0] else 0.0


def _too_stiff(study: Study, wheels: tuple[str, ...], row: Row, stiff: _Stiff) -> Finding:
    lead = (
        f"The wheel rate {on_wheels(wheels)}, {both(study, stiff.rate, 'stiffness')}, is above half the "
        "tyre's: the tyre moves more "
        "than the spring."
        if stiff.by_tyre and stiff.moves >= _LEAST_MOVE
        else f"Far too stiff {on_wheels(wheels)}: a person of {both(study, _PERSON, 'mass')} over the axle moves it "
        f"{length(study, stiff.moves)}, and {length(study, _LEAST_MOVE)} is the least that helps."
    )
    return Finding(
        "too-stiff",
        "fix",
        _MOVES,
        f"{lead} {_blame(study, row, stiff)}",
        "Movement = weight on this wheel / wheel rate, wheel rate = spring rate x ratio² with the geometric term.",
        COMMON_PRACTICE,
        stiff.moves,
        wheels=wheels,
    )


def _blame(study: Study, row: Row, stiff: _Stiff) -> str:
    """Which of ratio, spring and preload is the cause, with the number that each would need."""
    if row.standing.on == "preload":
        return "The preload is to blame first: the spring does not move under this load at all. Turn the collar back."
    lines = [s for s, law in enumerate(row.sprung.laws) if isinstance(law, ShockLaw)]
    if not lines:
        return f"The spring's rate at the wheel should be {both(study, stiff.needed, 'stiffness')}."
    main = max(lines, key=lambda s: abs(float(row.figures.heave[s])))
    law, ratio = row.sprung.laws[main], float(row.figures.heave[main])
    share = stiff.needed / stiff.rate
    wanted = ratio * float(np.sqrt(share))
    name = row.sprung.assembly.layout.line_names[main]
    rate = law.rate if isinstance(law, ShockLaw) and not len(law.rows) else stiff.rate / max(ratio**2, 1e-9)
    first = "The ratio is to blame first" if ratio > 1.0 else "The spring is to blame first"
    return (
        f"{first}: {name} works at {say_ratio(ratio)}. With this spring the ratio should be {wanted:.2f} "
        "or less; with this ratio "
        f"the spring should have {both(study, rate * share, 'stiffness')} or less (now "
        f"{both(study, rate, 'stiffness')}). Preload "
        "changes height, not this."
    )


_MOST_SOLVED = 4  # arms tried between two that are known; each costs a whole study


@dataclass(frozen=True, slots=True)
class _Arms:
    """Sag of one wheel with the arms as drawn, swapped and equal."""

    row: Row
    lever: Lever
    now: float
    swapped: float
    equal: float
    equal_arm: float


@finding("arms-reversed", question=_MOVES)
def arms_reversed(study: Study) -> tuple[Finding, ...]:
    """Would the lever be right the other way round, or with equal arms?"""
    if study.quick:
        return ()  # it takes two more studies: while a hole is dragged it waits
    low, high = study.project.goals.sag or _SAG
    found: list[tuple[tuple[str, ...], float]] = []
    told: dict[str, _Arms] = {}
    for row in rows(study):
        arms = _try_arms(study, row, low, high)
        if arms is not None:
            found.append((row.wheels, arms.now))
            told |= dict.fromkeys(row.wheels, arms)
    return tuple(_reversed(study, wheels, told[wheels[0]]) for wheels, _ in together(found))


def _try_arms(study: Study, row: Row, low: float, high: float) -> _Arms | None:
    now = float(row.figures.value["sag_percent"][0]) if row.wheels else np.nan
    if not np.isfinite(now) or low <= now <= high:
        return None
    for lever in levers(row.sprung.assembly.layout):
        longer = lever.spring_arm / lever.link_arm
        # Swapping helps only where the longer arm is on the side that makes the trouble: stiff with a long spring arm.
        if (now < low and longer < 1.1) or (now > high and longer > 1 / 1.1):
            continue
        equal = float(np.sqrt(lever.link_arm * lever.spring_arm))
        swapped, same = _sags(study, row, lever, ((lever.spring_arm, lever.link_arm), (equal, equal)))
        if low <= swapped <= high or low <= same <= high or (swapped > high) == (now < low):
            return _Arms(row, lever, now, swapped, same, equal)
    return None


def _sags(study: Study, row: Row, lever: Lever, arms: Sequence[tuple[float, float]]) -> list[float]:
    """Share of the travel that it sags with each pair of arms (link, spring) m on the lever; NaN where it cannot."""
    changes = [arms_set(study.project, lever, *pair) for pair in arms]
    settings = [_changed(study, row, ops) for ops in changes]
    travels = find_all_travels(settings, "heave", (None, None), study.default_ends, NEAR)
    heaves = sweep_all(settings, travels, 17)
    stood = stand_all(settings, travels, heaves)
    stages = zip(settings, travels, heaves, stood, strict=True)
    return [float(figures_of(*stage).value["sag_percent"][0]) for stage in stages]


def _changed(study: Study, row: Row, ops: Ops) -> SprungAssembly:
    """The assembly with its holes where a change puts them: other numbers in the same linkage."""
    mechanism = mechanism_of(tried(study.project, ops))
    geometry = geometry_of(mechanism, study.hold)
    assembly = row.sprung.assembly
    return replace(row.sprung, assembly=replace(assembly, geometry=geometry))


def _between(study: Study, arms: _Arms) -> str:
    """What to try where neither swapped nor equal arms are right: arms between, solved until the sag is as wanted.

    The arms go from as drawn (0) over equal (1/2) to swapped (1) by equal shares of their ratio.
    """
    low, high = study.project.goals.sag or _SAG
    wanted, lever = 0.5 * (low + high), arms.lever
    known = [(0.0, arms.now), (0.5, arms.equal), (1.0, arms.swapped)]
    pairs = pairwise(known)
    side = next((pair for pair in pairs if (pair[0][1] - wanted) * (pair[1][1] - wanted) < 0.0), None)
    if side is None:
        return "What is wanted lies beyond: it takes another spring too."
    (near, near_sag), (far, far_sag) = side
    for _ in range(_MOST_SOLVED):
        part = near + (far - near) * (wanted - near_sag) / (far_sag - near_sag)
        link_arm = lever.link_arm * (lever.spring_arm / lever.link_arm) ** part
        spring_arm = lever.link_arm * lever.spring_arm / link_arm
        (sag,) = _sags(study, arms.row, lever, ((link_arm, spring_arm),))
        if low <= sag <= high:
            return (
                f"What is wanted lies between: link hole {length(study, link_arm)} and spring hole "
                f"{length(study, spring_arm)} from the pivot give {100.0 * sag:.0f} %."
            )
        if not np.isfinite(sag):
            break
        if (sag - wanted) * (near_sag - wanted) > 0.0:
            near, near_sag = part, sag
        else:
            far, far_sag = part, sag
    return "What is wanted lies between, but no arms that give it were found."


def _reversed(study: Study, wheels: tuple[str, ...], arms: _Arms) -> Finding:
    def sag(share: float) -> str:
        return "it cannot be put together" if not np.isfinite(share) else f"{100.0 * share:.0f} % sag"

    low, high = study.project.goals.sag or _SAG
    lever = arms.lever
    verdict = (
        "Swap them."
        if low <= arms.swapped <= high
        else f"Reversing them overshoots: make both {length(study, arms.equal_arm)}."
        if low <= arms.equal <= high
        else _between(study, arms)
    )
    return Finding(
        "arms-reversed",
        "fix",
        _MOVES,
        f"{lever.body} has its link hole {length(study, lever.link_arm)} and its spring hole "
        f"{length(study, lever.spring_arm)} from the "
        f"pivot {on_wheels(wheels)}: {sag(arms.now)} as drawn, {sag(arms.swapped)} with the arms swapped, "
        f"{sag(arms.equal)} with both "
        f"{length(study, arms.equal_arm)}; {100 * low:.0f} to {100 * high:.0f} % is wanted. {verdict}",
        "The ratio goes with spring arm / link arm, the rate at the wheel with its square: swapping "
        "changes the rate by the fourth "
        "power of the arms' ratio. Each solved exactly.",
        COMMON_PRACTICE,
        arms.now,
        tuple(sorted((lever.link_hole, lever.pivot, lever.spring_hole))),
        wheels=wheels,
    )
