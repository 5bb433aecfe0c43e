"""Do the readings hold every place that an answer hangs on?"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Final, Literal

import numpy as np

from leverwright.findings.finding import COMMON_PRACTICE, Finding, finding
from leverwright.findings.numbers.unit_slip import unit_slip
from leverwright.findings.words import in_words
from leverwright.geometry import Array
from leverwright.study import Study

if TYPE_CHECKING:
    from leverwright.assemble.tapes import Taped
    from leverwright.measure.datum import Loose

__all__ = ["place_undetermined"]

_Severity = Literal["stop", "fix", "watch"]
_FEW = 4  # names told one by one
_WAYS = ("ahead and back", "sideways", "up and down")
_CENTRE: Final = frozenset({"sideways", "yaw"})
_TIPPED: Final = frozenset({"pitch", "roll"})
_WHOLE: Final = frozenset({"ahead", "sideways", "up", "roll", "pitch", "yaw"})
_WHY = "The readings are solved together; in this motion none of them changes."
_UNREAD = "A sketch says where the solving starts and nothing more."


@finding("place-undetermined", question="Can I trust my numbers?")
def place_undetermined(study: Study) -> tuple[Finding, ...]:
    """Can a place lie elsewhere without a reading noticing it?"""
    taped = study.measured.tapes
    if taped is None or unit_slip(study) is not None:
        return ()
    used, unread = _used(study), _unread(taped)
    read = [p for p, own in enumerate(taped.network.network.twin_of) if p == own and p not in unread]
    found = [_sketched(taped, unread, used)] if unread else []
    tipped = [loose for loose in taped.network.loose if loose.motion in _TIPPED]
    whole = len(read) >= len(taped.network.network.axes)  # fewer have no shape that could be tipped or moved
    for loose in taped.network.loose:
        if loose in tipped[1:] or (loose.motion in _WHOLE and not whole):
            continue
        if loose.motion not in _WHOLE and set(loose.points) <= unread:
            continue
        found.append(_tipped(taped, tipped, used) if loose in tipped else _open(study, taped, loose, used))
    return tuple(found)


def _names(taped: Taped, points: Iterable[int]) -> tuple[str, ...]:
    network = taped.network.network
    return tuple(network.names[network.twin_of[p]] for p in points)


def _unread(taped: Taped) -> frozenset[int]:
    """Points, no twins, that no reading and no coordinate speaks of."""
    network = taped.network.network
    read = {network.twin_of[p] for o in taped.network.observed for p in o.row.points}
    return frozenset(
        p
        for p, own in enumerate(network.twin_of)
        if p == own and p not in read and not network.known[p, list(network.axes)].any()
    )


def _used(study: Study) -> frozenset[str]:
    """Points that an answer hangs on: what moves and what it hangs from, not marks on the frame."""
    project = study.project
    names = {p for body in project.bodies.values() if body.name != "chassis" for p in body.points}
    names |= {end for bar in project.bars.values() for end in bar.ends}
    names |= {end for spring in project.springs.values() for end in spring.ends or ()}
    names |= {end for strap in project.straps.values() for end in strap.ends}
    return frozenset(names)


def _sketched(taped: Taped, unread: frozenset[int], used: frozenset[str]) -> Finding:
    """All places that nothing measures, those first that an answer hangs on."""
    names = sorted(_names(taped, unread), key=lambda name: (name not in used, name))
    severity: _Severity = "stop" if names[0] in used else "watch"
    held = _marks(taped)
    need = len(taped.network.network.axes)
    if len(held) >= need:
        do = f"from {need} places that are known, such as {in_words(held[:need])}, and from one more as a check."
        do = f"Tape {'it' if len(names) == 1 else 'each'} {do}"
    else:
        do = "Choose four marks on the frame, tape all distances between them, then from each mark to each place."
    if len(names) == 1:
        said = f"Nothing measures where {names[0]} is: it stands where it was sketched."
    else:
        few = names if len(names) <= _FEW + 1 else [*names[:_FEW], f"{len(names) - _FEW} more"]
        said = f"Nothing measures where {len(names)} places are: {in_words(few)}. They stand where they were sketched."
    points = tuple(sorted(names)) if len(names) <= _FEW else ()
    return _finding(severity, f"{said} {do}", points, number=float(len(names)), why=_UNREAD)


def _marks(taped: Taped) -> list[str]:
    """Places that others can be taped from: held by themselves, the most taped first."""
    network = taped.network.network
    alone = {p for loose in taped.network.loose if loose.motion not in _WHOLE for p in loose.points}
    ends = [network.twin_of[p] for d in network.distances for p in d.ends]
    unread = _unread(taped)
    held = [p for p, own in enumerate(network.twin_of) if p == own and p not in alone and p not in unread]
    return list(_names(taped, sorted(held, key=lambda p: -ends.count(p))))


def _tipped(taped: Taped, tipped: Sequence[Loose], used: frozenset[str]) -> Finding:
    """Which way is up, in one sentence, with heights that tell it."""
    ways = {
        "pitch": "nose up or nose down",
        "roll": "to the left or to the right",
    }
    could = " and ".join(ways[loose.motion] for loose in tipped)
    points = _names(taped, tipped[0].points)
    severity: _Severity = "stop" if used & set(points) else "watch"
    said = f"Nothing says which way is up: all the places could be tipped {could}. {_heights(taped, tipped)}"
    return _finding(severity, said, tuple(sorted(points)) if len(points) <= _FEW else ())


def _heights(taped: Taped, tipped: Sequence[Loose]) -> str:
    network, result = taped.network.network, taped.network
    axes = [{"pitch": 0, "roll": 1}[loose.motion] for loose in tipped]
    flat: Array = result.places[:, axes]
    read = [network.twin_of[w.terms[0].point] for w in network.weighted if w.kind == "height"]
    unread = _unread(taped)
    may = [p for p in tipped[0].points if p not in unread and p not in read]
    asked: list[int] = []
    for _ in range(max(1, len(axes) + 1 - len(set(read)))):
        left = [p for p in may if p not in asked]
        if left:
            asked.append(max(left, key=lambda p: _apart(flat, [*read, *asked], p, left)))
    names = _names(taped, asked)
    if len(names) == 1:
        from_there = in_words(_names(taped, dict.fromkeys(read)))
        return f"Measure the height of {names[0]} above the floor too: it is well apart from {from_there}."
    count = "two" if len(names) == 2 else "three"
    return f"Measure {count} heights above the floor, of points well apart: {in_words(names)}."


def _apart(flat: Array, taken: Sequence[int], point: int, left: Sequence[int]) -> float:
    """How well `point` stands apart [m]: from the furthest where none is taken, from the line of two, else from one."""
    if not taken:
        return float(np.linalg.norm(flat[list(left)] - flat[point], axis=1).max())
    away: Array = flat[point] - flat[list(taken)]
    if len(taken) == 1 or flat.shape[1] == 1:
        return float(np.linalg.norm(away, axis=1).min())
    along = flat[taken[1]] - flat[taken[0]]
    return float(abs(along[0] * away[0, 1] - along[1] * away[0, 0]))


def _open(study: Study, taped: Taped, loose: Loose, used: frozenset[str]) -> Finding:
    points = _names(taped, loose.points)
    concerned = bool(used & set(points))
    severity: _Severity = "watch" if not concerned else "fix" if loose.motion in _CENTRE else "stop"
    return _finding(
        severity,
        f"{_said(taped, loose)} {_to_do(study, taped, loose)}",
        tuple(sorted(points)) if len(points) <= _FEW else (),
    )


def _said(taped: Taped, loose: Loose) -> str:
    points, about = _names(taped, loose.points), _names(taped, loose.about)
    first = points[0]
    if loose.motion == "anywhere":
        return f"What is read of {first} does not hold it: it stands where it was sketched."
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
        "yaw": "Nothing says how all the places are turned to the centre plane.",
        "sideways": "Nothing says how far all the places are from the centre plane.",
        "ahead": "Nothing says how far ahead the taped places are of those given by coordinates.",
        "up": "Nothing says how high the taped places are over those given by coordinates.",
    }[loose.motion]


def _to_do(study: Study, taped: Taped, loose: Loose) -> str:
    """What to measure, from what the study reckons."""
    openers = [r for r in study.next_measurement if r.opens and set(r.points) & set(loose.points)]
    if loose.motion == "up":
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


def _finding(
    severity: _Severity, sentence: str, points: tuple[str, ...], number: float | None = None, why: str = _WHY
) -> Finding:
    return Finding(
        "place-undetermined",
        severity,
        "Can I trust my numbers?",
        sentence,
        why,
        COMMON_PRACTICE,
        number,
        points,
    )
