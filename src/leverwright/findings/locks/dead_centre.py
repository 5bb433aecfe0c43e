"""Does a lever come into line with its link, or too near to it?"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from leverwright.findings.finding import COMMON_PRACTICE, Finding, finding
from leverwright.findings.rows import Row, rows, together
from leverwright.findings.words import both, length, on_wheels, the_wheels, travel
from leverwright.linkage import driven_ends, fold
from leverwright.ride import Travels
from leverwright.study import Study

__all__ = ["angle_poor", "dead_centre_near", "wrong_branch"]

_LOCKS: Final = "Does it lock or bind?"
MARGIN = 0.010  # m of wheel travel between the end of travel and dead centre (CP)
MARGIN_ANGLE = np.deg2rad(20.0)  # between link and lever at the end of travel, away from line (CP)
POOR = np.deg2rad(45.0)  # from line, anywhere in the travel: fix (CP)
WORST = np.deg2rad(25.0)  # from line, anywhere in the travel: stop (CP)
_SIGMAS = 2.0  # of measuring error taken off every margin: 95 % of it


@dataclass(frozen=True, slots=True)
class _Gap:
    """Wheel travel left between one end of travel and dead centre, 2 σ off; negative when it comes first."""

    left: float
    nominal: float
    way: str
    by: str
    at: float
    setting: str


@finding("dead-centre-near", question=_LOCKS)
def dead_centre_near(study: Study) -> tuple[Finding, ...]:
    """Does the lever come within the margin of dead centre, at any setting, tape error included?"""
    adjusters = study.adjusters
    found: list[tuple[tuple[str, ...], float]] = []
    gaps: dict[str, _Gap] = {}
    for row in rows(study):
        each = _gaps(row.travels, row, "as drawn")
        for adjuster in adjusters:
            if adjuster.bar in row.sprung.assembly.layout.bar_names:
                for setting, how in (
                    (adjuster.shortest, "at its shortest"),
                    (adjuster.longest, "at its longest"),
                ):
                    each += _gaps(setting.travels, row, f"with {adjuster.bar} {how}")
        near = [gap for gap in each if gap.left < MARGIN]
        if near:
            worst = min(near, key=lambda gap: gap.left)
            found.append((row.wheels, worst.left))
            gaps |= dict.fromkeys(row.wheels, worst)
    findings = [_near(study, wheels, gaps[wheels[0]]) for wheels, _ in together(found)]
    return tuple(findings)


def _gaps(travels: Travels | None, row: Row, setting: str) -> list[_Gap]:
    if travels is None or travels.range is None or not row.sprung.has_spring:
        return []
    out = []
    for way, stop, end, name in (
        (1.0, travels.track.bump, travels.range.bump, "bump"),
        (-1.0, travels.track.droop, travels.range.droop, "droop"),
    ):
        if stop is None or stop.why != "dead centre":
            continue
        nominal = way * (stop.travel - end.travel)
        sigma = 0.0 if row.errors is None else float(row.errors.value[f"dead_centre_{name}"][0])
        # The end of travel itself is uncertain too; both are in bump_left and sag, whose spread is no smaller.
        spread = 0.0 if not np.isfinite(sigma) else _SIGMAS * sigma
        out.append(_Gap(nominal - spread, nominal, name, stop.by or "a link", stop.travel, setting))
    return out


def _near(study: Study, wheels: tuple[str, ...], gap: _Gap) -> Finding:
    inside = gap.nominal <= 1e-6
    where = (
        f"locks at {travel(study, gap.at)}, inside the travel that its shock allows"
        if inside
        else f"comes within {length(study, gap.nominal)} of dead centre at full {gap.way}"
    )
    taken = (
        ""
        if inside
        else f"; {length(study, max(gap.left, 0.0))} is left when the measuring error is taken off"
    )
    return Finding(
        "dead-centre-near",
        "stop" if inside or gap.left <= 0.0 else "fix",
        _LOCKS,
        f"The lever {on_wheels(wheels)} {where} ({gap.setting}): {gap.by} and the arm that it drives come "
        f"into line there{taken}. "
        f"Keep {length(study, MARGIN)} of wheel travel and 20 deg. A loaded lever that passes this point "
        "snaps over: keep hands "
        "away and strap it.",
        "Travel to dead centre from the exact linkage, less two standard deviations of the file's "
        "measuring errors, at every "
        "setting of the adjusters and with the wheel hanging.",
        COMMON_PRACTICE,
        gap.left,
        tuple(sorted(_points(study, gap.by))),
        gap.at,
        wheels,
    )


def _points(study: Study, bar: str) -> tuple[str, ...]:
    if bar in study.project.bars:
        return study.project.bars[bar].ends
    return study.project.bodies[bar].points if bar in study.project.bodies else ()


@finding("angle-poor", question=_LOCKS)
def angle_poor(study: Study) -> tuple[Finding, ...]:
    """Does a link drive its lever at a poor angle at bump, ride or droop?"""
    found: list[tuple[tuple[str, ...], float]] = []
    told: dict[str, tuple[str, str, float]] = {}
    for row in rows(study):
        posed, ends = row.heave.posed, driven_ends(row.sprung.assembly.layout)
        if posed is None or not ends:
            continue
        standing = 0.0 if row.standing.posed is None else float(row.standing.posed.travel[0])
        ride = int(np.argmin(np.abs(posed.travel - standing)))
        angles = fold(posed.transmission)
        places = (("full droop", 0), ("ride height", ride), ("full bump", len(angles) - 1))
        name, pose = min(places, key=lambda place: float(angles[place[1]].min()))
        least = float(angles[pose].min())
        if least < POOR:
            found.append((row.wheels, least))
            end = ends[int(angles[pose].argmin())]
            told |= dict.fromkeys(row.wheels, (end.name, name, float(posed.travel[pose])))
    return tuple(_poor(study, wheels, least, told[wheels[0]]) for wheels, least in together(found))


def _poor(study: Study, wheels: tuple[str, ...], least: float, told: tuple[str, str, float]) -> Finding:
    bar, place, at = told
    return Finding(
        "angle-poor",
        "stop" if least < WORST else "fix",
        _LOCKS,
        f"At {place} {bar} stands only {both(study, least, 'angle')} from being in line with the lever "
        "that it drives "
        f"{on_wheels(wheels)}; 90 deg is best, 45 deg is the least that is kind to pins and holes. Move "
        "the pivot or the hole so "
        "that link and lever are square near ride height.",
        "Angle between link and lever arm at their joint, 0 deg in line. Forces in link and pivot grow "
        "with one over its sine.",
        COMMON_PRACTICE,
        least,
        tuple(sorted(_points(study, bar))),
        at,
        wheels,
    )


@finding("wrong-branch", question=_LOCKS)
def wrong_branch(study: Study) -> tuple[Finding, ...]:
    """Is it drawn on a dead centre, or can the spring throw a lever over to its other side?"""
    found = []
    for row in rows(study):
        if row.sprung.assembly.freedom.singular:
            found.append(_on_dead_centre(row))
        elif row.travels is not None and row.travels.range is not None and row.sprung.has_spring:
            ends = row.travels.range
            over = [stop for stop in (ends.droop, ends.bump) if stop.why == "dead centre"]
            if over:
                found.append(_snaps(study, row, over[0].travel, over[0].by or "a link"))
    return tuple(found)


def _on_dead_centre(row: Row) -> Finding:
    what = the_wheels(row.wheels, first=True) if row.wheels else "part of the linkage"
    return Finding(
        "wrong-branch",
        "stop",
        _LOCKS,
        f"{what} is drawn exactly on a dead centre: from this pose the linkage can go on two ways, and "
        "which one it takes cannot "
        "be told. Measure it a little up or down from there.",
        "The equations leave more motions at this pose than beside it.",
        "geometry of rigid parts",
        0.0,
        wheels=row.wheels,
    )


def _snaps(study: Study, row: Row, at: float, bar: str) -> Finding:
    return Finding(
        "wrong-branch",
        "stop",
        _LOCKS,
        f"Nothing stops {the_wheels(row.wheels)} before {travel(study, at)}, where {bar} and its lever are "
        "in line: pushed on, the "
        "lever snaps to its other side and stays there. A strap or a bump stop must end the travel before.",
        "The shock still has stroke where the linkage reaches dead centre.",
        "geometry of rigid parts",
        at,
        tuple(sorted(_points(study, bar))),
        at,
        row.wheels,
    )
