"""Do two travels read by hand agree with the ratio of the drawing, or with it upside down?"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from leverwright.findings.finding import COMMON_PRACTICE, Finding, finding
from leverwright.findings.words import length, the_wheels
from leverwright.project import Project
from leverwright.project.measuring import Travelled
from leverwright.quantity import Quantity, say_ratio
from leverwright.study import Study

__all__ = ["ratio_undecided", "ratio_upside_down"]

_NUMBERS: Final = "Can I trust my numbers?"
_SURELY = 3.0  # standard deviations beyond which two ratios are not one
_SIGMAS = 2.0
# One standard deviation of a reading by hand of how far something moved, where nothing states it: two marks with a
# tape between them (CP).
_BY_HAND = 0.001  # m
_WIDE = 0.10  # of the ratio, two standard deviations: the rate at the wheel is then known to a fifth (CP)
_OFF = 0.30  # of the drawn ratio: a ratio changes over the travel, but a reading further off is of something else (CP)
_EVEN = 0.05  # of 1: a ratio so near to 1 has nothing to turn upside down (CP)
_MOST_MOVED = 0.7  # of the whole travel: more of it is awkward to hold by hand (CP)


@dataclass(frozen=True, slots=True)
class _Read:
    """What the readings of one pair of travels say, and what the drawing says of the same.

    ratio    spring by wheel, the line through the common start that fits the readings best; error one sigma
    drawn    the ratio as computed, and its sigma
    noise    m, sigma of one reading as it counts in spring movement
    """

    pair: Travelled
    ratio: float
    error: float
    drawn: float
    drawn_error: float
    noise: float

    @property
    def between(self) -> tuple[float, float]:
        """Where the ratio lies by the readings; none is negative."""
        spread = _SIGMAS * self.error
        return max(self.ratio - spread, 0.0), self.ratio + spread

    @property
    def upside_down(self) -> bool:
        """Does what was read lie nearer to one over the drawing's ratio, and surely not at that ratio?"""
        apart = abs(self.ratio - self.drawn)
        turned = math.log(self.ratio) * math.log(self.drawn) < 0.0
        return (
            turned
            and abs(self.drawn - 1.0) > _EVEN
            and apart > _SIGMAS * math.hypot(self.error, self.drawn_error)
        )

    @property
    def off(self) -> bool:
        """Is it surely neither the drawing's ratio nor that one upside down?"""
        apart = abs(self.ratio - self.drawn)
        surely = _SURELY * math.hypot(self.error, self.drawn_error)
        return not self.upside_down and apart > max(surely, _OFF * self.drawn)

    @property
    def undecided(self) -> bool:
        """Do the errors allow both, or so much that nothing follows?"""
        wide = _SIGMAS * self.error
        both = all(abs(self.ratio - one) <= wide for one in (self.drawn, 1 / self.drawn))
        far_apart = abs(self.drawn - 1 / self.drawn) > _WIDE * self.drawn
        return wide > _WIDE * self.ratio or (both and far_apart)


@finding("ratio-upside-down", question=_NUMBERS)
def ratio_upside_down(study: Study) -> tuple[Finding, ...]:
    """Do the travels read by hand give one over the ratio of the drawing?"""
    return tuple(_upside_down(study, read) for read in _reads(study) if read.upside_down)


@finding("ratio-undecided", question=_NUMBERS)
def ratio_undecided(study: Study) -> tuple[Finding, ...]:
    """Are the readings too near to each other for their errors, or is the ratio that they give not the drawing's?"""
    return tuple(
        _off(study, read) if read.off else _undecided(study, read)
        for read in _reads(study)
        if read.off or (read.undecided and not read.upside_down)
    )


def _reads(study: Study) -> Iterator[_Read]:
    """Each pair of travels that has a ratio in the drawing to stand beside."""
    for pair in study.file.travels.values():
        answers = study.answers.get(pair.wheel)
        drawn = None if answers is None else answers.motion_ratio.get(pair.spring)
        if drawn is None or drawn.value is None or drawn.value <= 0.0 or drawn.per_metre:
            continue
        moved = [(w.value, s.value) for w, s in zip(pair.wheel_moved, pair.spring_moved, strict=True)]
        squares = sum(w * w for w, _ in moved)
        ratio = sum(w * abs(s) for w, s in moved) / squares if squares > 0.0 else 0.0
        if ratio <= 0.0:
            continue
        noise = math.hypot(
            _sigma(study.file, pair.spring_moved), ratio * _sigma(study.file, pair.wheel_moved)
        )
        yield _Read(pair, ratio, noise / math.sqrt(squares), drawn.value, drawn.error or 0.0, noise)


