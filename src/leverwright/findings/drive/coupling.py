"""Does a trailer put enough of its weight on the coupling, and not too much, in every load set?"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, Literal

import numpy as np

from leverwright.findings.finding import COMMON_PRACTICE, Finding, finding
from leverwright.findings.words import both, length
from leverwright.study import Study

if TYPE_CHECKING:
    from leverwright.assemble.weights import Weights
    from leverwright.ride.coupling import CouplingShare

__all__ = ["coupling_share"]

_DRIVE: Final = "Is it safe to drive and to touch?"
_SWAYS, _LIGHT, _HEAVY = 0.06, 0.08, 0.15  # of the weight on the coupling (CP)
_ONE_AXLE = 0.05  # m along the vehicle; wheels nearer than this are one axle
_USUAL = 0.10  # of the weight, 10 to 15 % is usual (CP)


@finding("coupling-share", question=_DRIVE)
def coupling_share(study: Study) -> tuple[Finding, ...]:
    """Which load sets leave the coupling too light or too heavy, as the trailer stands?"""
    if study.quick:
        return ()
    found = _unstated(study)
    for name, of in study.sets.items():
        share = None if of.loading is None else of.loading.coupling
        if share is not None and not isinstance(share, str) and not _LIGHT <= share.pitched_share <= _HEAVY:
            assert of.measured.weights is not None
            found.append(_share(study, (name, of.measured.weights), share))
    return tuple(found)


def _unstated(study: Study) -> list[Finding]:
    """Masses on one axle that nothing else carries: without a coupling nothing can be said of any wheel's load."""
    project = study.project
    if study.file.coupling is not None or project.plane is not None or not project.wheels:
        return []
    along = [project.points[wheel.centre].at[0] for wheel in project.wheels.values()]
    sets = [f"'{name}'" for name, load in study.file.loads.items() if load.carries]
    if (
        max(along) - min(along) > _ONE_AXLE
        or not sets
        or all(w.load is not None for w in project.wheels.values())
    ):
        return []
    said = (
        f"How it stands with {' or '.join(sets)} aboard cannot be told: all wheels stand on one axle, and nothing says "
        "where the towing vehicle carries it. Add [coupling] with at = its place, ahead of the axle."
    )
    return [Finding("coupling-share", "fix", _DRIVE, said, _WHY, "statics", None)]


def _share(study: Study, aboard: tuple[str, Weights], share: CouplingShare) -> Finding:
    name, weights = aboard
    part = share.pitched_share
    severity: Literal["stop", "fix", "watch"] = (
        "stop" if part <= 0 else "watch" if _SWAYS <= part < _LIGHT else "fix"
    )
    what = (
        "the tongue lifts off, and what tows it loses its grip"
        if part <= 0
        else f"under {100 * _LIGHT:.0f} % a trailer may sway"
        if _SWAYS <= part < _LIGHT
        else f"under {100 * _SWAYS:.0f} % a trailer sways"
        if part < _SWAYS
        else f"over {100 * _HEAVY:.0f} % it presses on what tows it and lightens its steering"
    )
    said = (
        f"With '{name}' aboard the coupling carries {both(study, share.pitched, 'mass')} as the trailer stands, "
        f"{100 * part:.1f} % of {both(study, share.total, 'mass')} (level {both(study, share.level, 'mass')}, "
        f"{100 * share.level_share:.1f} %): {what}; 10 to 15 % is usual. {_cure(study, weights)}Never drive faster to "
        "get it straight; local rules on trailers come first."
    )
    return Finding("coupling-share", severity, _DRIVE, said, _WHY, COMMON_PRACTICE, part)


def _cure(study: Study, weights: Weights) -> str:
    """How far the heaviest thing that is not always aboard would have to move for a tenth, level."""
    from leverwright.ride.coupling import place_for_share

    burden, coupling, chosen = weights.burden, study.file.coupling, study.file.loads.get(weights.name or "")
    if burden is None or coupling is None or chosen is None or weights.standing is None:
        return ""
    always = set.intersection(*(set(each.carries) for each in study.file.loads.values() if each.carries))
    loose = [k for k, name in enumerate(chosen.carries) if name not in always]
    moved = max(loose or range(len(chosen.carries)), key=lambda k: float(burden.mass[k]))
    axle = float(np.mean([study.project.points[w.centre].at[0] for w in study.project.wheels.values()]))
    at = place_for_share(_USUAL, (burden.mass, burden.at[:, 0]), moved, (axle, coupling.at[0]))
    far = at - float(burden.at[moved, 0])
    way = "towards the coupling" if far * (coupling.at[0] - axle) > 0 else "away from the coupling"
    return f"Move {chosen.carries[moved]} {length(study, abs(far))} {way} for {100 * _USUAL:.0f} % level. "


_WHY = (
    "Balance of moments about the wheels, level as drawn and again as it stands on its springs with the coupling at "
    "its height. Limits: 6 and 8 %, 15 %."
)
