"""All findings of a study, the most dangerous first within each question."""

from __future__ import annotations

from dataclasses import replace

from leverwright.findings.finding import QUESTIONS, Finding, rules
from leverwright.search import Remedy, Trials, cures
from leverwright.study import Study

__all__ = ["judge", "with_remedies"]

_MOST_TRIED = 24  # candidates solved for one vehicle, so that the worst of them is answered within seconds
_DANGER = {"stop": 0, "fix": 1, "watch": 2, "good": 3}


def judge(study: Study, only: str | None = None) -> tuple[Finding, ...]:
    """Every finding that fires, by question, then by danger, then as the questions' functions stand; no remedies.

    only  an id: just that finding is looked for
    """
    found: list[Finding] = []
    for entry in rules():
        if only is not None and entry.id != only:
            continue
        result = entry.rule(study)
        if result is not None:
            found += [result] if isinstance(result, Finding) else list(result)
    return tuple(sorted(found, key=lambda f: (QUESTIONS.index(f.question), _DANGER[f.severity])))


def with_remedies(study: Study, found: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """The same findings, each with the remedies of one change that cure it and cause nothing worse."""
    tried, trials = 0, Trials(study)
    judged: dict[tuple[Study, str | None], tuple[Finding, ...]] = {}

    def counted(changed: Study, only: str | None = None) -> tuple[Finding, ...]:
        nonlocal tried
        tried += only is not None
        if (changed, only) not in judged:
            judged[changed, only] = judge(changed, only)
        return judged[changed, only]

    cured: dict[int, Finding] = {}
    for index in sorted(range(len(found)), key=lambda k: _DANGER[found[k].severity]):
        before = tried
        remedies = cures(study, found[index], found, counted, trials) if tried < _MOST_TRIED else ()
        cured[index] = _with(found[index], remedies, tried - before)
    return tuple(cured[index] for index in range(len(found)))


def _with(finding: Finding, remedies: tuple[Remedy, ...], tried: int) -> Finding:
    """The finding with its remedies; where some were tried and none cures it, its reason says so."""
    if remedies or not tried or finding.severity not in ("stop", "fix"):
        return replace(finding, remedies=remedies)
    changes = (
        "The one change tried here does not cure it"
        if tried == 1
        else (f"None of the {tried} single changes tried here cures it")
    )
    return replace(finding, why=f"{finding.why} {changes} without making something worse: combine several.")
