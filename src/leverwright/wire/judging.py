"""Findings → their documents."""

from __future__ import annotations

from collections.abc import Iterable

from leverwright.findings import Finding
from leverwright.quantity import to_surface
from leverwright.search.remedy import Effort, Remedy
from leverwright.wire.findings import FoundFinding, FoundRemedy, RemedyWithOps, ShownFinding, Where
from leverwright.wire.strict import number

__all__ = ["found_findings", "shown_findings"]


def found_findings(findings: Iterable[Finding]) -> list[FoundFinding]:
    """For `check --json`."""
    return [
        FoundFinding(
            each.id, each.severity, each.question, each.sentence, _where(each), each.why,
            [FoundRemedy(r.do, _effort(r.effort), r.before, r.after) for r in each.remedies], each.source,
        )
        for each in findings
    ]  # fmt: skip


def shown_findings(findings: Iterable[Finding]) -> list[ShownFinding]:
    """For the page: each remedy with the edits that carry it out."""
    return [
        ShownFinding(
            each.id, each.severity, each.question, each.sentence, _where(each), each.why,
            [_shown(remedy) for remedy in each.remedies], each.source,
        )
        for each in findings
    ]  # fmt: skip


def _shown(remedy: Remedy) -> RemedyWithOps:
    ops = [dict(op) for op in remedy.ops]
    return RemedyWithOps(remedy.do, _effort(remedy.effort), remedy.before, remedy.after, ops)


def _where(finding: Finding) -> Where:
    travel = None if finding.travel is None else number(to_surface(finding.travel, "length"))
    return Where(sorted(finding.points), travel)


def _effort(effort: Effort) -> str:
    """Such as "10 min, two spanners" or "4 h, welding"."""
    minutes = round(effort.minutes)
    time = f"{minutes} min" if minutes < 90 else f"{effort.minutes / 60:.3g} h"
    return f"{time}, {effort.word}"
