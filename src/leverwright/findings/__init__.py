"""Findings: each answers one of the builder's questions with a number, a reason and, where one is found, a cure."""

from leverwright.findings.finding import COMMON_PRACTICE, QUESTIONS, Finding, Question
from leverwright.findings.judge import judge

__all__ = ["COMMON_PRACTICE", "QUESTIONS", "Finding", "Question", "judge"]
