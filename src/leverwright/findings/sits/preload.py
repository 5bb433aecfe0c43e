"""Is the sag right only because a soft spring was screwed together: preload is height, not stiffness."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

import numpy as np

from leverwright.findings.finding import COMMON_PRACTICE, Finding, finding
from leverwright.findings.rows import Row, rows, together
from leverwright.findings.words import in_words, length, on_wheels
from leverwright.springs import ShockLaw
from leverwright.study import Study

__all__ = ["sag_by_preload"]

_SITS: Final = "Does it sit right?"
_SAG = (0.30, 0.40)  # of total travel, when no goal says (CP)
_SHARE = 0.25  # of the standing spring force that preload may make up (CP)
_FREE = (
    0.08  # of the travel that the lightest load must sag, 25 of 300 mm (CP); less: a soft spring screwed up
)


@dataclass(frozen=True, slots=True)
class _Free:
    """The lightest load set and what it sags."""

    name: str
    sag: float
    share: float


@finding("sag-by-preload", question=_SITS)
def sag_by_preload(study: Study) -> tuple[Finding, ...]:
    """Does preload carry so much of the standing load that the spring is the wrong one?"""
    shares: list[tuple[tuple[str, ...], float]] = []
    known: dict[str, tuple[Row, float]] = {}
    for row, share, own in _shares(study):
        if share > _SHARE and _lowers(study, row, own):
            shares.append((row.wheels, -share))
            known |= dict.fromkeys(row.wheels, (row, own))
    found = [(wheels, -share, _lightest(study, wheels[0])) for wheels, share in together(shares)]
    return tuple(
        _told(study, wheels, share, known[wheels[0]], free)
        for wheels, share, free in found
        if free is None or free.share < _FREE
    )


def _shares(study: Study) -> Iterator[tuple[Row, float, float]]:
    """Each assembly on its springs: the share of their push that preload makes, and that push at the wheels [N]."""
    for row in rows(study):
        if row.standing.on != "springs" or row.standing.springs is None:
            continue
        ratio = np.nan_to_num(row.figures.heave)
        push = row.standing.springs.push[0] * ratio
        held = np.array([_held(law) for law in row.sprung.laws]) * ratio
        if push.sum() > 0.0:
            yield row, float(held.sum() / push.sum()), float(held.sum())


def _more_sag(row: Row, held: float) -> float:
    """How much lower [m] the wheels would stand without preload."""
    rate = float(np.sum(row.figures.value["heave_rate"]))
    return held / rate if rate > 0.0 else math.nan


def _lowers(study: Study, row: Row, held: float) -> bool:
    """Would the sag be over the wanted band without preload: is it preload that hides too soft a spring?"""
    sag, share = (float(row.figures.value[name][0]) for name in ("sag", "sag_percent"))
    most = (study.project.goals.sag or _SAG)[1]
    return bool(share > 0.0 and (sag + _more_sag(row, held)) / (sag / share) > most)


def _held(law: object) -> float:
    """Push [N] of the coil alone when fully open: preload; gas is no preload."""
    if not isinstance(law, ShockLaw):
        return 0.0
    if len(law.rows):
        return float(max(0.0, 0.5 * (law.rows[0, 1] + law.rows[0, 2]))) if law.rows[0, 0] <= 0.0 else 0.0
    return law.rate * max(0.0, law.preload)


def _lightest(study: Study, wheel: str) -> _Free | None:
    """What the lightest other load set sags: the free-sag test; None where no lighter one is known."""
    usual = study.answers[wheel].of
    sets = [(name, study.under(name)) for name in study.sets if name != study.load_set]
    found = [
        _Free(name, of["sag"].value, of["sag_percent"].value)
        for name, other in sets
        if wheel in other.answers
        and (of := other.answers[wheel].of)["sag"].value is not None
        and of["sag_percent"].value is not None
        and usual["sag"].value is not None
        and of["sag"].value < usual["sag"].value
    ]
    return min(found, key=lambda free: free.sag, default=None)


def _told(
    study: Study, wheels: tuple[str, ...], share: float, known: tuple[Row, float], free: _Free | None
) -> Finding:
    row, held = known
    if free is None:
        test = (
            "Free-sag test: stand it without rider and load; if it hardly sags then, the spring is too soft."
        )
    else:
        test = (
            f"With {free.name} it sags {length(study, free.sag)} only, {100 * free.share:.0f} % of its travel: the "
            "spring is too soft and screwed together."
        )
    doubt, lower = _doubt(study), length(study, _more_sag(row, held))
    return Finding(
        "sag-by-preload",
        "watch" if free is None else "fix",
        _SITS,
        f"Preload carries {100 * share:.0f} % of what the springs carry {on_wheels(wheels)}: without it the wheel "
        f"stands {lower} lower. Preload is height, not stiffness. {test} Fit a stiffer spring with less preload, or a "
        f"larger ratio.{doubt}",
        f"Push of the coils at fully open, by their push where it stands; over {100 * _SHARE:.0f} % the spring is the "
        f"wrong one. A right one lets the lightest load sag {100 * _FREE:.0f} % of the travel at least.",
        COMMON_PRACTICE,
        share,
        wheels=wheels,
        travel=float(row.figures.value["standing_travel"][0]),
    )


def _doubt(study: Study) -> str:
    """Whose preload may be gas in part, because the rod was not pushed alone."""
    unknown = [
        name
        for name, fit in study.measured.springs.items()
        if name in study.file.shocks and fit.bench is not None and not fit.gas_known
    ]
    if not unknown:
        return ""
    from leverwright.search.spring_words import COIL_CAUTION, GAS_CAUTION

    return (
        f" Part of it may be gas in {in_words(unknown)}: push the rod alone, without its coil, to know. {COIL_CAUTION} "
        f"{GAS_CAUTION}"
    )
