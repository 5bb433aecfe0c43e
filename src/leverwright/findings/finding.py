"""What a finding is, and the register that every question's functions enter themselves in."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from leverwright.search.remedy import Remedy
from leverwright.study import Study

__all__ = ["COMMON_PRACTICE", "QUESTIONS", "Finding", "Question", "Rule", "finding", "rules"]

Severity = Literal["stop", "fix", "watch", "good"]
Question = Literal[
    "Can I trust my numbers?",
    "Does it move?",
    "Does it sit right?",
    "Does it lock or bind?",
    "Does it clear?",
    "Will it hold?",
    "Is it safe to drive and to touch?",
    "Can it be made?",
    "Is it what I built?",
    "Does it stay right?",
]
QUESTIONS: tuple[Question, ...] = Question.__args__  # type: ignore[attr-defined]
COMMON_PRACTICE = "common practice"


@dataclass(frozen=True, slots=True)
class Finding:
    """One answer to a builder's question.

    number   what the sentence turns on, SI, for tests and sorting; None where it is no number
    points   names, sorted; travel in metres from the set-up pose, or None
    wheels   wheels that it concerns
    """

    id: str
    severity: Severity
    question: Question
    sentence: str
    why: str
    source: str
    number: float | None = None
    points: tuple[str, ...] = ()
    travel: float | None = None
    wheels: tuple[str, ...] = ()
    remedies: tuple[Remedy, ...] = ()


Rule = Callable[[Study], "Finding | tuple[Finding, ...] | None"]


@dataclass(frozen=True, slots=True)
class _Entry:
    id: str
    question: Question
    rule: Rule


_RULES: list[_Entry] = []  # filled once, when the modules of the questions are imported


def finding(id: str, question: Question) -> Callable[[Rule], Rule]:  # noqa: A002 - the trade of the design's own word
    """Enter a function under its id and question; several functions may serve one id."""

    def enter(rule: Rule) -> Rule:
        _RULES.append(_Entry(id, question, rule))
        return rule

    return enter


def rules() -> tuple[_Entry, ...]:
    """All entered functions, by question in the order of QUESTIONS, then as entered: danger first."""
    return tuple(sorted(_RULES, key=lambda entry: QUESTIONS.index(entry.question)))
