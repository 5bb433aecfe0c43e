"""What reading the file already saw: keys without which answers lack, and things that do nothing."""

from __future__ import annotations

from typing import Final

from leverwright.findings.finding import Finding, finding
from leverwright.study import Study

__all__ = [
    "body_of_one_point",
    "mass_unused",
    "pose_unstated",
    "shock_unused",
    "side_unstated",
    "unsprung_unstated",
]

_NUMBERS: Final = "Can I trust my numbers?"


@finding("pose-unstated", question=_NUMBERS)
def pose_unstated(study: Study) -> tuple[Finding, ...]:
    """In which state were the points measured?"""
    return _told(study, "pose-unstated", "A spring's length in the set-up pose says where the wheel stands.")


@finding("unsprung-unstated", question=_NUMBERS)
def unsprung_unstated(study: Study) -> tuple[Finding, ...]:
    """How much of the load on the scale rests on no spring?"""
    why = "What the springs carry is the load on the scale less the unsprung mass."
    return _told(study, "unsprung-unstated", why)


@finding("shock-unused", question=_NUMBERS)
def shock_unused(study: Study) -> tuple[Finding, ...]:
    """Is a shock described that no spring uses?"""
    return _told(study, "shock-unused", "A name may be misspelt, or a spring may be missing.")


@finding("mass-unused", question=_NUMBERS)
def mass_unused(study: Study) -> tuple[Finding, ...]:
    """Is a mass described that no load set carries?"""
    return _told(study, "mass-unused", "What is in no load set weighs on no wheel.")


@finding("body-of-one-point", question=_NUMBERS)
def body_of_one_point(study: Study) -> tuple[Finding, ...]:
    """Does a body carry one point only?"""
    return _told(study, "body-of-one-point", "A body turns about a single point as it likes.")


@finding("side-unstated", question=_NUMBERS)
def side_unstated(study: Study) -> tuple[Finding, ...]:
    """Does a point stand on the left without a twin on the right?"""
    return _told(study, "side-unstated", "Only what ends in -left is built on the right too.")


def _told(study: Study, topic: str, why: str) -> tuple[Finding, ...]:
    """The reader's notices of one topic; each in the file's own words."""
    return tuple(
        Finding(
            topic,
            "watch",
            _NUMBERS,
            f"{notice.found[:1].upper()}{notice.found[1:]} ({notice.key}): allowed is {notice.allowed}; {notice.do}.",
            why,
            "the file's own rules",
        )
        for notice in study.project.notices
        if notice.topic == topic
    )