def _sigma(project: Project, moved: tuple[Quantity, ...]) -> float:
    """One standard deviation [m] of a reading: the largest stated, else that of a tape, else by hand."""
    stated = [reading.error for reading in moved if reading.error is not None]
    return max(stated) if stated else project.tape_error or _BY_HAND


def _points(study: Study, pair: Travelled) -> tuple[str, ...]:
    return tuple(sorted(study.project.springs[pair.spring].ends or ()))


def _upside_down(study: Study, read: _Read) -> Finding:
    pair = read.pair
    once = sum(reading.value > 0.0 for reading in pair.wheel_moved) < 2
    again = (
        " Only one travel is written down: read two, the second about twice as far."
        if once
        else " Read both travels once more, each against the chassis, and say which tape lay at which."
    )
    wheel, spring = pair.wheel_moved[-1].value, pair.spring_moved[-1].value
    return Finding(
        "ratio-upside-down",
        "fix",
        _NUMBERS,
        f"As read, {pair.spring} moves {length(study, spring)} while {the_wheels([pair.wheel])} moves "
        f"{length(study, wheel)}: a ratio of {read.ratio:.2f}, where the drawing gives {say_ratio(read.drawn)}. "
        f"That is nearer to its inverse, {1 / read.drawn:.2f}: wheel and spring are swapped, in the readings or in the "
        f"drawing.{again}",
        "Ratio = spring movement / wheel movement; both ways round are in use, and the wrong one enters the rate at "
        "the wheel with its fourth power.",
        "the drawing's own ratio against the readings",
        read.ratio,
        _points(study, pair),
        wheels=(pair.wheel,),
    )


def _off(study: Study, read: _Read) -> Finding:
    pair = read.pair
    low, high = read.between
    return Finding(
        "ratio-undecided",
        "fix",
        _NUMBERS,
        f"As read, {pair.spring} and {the_wheels([pair.wheel])} move at a ratio between {low:.2f} and {high:.2f}, "
        f"where the drawing gives {say_ratio(read.drawn)}: they do not agree, and neither is the other upside down. "
        "Read both travels once more from the same start, and measure the lever, pivot to link hole and pivot to "
        "spring hole.",
        f"Allowed: three standard deviations of readings and drawing, and {100 * _OFF:.0f} %.",
        COMMON_PRACTICE,
        read.ratio,
        _points(study, pair),
        wheels=(pair.wheel,),
    )


def _undecided(study: Study, read: _Read) -> Finding:
    pair = read.pair
    low, high = read.between
    # Half as wide as what would still be called wide, or as the way to the inverse.
    share = min(_WIDE, 0.5 * abs(1 / read.drawn - read.drawn) / read.drawn or _WIDE, 1.0)
    needed = _SIGMAS * read.noise / (max(share, 0.02) * read.drawn)
    far = max(reading.value for reading in pair.wheel_moved)
    return Finding(
        "ratio-undecided",
        "watch",
        _NUMBERS,
        f"The travels read of {the_wheels([pair.wheel])} and {pair.spring} decide nothing: after "
        f"{length(study, far)} of wheel the ratio is between {low:.2f} and {high:.2f}, and the drawing's is "
        f"{read.drawn:.2f}. {_instead(study, read, needed)}",
        f"Two standard deviations of the readings ({length(study, read.noise)} as they count in spring movement) by "
        f"how far it moved. Decided is within {100 * _WIDE:.0f} %, and not both ways round.",
        COMMON_PRACTICE,
        read.error / read.ratio,
        _points(study, pair),
        wheels=(pair.wheel,),
    )


def _instead(study: Study, read: _Read, needed: float) -> str:
    """How far to move it; where that is further than it goes, what to measure instead."""
    travel = _whole_travel(study, read.pair.wheel)
    if travel is None or needed <= _MOST_MOVED * travel:
        return (
            f"Move the wheel by {length(study, needed)} at least, from the same start, and read both again."
        )
    return (
        f"It would have to move {length(study, needed)}, more than can be held by hand: measure the lever instead, "
        "pivot to link hole and pivot to spring hole, with a calliper or a steel rule; that gives the ratio better."
    )


def _whole_travel(study: Study, wheel: str) -> float | None:
    for sprung, travels in zip(study.assemblies, study.travels, strict=True):
        if wheel in sprung.assembly.layout.wheel_names and travels is not None and travels.range is not None:
            return travels.range.bump.travel - travels.range.droop.travel
    return None
