"""Was a shock measured over all of the travel that it is used for?"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import numpy as np

from leverwright.findings.finding import Finding, finding
from leverwright.findings.rows import Row, rows
from leverwright.findings.words import in_words, length
from leverwright.springs import ShockLaw
from leverwright.study import Study

__all__ = ["table_short"]

_NUMBERS: Final = "Can I trust my numbers?"
_MARK = 1e-4  # m; a tape reads a shock's marks no finer


@finding("table-short", question=_NUMBERS)
def table_short(study: Study) -> tuple[Finding, ...]:
    """Does a wheel use a shock beyond the first or last mark of its table?"""
    found: dict[tuple[str, float], tuple[list[str], float]] = {}
    for row in rows(study):
        for spring, mark, needed in _beyond(row):
            shock = study.project.springs[spring].shock or spring
            springs, far = found.get((shock, mark), ([], mark))
            further = needed if abs(needed - mark) > abs(far - mark) else far
            found[shock, mark] = ([*springs, spring], further)
    return tuple(
        _short(study, shock, springs, mark, needed) for (shock, mark), (springs, needed) in found.items()
    )


def _beyond(row: Row) -> Iterator[tuple[str, float, float]]:
    """Springs used beyond a mark: name, the mark and how far it is pushed in there [m]."""
    if row.heave.springs is None:
        return
    for line, law in enumerate(row.sprung.laws):
        if not isinstance(law, ShockLaw) or not len(law.rows):
            continue
        used = row.heave.springs.compression[:, line]
        name = row.sprung.assembly.layout.line_names[line]
        first, last = float(law.rows[0, 0]), float(law.rows[-1, 0])
        if np.max(used) > last + _MARK:
            yield name, last, float(np.max(used))
        if np.min(used) < first - _MARK:
            yield name, first, float(np.min(used))


def _short(study: Study, shock: str, springs: list[str], mark: float, needed: float) -> Finding:
    end = "ends" if needed > mark else "begins"
    return Finding(
        "table-short",
        "fix",
        _NUMBERS,
        f"The table of {shock} {end} at {length(study, mark)} pushed in, and {in_words(springs)} goes to "
        f"{length(study, needed)}: what was not measured is not guessed, so the answers there are missing. Squash it "
        "on the scale over its whole stroke, behind a guard.",
        "Shock travel over the wheel's whole travel against the first and last mark of its table.",
        "measured range",
        needed - mark,
        tuple(sorted({end for name in springs for end in study.project.springs[name].ends or ()})),
    )
