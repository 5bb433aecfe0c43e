"""Do the links reach over the whole travel?"""

from __future__ import annotations

from leverwright.findings.finding import Finding, finding
from leverwright.findings.rows import Row, rows
from leverwright.findings.words import in_words, length, the_wheels, travel
from leverwright.study import Study

__all__ = ["link_short"]


@finding("link-short", question="Does it lock or bind?")
def link_short(study: Study) -> tuple[Finding, ...]:
    """Is there a travel, asked for or allowed by the shock, at which the drawn lengths do not close?"""
    found = []
    for row in rows(study):
        if not row.wheels:
            continue
        if (
            row.travels is None
            and row.sprung.assembly.freedom.wheel_rank
            and not row.sprung.assembly.freedom.singular
        ):
            found.append(_never(row))
        elif row.travels is not None and row.travels.range is not None:
            ends = row.travels.range
            found += [
                _short(study, row, stop.travel, way)
                for way, stop in (("droop", ends.droop), ("bump", ends.bump))
                if stop.why == "link stretched"
            ]
        elif row.travels is not None:
            found.append(_no_stretch(row))
    return tuple(found)


def _never(row: Row) -> Finding:
    return Finding(
        "link-short",
        "stop",
        "Does it lock or bind?",
        f"With the lengths as stated, {the_wheels(row.wheels)} cannot be put together at all: no position "
        "closes. Check the lengths "
        "of the bars against the distances between their points.",
        "Bars led from their measured to their stated lengths; the linkage opens on the way.",
        "geometry of rigid parts",
        0.0,
        wheels=row.wheels,
    )


def _no_stretch(row: Row) -> Finding:
    limits = in_words(dict.fromkeys(limit.name for limit in row.sprung.limits))
    return Finding(
        "link-short",
        "stop",
        "Does it lock or bind?",
        f"At no travel of {the_wheels(row.wheels)} can {limits} be as long as drawn: each would be longer than fully "
        "open or shorter than fully closed, so the linkage cannot be put together.",
        "Shock and strap lengths over the whole way of the linkage, against fully open, fully closed and taut.",
        "geometry of rigid parts",
        0.0,
        wheels=row.wheels,
    )


def _short(study: Study, row: Row, at: float, way: str) -> Finding:
    return Finding(
        "link-short",
        "stop",
        "Does it lock or bind?",
        f"{the_wheels(row.wheels, first=True)} stops at {travel(study, at)} because the links are stretched: no "
        "lengths close beyond, though the shock would let it go on. "
        f"Limit the {way} to less than {length(study, abs(at))}, or make a link longer.",
        "The linkage's way turns back there, and no lever is in line with its link.",
        "geometry of rigid parts",
        at,
        travel=at,
        wheels=row.wheels,
    )
