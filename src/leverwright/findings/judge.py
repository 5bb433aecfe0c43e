"""All findings of a study, the most dangerous first within each question."""

from __future__ import annotations

from dataclasses import replace

from leverwright.findings.finding import QUESTIONS, Finding, rules
from leverwright.search import cures
from leverwright.study import Study

__all__ = ["judge", "with_remedies"]

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
    return tuple(replace(finding, remedies=cures(study, finding, found, judge)) for finding in found)
