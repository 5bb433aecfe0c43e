"""Findings: each answers one of the builder's questions with a number, a reason and, where one is found, a cure."""

from leverwright.findings import locks, made, moves
from leverwright.findings.finding import COMMON_PRACTICE, QUESTIONS, Finding, Question
from leverwright.findings.judge import judge, with_remedies

__all__ = [
    "COMMON_PRACTICE",
    "QUESTIONS",
    "Finding",
    "Question",
    "judge",
    "locks",
    "made",
    "moves",
    "with_remedies",
]
