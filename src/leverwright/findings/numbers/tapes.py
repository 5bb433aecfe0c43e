"""Do the tapes agree, are they checked, do they place everything, and on which side?"""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Final, Literal

import numpy as np

from leverwright.findings.finding import COMMON_PRACTICE, Finding, finding
from leverwright.findings.words import in_words, length
from leverwright.study import Study

if TYPE_CHECKING:
    from leverwright.assemble.tapes import Taped
    from leverwright.measure.datum import Loose
    from leverwright.measure.network import Observed, Suspect

__all__ = ["mirror_image", "place_undetermined", "tape_unchecked", "tapes_disagree"]

_NUMBERS: Final = "Can I trust my numbers?"
_Severity = Literal["stop", "fix", "watch"]
_FEW = 4  # names told one by one
_SNOOPING = "three standard deviations: data snooping, as surveyors do it"
_WAYS = ("ahead and back", "sideways", "up and down")
_CENTRE: Final = frozenset({"sideways", "yaw"})


def _taped(study: Study) -> Taped | None:
    return study.measured.tapes


def _names(taped: Taped, points: Iterable[int]) -> tuple[str, ...]:
    network = taped.network.network
    return tuple(network.names[network.twin_of[p]] for p in points)


def _some(names: Iterable[str]) -> str:
    """A few names, and how many more there are."""
    each = list(dict.fromkeys(names))
    if len(each) <= _FEW + 1:
        return in_words(each)
    return f"{', '.join(each[:_FEW])} and {len(each) - _FEW} more"


@finding("tapes-disagree", question=_NUMBERS)
def tapes_disagree(study: Study) -> tuple[Finding, ...]:
    """Is a reading further from what the others say than chance takes it?"""
    taped = _taped(study)
    if taped is None:
        return ()
    found = [_disagrees(study, taped, suspect) for suspect in taped.network.suspects]
    found += [_torn(study, taped, name) for name in sorted(taped.torn)]
    found += [_wrong_side(taped, name) for name in taped.network.wrong_side]
    if not found and not taped.network.agrees and taped.stated:
        found.append(_scattered(taped))
    return tuple(found)


# What is stated of points and not read off them.
_STATED = ("coordinate", "depth")


def _what(taped: Taped, observed: Observed) -> str:
    """A reading as the builder knows it."""
    row = observed.row
    points = _names(taped, row.points)
    if row.kind == "coordinate":
        return f"the coordinate {row.part} of {points[0]}"
    if row.kind == "picture":
        return f"the pick of {points[0]} in the picture {row.name}"
    if row.kind == "depth":
        return f"the depth of {points[0]} in the picture {row.name}"
    return f"tape {row.name}"


def _disagrees(study: Study, taped: Taped, suspect: Suspect) -> Finding:
    rows = [taped.network.observed[k] for k in suspect.observed]
    worst, gap = rows[0], abs(suspect.gap)
    each = list(dict.fromkeys(_what(taped, row) for row in rows))
    points = tuple(sorted({name for row in rows for name in _names(taped, row.row.points)}))
    if len(each) == 1:
        way = "more" if suspect.gap > 0.0 else "less"
        sentence = (
            f"{each[0][0].upper()}{each[0][1:]} ({in_words(_names(taped, worst.row.points))}) reads "
            f"{length(study, gap)} {way} than the others put there. "
            + (
                "Measure it again; until then the places are solved without it."
                if suspect.left_out
                else "Measure it again; it may be chance, and until then it counts as so much less certain."
            )
        )
    else:
        sentence = (
            f"One of these is wrong, by {length(study, gap)} or so, and nothing tells which: {in_words(each)}. "
            f"Measure them again, {each[0]} first; until then what hangs on them counts as so much less certain."
        )
    return _finding("tapes-disagree", "fix", sentence, gap, points)


