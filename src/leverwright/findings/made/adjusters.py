"""Do the threads allow what is asked of them, and what else do they turn?"""

from __future__ import annotations

from typing import Final

import numpy as np

from leverwright.findings.finding import COMMON_PRACTICE, Finding, finding
from leverwright.findings.words import length
from leverwright.project import Bar
from leverwright.ride import Adjuster
from leverwright.study import Study

__all__ = ["adjuster_limits"]

_MADE: Final = "Can it be made?"
_RATIO = 0.02  # share of the ratio over the whole thread; less is not felt (CP)
_BUMP = 0.005  # m of bump travel over the whole thread (CP)


@finding("adjuster-limits", question=_MADE)
def adjuster_limits(study: Study) -> tuple[Finding, ...]:
    """Is a bar set beyond its threads, or does its screw change more than height?"""
    beyond = [found for bar in study.project.bars.values() if (found := _beyond(study, bar)) is not None]
    told = {f.points for f in beyond}
    silent = [
        adjuster
        for adjuster in study.adjusters
        if tuple(sorted(study.project.bars[adjuster.bar].ends)) not in told and _changes(adjuster)
    ]
    names = {adjuster.bar for adjuster in silent}
    once = [adjuster for adjuster in silent if study.project.bars[adjuster.bar].twin_of not in names]
    return (*beyond, *(_silent(study, adjuster) for adjuster in once))


def _beyond(study: Study, bar: Bar) -> Finding | None:
    if bar.adjust is None or bar.length is None:
        return None
    places = [np.array(study.project.points[p].at) for p in bar.ends]
    asked = bar.length.value - float(np.linalg.norm(places[0] - places[1]))
    if bar.adjust[0] - 1e-9 <= asked <= bar.adjust[1] + 1e-9:
        return None
    over = asked - bar.adjust[1] if asked > bar.adjust[1] else bar.adjust[0] - asked
    return Finding(
        "adjuster-limits",
        "stop",
        _MADE,
        f"{bar.name} is set {length(study, abs(asked))} {'longer' if asked > 0 else 'shorter'} than "
        f"measured, {length(study, over)} "
        "beyond what its threads allow. Keep at least one thread diameter engaged: take a longer bar, or "
        "move its hole.",
        "Stated length less the distance between its points, against `adjust`.",
        COMMON_PRACTICE,
        over,
        tuple(sorted(bar.ends)),
    )


def _span(adjuster: Adjuster, name: str) -> float:
    """Largest change of a figure over the whole thread."""
    both = adjuster.shortest.figures.value[name], adjuster.longest.figures.value[name]
    change = np.abs(both[1] - both[0])
    return float(np.nanmax(change, initial=0.0))


def _ratio_span(adjuster: Adjuster) -> float:
    both = adjuster.shortest.figures.heave, adjuster.longest.figures.heave
    now = np.abs(adjuster.now.figures.heave)
    return float(np.nanmax(np.abs(both[1] - both[0]) / np.where(now > 1e-6, now, np.nan), initial=0.0))


def _changes(adjuster: Adjuster) -> bool:
    return _ratio_span(adjuster) > _RATIO or _span(adjuster, "bump_left") > _BUMP


def _silent(study: Study, adjuster: Adjuster) -> Finding:
    ratio, bump, height = (
        _ratio_span(adjuster),
        _span(adjuster, "bump_left"),
        _span(adjuster, "standing_travel"),
    )
    thread = adjuster.longest.change - adjuster.shortest.change
    has_twin = any(bar.twin_of == adjuster.bar for bar in study.project.bars.values())
    alike = ", its twin alike," if has_twin else ""
    turn, moved = "", adjuster.per_turn("standing_travel")
    if moved is not None and np.isfinite(moved[0]):
        turn = f" One turn moves the wheel {length(study, abs(float(moved[0])))}."
    return Finding(
        "adjuster-limits",
        "watch",
        _MADE,
        f"Turning {adjuster.bar}{alike} over its whole thread ({length(study, thread)}) moves the ride height by "
        f"{length(study, height)}, and with it "
        f"the ratio by {100.0 * ratio:.0f} % and the bump left by {length(study, bump)}.{turn} Set height "
        "with it last, and check again.",
        "The vehicle solved again at both ends of the thread.",
        COMMON_PRACTICE,
        ratio,
        tuple(sorted(study.project.bars[adjuster.bar].ends)),
    )
