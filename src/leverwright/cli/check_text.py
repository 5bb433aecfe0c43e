"""Answers and findings as lines of a terminal."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from leverwright.cli.terminal import Terminal
from leverwright.quantity import System, in_inches
from leverwright.wire.answers import Said, SaidAnswers
from leverwright.wire.findings import FoundFinding, FoundRemedy
from leverwright.wire.workspace import NextStep

__all__ = ["show_answers", "show_closing", "show_findings"]

_WIDEST_LABEL = 44
_UNSAID = "cannot be said"  # how wire begins the words of an answer that there is none of
_SEVERITIES = ("stop", "fix", "watch", "good")
_UNCHECKED = "Not checked by this version: strength, clearance, welds. No number here is permission to ride."


def show_answers(out: Terminal, said: SaidAnswers, system: System) -> None:
    """What each wheel and each axle does; wheels that say the same stand together."""
    for names, rows in [*_alike(said.wheels), *_alike(said.axles)]:
        out.line()
        out.line(", ".join(names), "title")
        labels = [f"{row.label} ({row.of})" if row.of and _many(rows, row.key) else row.label for row in rows]
        told = {
            label: row.inch if system == "inch" else row.metric
            for label, row in zip(labels, rows, strict=True)
        }
        known = {label: words for label, words in told.items() if not words.startswith(_UNSAID)}
        width = min(_WIDEST_LABEL, max(map(len, known), default=0))
        for label, words in known.items():
            out.item(f"  {label:<{width}}  ", words)
        _show_unsaid(out, {label: words for label, words in told.items() if label not in known})


def _show_unsaid(out: Terminal, told: Mapping[str, str]) -> None:
    """What cannot be said, each reason once."""
    for reason in dict.fromkeys(told.values()):
        labels = [label for label, words in told.items() if words == reason]
        out.line(f"{', '.join(labels)}: {reason}", indent=2)


def _many(rows: Sequence[Said], key: str) -> bool:
    return sum(row.key == key for row in rows) > 1


def _alike(things: Mapping[str, list[Said]]) -> list[tuple[list[str], list[Said]]]:
    """Things by name, those together whose every answer has the same words on their own side."""
    groups: dict[tuple[tuple[str, str, str], ...], tuple[list[str], list[Said]]] = {}
    for name, rows in things.items():
        words = tuple(sorted((row.key, _side_of(row.of, name), row.metric) for row in rows))
        groups.setdefault(words, ([], rows))[0].append(name)
    return list(groups.values())


def _side_of(spring: str | None, wheel: str) -> str:
    """Where a spring is, seen from its wheel: on the same side, on the other, or its name."""
    side, own = _side(spring or ""), _side(wheel)
    if spring is None or not side or not own:
        return spring or ""
    return f"{spring.removesuffix(side)} {'here' if side == own else 'there'}"


def _side(name: str) -> str:
    return next((side for side in ("-left", "-right") if name.endswith(side)), "")


def show_findings(out: Terminal, findings: Sequence[FoundFinding], system: System) -> None:
    """Findings under the builder's questions, each with what cures it."""
    said = in_inches if system == "inch" else str
    question = None
    shown: set[str] = set()
    for finding in findings:
        if finding.question != question:
            question = finding.question
            out.line()
            out.line(question, "title")
        out.line(f"{finding.severity.upper()}: {said(finding.sentence)}", finding.severity, indent=2)
        out.line(f"Why: {said(finding.why)} Source: {finding.source} [{finding.id}]", "faint", indent=6)
        for remedy in finding.remedies:
            _show_remedy(out, remedy, system, again=remedy.do in shown)
            shown.add(remedy.do)


def _show_remedy(out: Terminal, remedy: FoundRemedy, system: System, *, again: bool) -> None:
    """What to do, what it takes, before and after; the second time only that it cures this too."""
    said = in_inches if system == "inch" else str
    if again:
        out.line(f"- {said(remedy.do)}: as above", indent=6)
        return
    out.line(f"- {said(remedy.do)}: {remedy.effort}", indent=6)
    out.line(f"now {said(remedy.before)}", indent=10)
    out.line(f"then {said(remedy.after)}", indent=10)


def show_closing(out: Terminal, findings: Sequence[FoundFinding], step: NextStep) -> None:
    """What to do next, how many findings there are of each kind, and what none of them speaks of."""
    out.line()
    out.line(f"Next: {step.do} ({step.takes})", "title")
    counts = [(severity, sum(each.severity == severity for each in findings)) for severity in _SEVERITIES]
    said = ", ".join(f"{count} {severity}" for severity, count in counts if count)
    out.line()
    out.line(f"{said or 'Nothing to stop, fix or watch'}. {_UNCHECKED}", "faint")
