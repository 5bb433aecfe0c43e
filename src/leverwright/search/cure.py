"""Solve again with one change, and keep what cures a finding without causing a worse one."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import partial
from itertools import islice
from typing import Protocol

import numpy as np

from leverwright.geometry import Array
from leverwright.quantity import say
from leverwright.search.candidates import candidates
from leverwright.search.cargo import coupling_outcome
from leverwright.search.remedy import Remedy
from leverwright.search.taped import as_taped
from leverwright.search.trials import Trials
from leverwright.study import Study

__all__ = ["Judged", "cures", "outcome"]

_MOST_TRIED = 14  # candidates solved for one finding; each costs a whole study
_ENOUGH = 3  # remedies shown for one finding
_DANGER = {"stop": 3, "fix": 2, "watch": 1, "good": 0}


class Judged(Protocol):
    """What this layer needs to know of a finding; the findings themselves are a layer above."""

    @property
    def id(self) -> str:
        """Stable id."""

    @property
    def severity(self) -> str:
        """One of stop, fix, watch, good."""

    @property
    def wheels(self) -> tuple[str, ...]:
        """Wheels that it concerns."""


class Judge(Protocol):
    """Study → findings, all of them or only those of one id."""

    def __call__(self, study: Study, only: str | None = None, /) -> Iterable[Judged]: ...


def cures(
    study: Study, finding: Judged, before: Iterable[Judged], judge: Judge, trials: Trials | None = None
) -> tuple[Remedy, ...]:
    """Remedies of one change for a finding, cheapest first: the finding is gone and nothing worse has come.

    trials  where several findings of the study are cured, what was made for one serves the others
    """
    known = tuple(before)
    kept: list[Remedy] = []
    asked = list(islice(candidates(study, finding.id, finding.wheels), _MOST_TRIED))
    made = (trials or Trials(study)).of([candidate.ops for candidate in asked])
    for candidate, changed in zip(asked, made, strict=True):
        if len(kept) >= _ENOUGH:
            break
        if (
            changed is None
            or not _cured(finding, judge(changed, finding.id))
            or _worse(known, judge(changed))
        ):
            continue
        wheels = finding.wheels
        told = coupling_outcome if finding.id == "coupling-share" else partial(outcome, wheels=wheels)
        before_line, after_line = told(study), told(changed)
        kept.append(
            Remedy(candidate.do, candidate.effort, before_line, after_line, as_taped(study, candidate.ops))
        )
    return tuple(kept)


def _cured(finding: Judged, found: Iterable[Judged]) -> bool:
    return not any(
        f.id == finding.id and (set(f.wheels) & set(finding.wheels) or not finding.wheels) for f in found
    )


def _worse(before: tuple[Judged, ...], after: Iterable[Judged]) -> bool:
    """Whether something that must be mended has come, or an old trouble has grown more dangerous."""

    def level(found: Iterable[Judged], name: str) -> int:
        return max((_DANGER[f.severity] for f in found if f.id == name), default=0)

    after = tuple(after)
    return any(level(after, f.id) > max(level(before, f.id), 1) for f in after)


def outcome(study: Study, wheels: tuple[str, ...]) -> str:
    """How the first of these wheels stands and moves, in one line."""
    for sprung, figures in zip(study.assemblies, study.figures, strict=True):
        names = sprung.assembly.layout.wheel_names
        for wheel in wheels:
            if wheel in names:
                return _line(study, figures.value, names.index(wheel))
    return "it cannot move"


def _line(study: Study, value: Mapping[str, Array], at: int) -> str:
    parts = []
    sag, share = float(value["sag"][at]), float(value["sag_percent"][at])
    if np.isfinite(sag) and share > 0.0:
        whole = say(sag / share, "length", system=study.units)
        parts.append(
            f"stands {say(sag, 'length', system=study.units)} into {whole} ({say(share, 'percent')})"
        )
    elif np.isfinite(sag):
        parts.append("stands on its preload, fully drooped")
    rate = float(value["heave_rate"][at])
    if np.isfinite(rate):
        parts.append(f"{say(rate, 'stiffness', system=study.units)} at the wheel")
    for name, way in (("dead_centre_bump", "bump"), ("dead_centre_droop", "droop")):
        left = float(value[name][at])
        if np.isfinite(left):
            parts.append(f"dead centre {say(left, 'length', system=study.units)} away in {way}")
    angle = float(value["transmission_angle_least"][at])
    if np.isfinite(angle):
        parts.append(f"link never nearer than {say(angle, 'angle')} to line")
    return ", ".join(parts) or "it cannot move"
