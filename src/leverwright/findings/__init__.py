"""Findings: each answers one of the builder's questions with a number, a reason and, where one is found, a cure."""

from leverwright.findings import drive, locks, made, moves, numbers, sits
from leverwright.findings.finding import COMMON_PRACTICE, QUESTIONS, Finding, Question
from leverwright.findings.judge import judge, with_remedies
from leverwright.findings.made.print_scale import print_scaled

__all__ = [
    "COMMON_PRACTICE",
    "QUESTIONS",
    "Finding",
    "Question",
    "drive",
    "judge",
    "locks",
    "made",
    "moves",
    "numbers",
    "print_scaled",
    "sits",
    "with_remedies",
]
