"""Findings → their documents."""

from __future__ import annotations

from collections.abc import Iterable

from leverwright.findings import Finding
from leverwright.quantity import in_inches, to_surface
from leverwright.search.remedy import Effort, Remedy
from leverwright.study import Study
from leverwright.wire.check import CheckDocument
from leverwright.wire.findings import FoundFinding, FoundRemedy, RemedyWithOps, ShownFinding, Where
from leverwright.wire.load_sets import answers_under_each
from leverwright.wire.strict import number

__all__ = ["check_document", "effort_of", "found_findings", "shown_findings"]


def check_document(study: Study, findings: Iterable[Finding]) -> CheckDocument:
    """What `check --json` prints."""
    return CheckDocument(
        title=study.project.title, answers=answers_under_each(study), findings=found_findings(findings)
    )


def found_findings(findings: Iterable[Finding]) -> list[FoundFinding]:
    """For `check --json`."""
    return [
        FoundFinding(
            each.id, each.severity, each.question, each.sentence, _where(each), each.why,
            [FoundRemedy(r.do, effort_of(r.effort), r.before, r.after) for r in each.remedies], each.source,
        )
        for each in findings
    ]  # fmt: skip


def shown_findings(findings: Iterable[Finding]) -> list[ShownFinding]:
    """For the page: each remedy with the edits that carry it out."""
    return [
        ShownFinding(
            each.id, each.severity, each.question, each.sentence, in_inches(each.sentence), _where(each),
            each.why, in_inches(each.why), [_shown(remedy) for remedy in each.remedies], each.source,
        )
        for each in findings
    ]  # fmt: skip


def _shown(remedy: Remedy) -> RemedyWithOps:
    ops = [dict(op) for op in remedy.ops]
    said = remedy.do, remedy.before, remedy.after
    do_inch, before_inch, after_inch = (in_inches(sentence) for sentence in said)
    return RemedyWithOps(
        remedy.do,
        effort_of(remedy.effort),
        remedy.before,
        remedy.after,
        ops,
        do_inch,
        before_inch,
        after_inch,
    )


def _where(finding: Finding) -> Where:
    travel = None if finding.travel is None else number(to_surface(finding.travel, "length"))
    return Where(sorted(finding.points), travel)


def effort_of(effort: Effort) -> str:
    """Workshop time and what it takes, such as "10 min, two spanners" or "4 h, welding"."""
    minutes = round(effort.minutes)
    time = f"{minutes} min" if minutes < 90 else f"{effort.minutes / 60:.3g} h"
    return f"{time}, {effort.word}"
