"""Do the tapes agree, are they checked, do they place everything, and on which side?"""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Final, Literal

from leverwright.findings.finding import COMMON_PRACTICE, Finding, finding
from leverwright.findings.numbers.unit_slip import UnitSlip, unit_slip
from leverwright.findings.words import in_words, length
from leverwright.study import Study

if TYPE_CHECKING:
    from leverwright.assemble.tapes import Taped
    from leverwright.measure.network import Observed, Suspect

__all__ = ["mirror_image", "tape_unchecked", "tapes_disagree"]

_NUMBERS: Final = "Can I trust my numbers?"
_Severity = Literal["stop", "fix", "watch"]
_FEW = 4  # names told one by one
_SNOOPING = "three standard deviations: data snooping, as surveyors do it"
_FAR = 10.0  # m; no vehicle is that long: a gap beyond it is no number, but a network that was dragged away


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
    if (slip := unit_slip(study)) is not None:
        # No network can be judged whose readings are all of another size.
        return (_in_another_unit(slip),)
    found = [_disagrees(study, taped, suspect) for suspect in taped.network.suspects]
    found += [_torn(study, taped, name) for name in sorted(taped.torn)]
    found += [_wrong_side(taped, name) for name in taped.network.wrong_side]
    if not found and not taped.network.agrees and taped.stated:
        found.append(_scattered(taped))
    return tuple(found)


def _in_another_unit(slip: UnitSlip) -> Finding:
    all_of = "All" if slip.all_of_them else "Nearly all"
    return Finding(
        "tapes-disagree",
        "stop",
        _NUMBERS,
        f"{all_of} your tapes are {slip.said} than the sketch: {slip.asks} "
        "Until that is settled trust no place and no answer.",
        "Each tape between two places over their distance in the sketch: the median of these ratios is that of two "
        "units, and nearly all lie close to it.",
        COMMON_PRACTICE,
        slip.ratio,
    )


def _gap(study: Study, gap: float) -> str:
    """How far apart, as a number only where it can be one."""
    if gap <= _FAR:
        return length(study, gap)
    return "over 30 ft" if study.units == "inch" else "over 10 m"


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
            f"{_gap(study, gap)} {way} than the others put there. "
            + (
                "Measure it again; until then the places are solved without it."
                if suspect.left_out
                else "Measure it again; it may be chance, and until then it counts as so much less certain."
            )
        )
    else:
        sentence = (
            f"One of these is wrong, by {_gap(study, gap)} or so, and nothing tells which: {in_words(each)}. "
            f"Measure them again, {each[0]} first; until then what hangs on them counts as so much less certain."
        )
    return _finding("tapes-disagree", "fix", sentence, gap, points)


def _torn(study: Study, taped: Taped, name: str) -> Finding:
    tape = study.file.tape[name]
    apart = taped.repeats[name]
    return _finding(
        "tapes-disagree",
        "fix",
        f"The readings of tape {name} lie {_gap(study, apart)} apart, further than its ± lets them. "
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
    if taped is None or unit_slip(study) is not None:
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


@finding("mirror-image", question=_NUMBERS)
def mirror_image(study: Study) -> tuple[Finding, ...]:
    """Would a place fit its tapes as well on the other side of what it is taped from?"""
    taped = _taped(study)
    if taped is None or unit_slip(study) is not None:
        return ()
    return tuple(
        _finding(
            "mirror-image",
            "fix",
            f"{in_words(_names(taped, image.points))} would fit the tapes as well {_gap(study, image.apart)} away, "
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
