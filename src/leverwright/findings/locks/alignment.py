"""Does the wheel keep its direction over its travel?"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from leverwright.findings.finding import COMMON_PRACTICE, Finding, finding
from leverwright.findings.rows import rows
from leverwright.findings.words import both, length, the_wheels
from leverwright.geometry import Array
from leverwright.quantity import Kind
from leverwright.ride import alignment_of
from leverwright.study import Study

__all__ = ["wheel_wanders"]

_LOCKS: Final = "Does it lock or bind?"
_TOE = np.deg2rad(0.5)  # per 50 mm of wheel travel, slow carts (CP)
_PER = 0.050  # m
_CAMBER = np.deg2rad(3.0)  # over the whole travel (CP)
_CASTER = np.deg2rad(3.0)  # over the whole travel (CP)
_TRACK = 0.015  # m a side over the whole travel: the tyre scrubs and steers (CP)


@dataclass(frozen=True, slots=True)
class _Change:
    name: str
    kind: Kind
    size: float
    limit: float
    how: str


@finding("wheel-wanders", question=_LOCKS)
def wheel_wanders(study: Study) -> tuple[Finding, ...]:
    """Do toe, camber, caster or track change too much over the travel?"""
    if study.project.plane is not None:
        return ()
    told: dict[tuple[str, ...], list[_Change]] = {}
    for row in rows(study):
        if row.heave.posed is None or row.travels is None:
            continue
        radius = np.array([study.project.wheels[name].radius.value for name in row.wheels])
        angles = alignment_of(row.travels.track, row.heave.posed, radius)
        for column, wheel in enumerate(row.wheels):
            changes = _changes(
                row.heave.posed.travel,
                [a[:, column] for a in (angles.toe, angles.camber, angles.caster, angles.track)],
            )
            if changes:
                told[(wheel,)] = changes
    return tuple(_wanders(study, wheels, changes) for wheels, changes in _paired(told))


def _changes(travel: Array, columns: list[Array]) -> list[_Change]:
    toe, camber, caster, track = columns
    out = []
    if not np.isnan(toe).any() and len(travel) > 2:
        steepest = float(np.abs(np.gradient(toe, travel)).max()) * _PER
        out.append(_Change("toe", "angle", steepest, _TOE, "for each 50 mm of travel (bump steer)"))
    for name, values, limit in (("camber", camber, _CAMBER), ("caster", caster, _CASTER)):
        if not np.isnan(values).any():
            out.append(_Change(name, "angle", float(np.ptp(values)), limit, "over the travel"))
    if not np.isnan(track).any():
        out.append(_Change("track", "length", float(np.ptp(track)), _TRACK, "on this side over the travel"))
    return [change for change in out if change.size > change.limit]


def _paired(told: dict[tuple[str, ...], list[_Change]]) -> list[tuple[tuple[str, ...], list[_Change]]]:
    """Wheels with the same changes within 2 % told once."""
    merged: list[tuple[tuple[str, ...], list[_Change]]] = []
    for wheels, changes in told.items():
        for index, (known, same) in enumerate(merged):
            alike = [c.name for c in same] == [c.name for c in changes]
            if alike and all(
                abs(a.size - b.size) <= 0.02 * a.size for a, b in zip(same, changes, strict=True)
            ):
                merged[index] = ((*known, *wheels), same)
                break
        else:
            merged.append((wheels, changes))
    return merged


def _wanders(study: Study, wheels: tuple[str, ...], changes: list[_Change]) -> Finding:
    def said(change: _Change, size: float) -> str:
        return length(study, size) if change.kind == "length" else both(study, size, change.kind)

    parts = [f"{c.name} changes by {said(c, c.size)} {c.how} (limit {said(c, c.limit)})" for c in changes]
    worst = max(changes, key=lambda change: change.size / change.limit)
    steer = any(change.name == "toe" for change in changes)
    cure = (
        "Bring the tie rod into line with the point that the arms turn about."
        if steer
        else ("Make upper and lower arm nearer alike in length and slope.")
    )
    return Finding(
        "wheel-wanders",
        "fix" if steer else "watch",
        _LOCKS,
        f"{the_wheels(wheels, first=True)}: {'; '.join(parts)}. {cure}",
        "Wheel angles from its spin axis at every pose, ISO 8855 signs a side; limits for slow carts.",
        COMMON_PRACTICE,
        worst.size / worst.limit,
        wheels=wheels,
    )