def _torn(study: Study, taped: Taped, name: str) -> Finding:
    tape = study.file.tape[name]
    apart = taped.repeats[name]
    return _finding(
        "tapes-disagree",
        "fix",
        f"The readings of tape {name} lie {length(study, apart)} apart, further than its ± lets them. "
        "Measure it again and leave the bad one out.",
        apart,
        tuple(sorted(set(tape.points))),
    )


def _wrong_side(taped: Taped, name: str) -> Finding:
    side = next(s for s in taped.network.network.sides if s.name == name)
    points = _names(taped, (side.point, *side.of))
    return _finding(
        "tapes-disagree",
        "fix",
        f"{name} says that {points[0]} is {_where(side.where)} {in_words(points[1:])}, and the tapes put it on the "
        "other side. Look at it again: one of them is wrong.",
        None,
        tuple(sorted(points)),
    )


def _where(where: str) -> str:
    return {"left": "left of", "right": "right of", "ahead": "ahead of"}.get(where, where)


def _scattered(taped: Taped) -> Finding:
    s0 = taped.network.s0 or 0.0
    return _finding(
        "tapes-disagree",
        "watch",
        f"All readings together scatter {s0:.1f} times as much as their ± says, and no single one sticks out. "
        "State a larger tape_error, or measure again what was hard to reach.",
        s0,
        (),
    )


@finding("tape-unchecked", question=_NUMBERS)
def tape_unchecked(study: Study) -> Finding | None:
    """Would a slip in a reading go unseen?"""
    taped = _taped(study)
    if taped is None:
        return None
    from leverwright.measure.snooping import UNCHECKED

    alone = [
        o
        for o in taped.network.observed
        if o.row.kind not in _STATED and not o.left_out and o.redundancy < UNCHECKED
    ]
    if not alone:
        return None
    names = list(dict.fromkeys(_what(taped, o).removeprefix("tape ") for o in alone))
    points = tuple(sorted({p for o in alone for p in _names(taped, o.row.points)}))
    one = len(names) == 1
    return _finding(
        "tape-unchecked",
        "watch",
        f"Nothing checks {'this reading' if one else f'these {len(names)} readings'}, so that a slip of any size goes "
        f"unseen: {_some(names)}. {_check(study, taped, one)}",
        float(len(names)),
        points,
    )


def _check(study: Study, taped: Taped, one: bool) -> str:
    """The reading to take as a check."""
    more = f"One tape more to {'the place that it holds' if one else 'each place that they hold'} shows it"
    best = next((r for r in study.next_measurement if r.kind == "between" and not r.opens), None)
    if best is None:
        return f"{more}."
    first, second = _names(taped, best.points)
    return f"{more}; the one that makes the answers most certain goes from {first} to {second}."


@finding("place-undetermined", question=_NUMBERS)
def place_undetermined(study: Study) -> tuple[Finding, ...]:
    """Can a place lie elsewhere without a reading noticing it?"""
    taped = _taped(study)
    if taped is None:
        return ()
    used = _used(study)
    return tuple(_open(study, taped, loose, used) for loose in taped.network.loose)


def _used(study: Study) -> frozenset[str]:
    """Points that an answer hangs on: what moves and what it hangs from, not marks on the frame."""
    project = study.project
    names = {p for body in project.bodies.values() if body.name != "chassis" for p in body.points}
    names |= {end for bar in project.bars.values() for end in bar.ends}
    names |= {end for spring in project.springs.values() for end in spring.ends or ()}
    names |= {end for strap in project.straps.values() for end in strap.ends}
    return frozenset(names)


def _open(study: Study, taped: Taped, loose: Loose, used: frozenset[str]) -> Finding:
    points = _names(taped, loose.points)
    concerned = bool(used & set(points))
    severity: _Severity = "watch" if not concerned else "fix" if loose.motion in _CENTRE else "stop"
    return _finding(
        "place-undetermined",
        severity,
        f"{_said(taped, loose)} {_to_do(study, taped, loose)}",
        None,
        tuple(sorted(points)) if len(points) <= _FEW else (),
    )


