"""Can the springs' numbers be trusted? The rules; what they look at is loaded by those alone who measured springs."""

from __future__ import annotations

from typing import Final

from leverwright.findings.finding import Finding, finding
from leverwright.study import Study

__all__ = [
    "bench_reading_odd",
    "bench_stroke_short",
    "shock_unfit",
    "springs_differ",
    "wire_and_bench_differ",
]

_NUMBERS: Final = "Can I trust my numbers?"


@finding("shock-unfit", question=_NUMBERS)
def shock_unfit(study: Study) -> tuple[Finding, ...]:
    """Does a shock's test show that it should not be used?"""
    if not study.measured.springs:
        return ()
    from leverwright.findings.numbers import spring_checks

    return spring_checks.shock_unfit(study)


@finding("wire-and-bench-differ", question=_NUMBERS)
def wire_and_bench_differ(study: Study) -> tuple[Finding, ...]:
    """Do the scale and the wire give two rates that cannot both be right?"""
    if not study.measured.springs:
        return ()
    from leverwright.findings.numbers import spring_checks

    return spring_checks.wire_and_bench_differ(study)


@finding("bench-stroke-short", question=_NUMBERS)
def bench_stroke_short(study: Study) -> tuple[Finding, ...]:
    """Does a rate come from so little squash that marks and scale decide it?"""
    if not study.measured.springs:
        return ()
    from leverwright.findings.numbers import spring_checks

    return spring_checks.bench_stroke_short(study)


@finding("bench-reading-odd", question=_NUMBERS)
def bench_reading_odd(study: Study) -> tuple[Finding, ...]:
    """Does one reading not belong to the others?"""
    if not study.measured.springs:
        return ()
    from leverwright.findings.numbers import spring_checks

    return spring_checks.bench_reading_odd(study)


@finding("sides-differ", question=_NUMBERS)
def springs_differ(study: Study) -> tuple[Finding, ...]:
    """Do left and right have springs that differ in rate, or in force where they stand?"""
    if len(study.project.shocks) < 2:
        return ()
    from leverwright.findings.numbers import spring_checks

    return spring_checks.springs_differ(study)
