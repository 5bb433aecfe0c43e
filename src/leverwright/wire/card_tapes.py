"""What the tapes say, in sentences: do they agree, which is bad, what is still open, which one to take next."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Final

import numpy as np

from leverwright.measure.datum import Loose
from leverwright.measure.network import NetworkResult, Observed
from leverwright.quantity import in_inches, in_words, say
from leverwright.ride.next_measurement import NextReading
from leverwright.study import Study
from leverwright.wire.cards import NextTape, Verdict

__all__ = ["next_tapes", "tape_lines", "tapes_of"]

_SHOWN: Final = 3  # readings that are proposed
_CHECKED: Final = 0.02  # a reading of less redundancy is checked by nothing
_TAPED: Final = ("between", "height", "offset", "ahead", "along", "plumb", "level")
_WHOLE: Final[Mapping[str, str]] = {
    "pitch": "the nose could be higher or lower: read the height of a second point above the floor",
    "roll": "one side could be higher: read the height of a point on the other side above the floor",
    "sideways": "the whole could lie further left or right: read one distance from the centre plane",
    "yaw": "the whole could be turned on the floor: read a second distance from the centre plane",
}


def tape_lines(study: Study) -> Iterable[tuple[Verdict, str]]:
    """The verdict first: what is bad, what is open; else that all agree."""
    taped = study.measured.tapes
    if taped is None or not study.file.tape:
        return
    result, names = taped.network, taped.network.network.names
    for suspect in result.suspects:
        worst = result.observed[suspect.observed[0]]
        yield "fix", _disagrees(result, suspect.observed, suspect.gap, left_out=suspect.left_out)
        if suspect.left_out:
            yield "said", f"The places are worked out without {worst.row.name} until it is measured again."
    for loose in result.loose:
        yield "watch", _open(loose, names)
    for image in result.mirrors:
        if image.decided is None:
            point, through = names[image.points[0]], in_words([names[p] for p in image.through])
            yield (
                "fix",
                f"{point} could as well lie {_mm(image.apart)} away, mirrored in {through}: say on which side.",
            )
    read = [o for o in result.observed if o.row.kind in _TAPED]
    if not result.suspects and read:
        yield _agree(read, spare=result.spare, stated=taped.stated)


def _disagrees(result: NetworkResult, which: Sequence[int], gap: float, *, left_out: bool) -> str:
    names = list(dict.fromkeys(result.observed[index].row.name for index in which))
    far = _mm(abs(gap))
    way = "more" if gap > 0 else "less"
    if left_out or len(names) == 1:
        return f"{names[0]} reads {far} {way} than the others say. Measure it again, or drop it."
    return f"{in_words(names)} disagree by {far}, and nothing tells which is bad: measure each of them again."


def _open(loose: Loose, names: Sequence[str]) -> str:
    if loose.motion in _WHOLE:
        return f"Nothing tells it yet: {_WHOLE[loose.motion]}."
    point = names[loose.points[0]]
    if loose.motion == "anywhere":
        return f"Nothing places {point} yet: take tapes to it from three marks, a fourth checks them."
    if len(loose.points) > 1:
        return f"{in_words([names[p] for p in loose.points])} can still move together: tape one of them from outside."
    about = in_words([names[p] for p in loose.about]) if loose.about else "what it is taped to"
    return f"{point} can still move about {about}: one more tape from another mark holds it."


def _agree(read: Sequence[Observed], *, spare: int, stated: bool) -> tuple[Verdict, str]:
    tapes = len({each.row.name for each in read})
    count = {1: "The one tape", 2: "Both tapes", 4: "All four"}.get(tapes, f"All {tapes} tapes")
    if spare <= 0:
        return "watch", f"{count} fit, but nothing checks them: one tape more than needed shows a slip."
    worst = max(read, key=lambda each: abs(each.residual))
    least = f" within {_mm(abs(worst.residual))}" if abs(worst.residual) > 5e-5 else ""
    unsaid = "" if stated else " How far one reading may be off is not stated, so no place has its range yet."
    return "good", f"{count} agree{least}.{unsaid}"


def tapes_of(study: Study) -> Mapping[str, tuple[Verdict, str]]:
    """Each tape's own word, by name."""
    taped = study.measured.tapes
    if taped is None:
        return {}
    bad = {i for suspect in taped.network.suspects for i in suspect.observed}
    found: dict[str, tuple[Verdict, str]] = {}
    for index, each in enumerate(taped.network.observed):
        name = each.row.name
        if name not in study.file.tape or (name in found and found[name][0] == "fix"):
            continue
        found[name] = _own(each, named=index in bad or each.left_out)
    return found


def _own(each: Observed, *, named: bool) -> tuple[Verdict, str]:
    if named:
        gap = each.gap if np.isfinite(each.gap) else each.residual
        left = ", left out" if each.left_out else ""
        return "fix", f"{_mm(abs(gap))} {'more' if gap > 0 else 'less'} than the others say{left}"
    if each.redundancy < _CHECKED:
        return "watch", "checked by nothing"
    return "good", f"within {_mm(max(abs(each.residual), 5e-5))} of the others"


def next_tapes(study: Study) -> list[NextTape]:
    """The readings that would help most, best first."""
    taped = study.measured.tapes
    if taped is None:
        return []
    names = taped.network.network.names
    return [_next(reading, [names[p] for p in reading.points]) for reading in study.next_measurement[:_SHOWN]]


def _next(reading: NextReading, points: list[str]) -> NextTape:
    where = {
        "between": " to ".join(points),
        "height": f"height of {points[0]} above the floor",
        "offset": f"{points[0]} from the centre plane",
    }[reading.kind]
    gain = "it holds what nothing holds yet" if reading.opens else _gain(reading)
    words = f"{where}: {gain}"
    return NextTape(reading.kind, points, words, in_inches(words))


def _gain(reading: NextReading) -> str:
    share = f"it takes away {100 * reading.gain:.0f} % of what is uncertain"
    sag = next((key for key in reading.before if key[1] == "sag"), None)
    if sag is None:
        return share
    before, after = reading.before[sag], reading.after[sag]
    return f"{share}; sag is then known to {_mm(2 * after)} either way instead of {_mm(2 * before)}"


def _mm(length: float) -> str:
    return say(length, "length")