def _said(taped: Taped, loose: Loose) -> str:
    points, about = _names(taped, loose.points), _names(taped, loose.about)
    first = points[0]
    if loose.motion == "anywhere":
        return f"Nothing measures where {first} is: it stands where it was sketched."
    if loose.motion == "round one":
        return f"{first} can lie anywhere round {in_words(about)}: what is read holds it no better."
    if loose.motion == "swing":
        return f"{first} can swing about the line through {in_words(about)}: two tapes alone hold it."
    if loose.motion == "one way":
        way = _WAYS[int(np.argmax(np.abs(loose.way)))]
        return f"{first} can move {way}, and no reading feels it: all that hold it lie square to that."
    if loose.motion == "together":
        return (
            f"{in_words(points)} can move{' together' if len(points) > 1 else ''}, and no reading feels it."
        )
    return {
        "pitch": "Nothing says which way is up: all the places could be tipped nose up or nose down.",
        "roll": "Nothing says which way is up: all the places could be tipped to the left or to the right.",
        "yaw": "Nothing says how all the places are turned to the centre plane.",
        "sideways": "Nothing says how far all the places are from the centre plane.",
        "ahead": "Nothing says how far ahead the taped places are of those given by coordinates.",
        "up": "Nothing says how high the taped places are over those given by coordinates.",
    }[loose.motion]


def _to_do(study: Study, taped: Taped, loose: Loose) -> str:
    """What to measure, from what the study reckons."""
    openers = [r for r in study.next_measurement if r.opens and set(r.points) & set(loose.points)]
    if loose.motion in {"pitch", "roll", "up"}:
        openers = [r for r in openers if r.kind == "height"]
    elif loose.motion in _CENTRE:
        openers = [r for r in openers if r.kind == "offset"]
    if not openers:
        return "Tape more between them and places that are known."
    first = openers[0]
    if first.kind == "height":
        where = _names(taped, first.points)[0]
        return f"Measure heights above the floor, that of {where} first, of points well apart."
    if first.kind == "offset":
        where = _names(taped, first.points)[0]
        return f"Tape from {where} across to its twin, or its distance from the centre plane."
    mine = [r for r in openers if r.kind == "between" and loose.points[0] in r.points]
    marks = [
        n for r in mine or [first] for n in _names(taped, r.points) if n not in _names(taped, loose.points)
    ]
    return f"Tape it from {in_words(marks)}, and from one place more as a check."


@finding("mirror-image", question=_NUMBERS)
def mirror_image(study: Study) -> tuple[Finding, ...]:
    """Would a place fit its tapes as well on the other side of what it is taped from?"""
    taped = _taped(study)
    if taped is None:
        return ()
    return tuple(
        _finding(
            "mirror-image",
            "fix",
            f"{in_words(_names(taped, image.points))} would fit the tapes as well {length(study, image.apart)} away, "
            f"on the other side of {in_words(_names(taped, image.through))}, and the sketch is too rough to tell. Say "
            "on which side it is (side = …), or tape it from a place that is not in line with those.",
            image.apart,
            tuple(sorted(_names(taped, image.points))),
        )
        for image in taped.network.mirrors
        if image.decided is None
    )


_WHY: Final = {
    "tapes-disagree": "Each reading is held against what all the others say, counting how exact each is and how well "
    "it is checked; beyond three standard deviations it is a slip and not chance.",
    "tape-unchecked": "A reading without which a place could not be found fits by itself, right or wrong: what the "
    "others say of it is nothing.",
    "place-undetermined": "The readings are solved together; in this motion none of them changes.",
    "mirror-image": "Distances alone are the same to a point and to its reflection in the plane of the places that "
    "it is taped from.",
}


def _finding(
    name: str, severity: _Severity, sentence: str, number: float | None, points: tuple[str, ...]
) -> Finding:
    return Finding(
        name,
        severity,
        _NUMBERS,
        sentence,
        _WHY[name],
        _SNOOPING if "tape" in name else COMMON_PRACTICE,
        number,
        points,
    )
