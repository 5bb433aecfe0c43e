"""The network of tapes → its part of the measuring document."""

from __future__ import annotations

import math
from collections.abc import Iterable

from leverwright.assemble.tapes import Taped
from leverwright.measure.datum import Loose
from leverwright.measure.network import NetworkResult, Observed
from leverwright.project import Project
from leverwright.quantity import Kind, say
from leverwright.ride.next_measurement import NextReading
from leverwright.study import Study
from leverwright.wire.measure import (
    Doubted,
    Gained,
    MirrorSaid,
    NextSaid,
    OpenPlace,
    TapedPlace,
    TapeReading,
    Tapes,
)
from leverwright.wire.measure_figures import UNIT, known, surface

__all__ = ["tapes_of"]

_MOST_NEXT = 4  # readings proposed; more would bury the best
_AXES = {None: (0, 1, 2), "xz": (0, 2), "yz": (1, 2)}
_TAPE = {
    "between": "Tape from {0} to {1}",
    "height": "Measure {0} above the floor",
    "offset": "Measure {0} from the centre plane",
}
_LABEL = {
    "sag": "sag",
    "ride_frequency_without_tyre": "bounces a second",
    "dead_centre_bump": "travel up to dead centre",
    "dead_centre_droop": "travel down to dead centre",
}


def tapes_of(study: Study) -> Tapes | None:
    """What the tapes of a study say; None where there are none."""
    taped = study.measured.tapes
    if taped is None:
        return None
    result = taped.network
    names = result.network.names
    return Tapes(
        stated=taped.stated,
        spare=result.spare,
        s0=known(result.s0) if taped.stated else None,
        agrees=result.agrees,
        places=_places(study.file, taped),
        readings=[_reading(names, each) for each in result.observed if each.row.kind != "coordinate"],
        doubted=[_doubted(result, k) for k in range(len(result.suspects))],
        open=[_open(names, loose) for loose in result.loose],
        mirrors=[
            MirrorSaid(
                [names[p] for p in each.points],
                [names[p] for p in each.through],
                surface(each.apart, "length"),
                each.decided,
            )
            for each in result.mirrors
        ],
        wrong_side=list(result.wrong_side),
        next=[_next(study, names, each) for each in study.next_measurement[:_MOST_NEXT]],
    )


def _places(file: Project, taped: Taped) -> dict[str, TapedPlace]:
    """Every point that a tape, a picture or a sketch made part of the network, in the order of the file."""
    result = taped.network
    index = {name: k for k, name in enumerate(result.network.names)}
    return {name: _place(file, taped, index[name]) for name in file.points if name in index}


def _place(file: Project, taped: Taped, k: int) -> TapedPlace:
    network = taped.network.network
    name = network.names[k]
    point = taped.project.points[name]
    axes = _AXES[file.plane]
    at = [float(point.at[axis]) for axis in axes]
    errors = [None if name in taped.unknown else point.errors[axis] for axis in axes]
    own = network.names[network.twin_of[k]]
    by = sorted(
        {o.row.name for o in taped.network.observed if o.row.kind != "coordinate" and k in o.row.points}
    )
    how = "tapes"
    if network.known[network.twin_of[k]].all():
        how = "coordinates"
    elif network.twin_of[k] in taped.network.open:
        how = "open"
    elif own != name and not by:
        how = "twin"
    letters = ("xyz"[axis] for axis in axes)
    said = [
        f"{letter} {say(value, 'length', error=error)}"
        for letter, value, error in zip(letters, at, errors, strict=True)
    ]
    return TapedPlace(
        [surface(value, "length") for value in at],
        [None if error is None else known(error, "length") for error in errors],
        how,  # type: ignore[arg-type]  # one of the four words above
        by,
        ", ".join(said),
        None if own == name else own,
    )


def _reading(names: tuple[str, ...], one: Observed) -> TapeReading:
    row = one.row
    return TapeReading(
        name=row.name,
        kind=row.kind,
        part=row.part,
        points=[names[p] for p in row.points],
        reads_mm=surface(row.reads, "length"),
        sigma_mm=surface(row.sigma, "length"),
        adjusted_mm=surface(one.adjusted, "length"),
        residual_mm=surface(one.residual, "length"),
        redundancy=surface(one.redundancy, "ratio"),
        standardized=known(one.standardized),
        gap_mm=known(one.gap, "length"),
        detectable_mm=known(one.detectable, "length"),
        left_out=one.left_out,
    )


def _doubted(result: NetworkResult, at: int) -> Doubted:
    suspect = result.suspects[at]
    tapes = list(dict.fromkeys(result.observed[k].row.name for k in suspect.observed))
    gap, size = known(suspect.gap, "length"), known(suspect.standardized)
    return Doubted(tapes, gap, size, suspect.left_out)


def _open(names: tuple[str, ...], loose: Loose) -> OpenPlace:
    return OpenPlace([names[p] for p in loose.points], loose.motion, [names[p] for p in loose.about])


def _next(study: Study, names: tuple[str, ...], reading: NextReading) -> NextSaid:
    points = [names[p] for p in reading.points]
    answers = list(_gained(study, reading))
    do = _TAPE[reading.kind].format(*points)
    if reading.opens:
        said = f"{do}: it holds what nothing holds now"
    elif answers:
        best = max(answers, key=lambda each: 1.0 - each.error_after / max(each.error_before, 1e-12))
        label = _LABEL.get(best.answer, "ratio")
        said = f"{do}: {label} of {best.wheel} is then {best.said_after}, not {best.said_before}"
    else:
        said = do
    gain = surface(reading.gain, "percent")
    return NextSaid(reading.kind, points, reading.opens, gain, answers, said)


def _gained(study: Study, reading: NextReading) -> Iterable[Gained]:
    """Every answer that the reading makes surer."""
    for (wheel, name), before in reading.before.items():
        after = reading.after[(wheel, name)]
        key, _, spring = name.partition(" ")
        told = study.answers[wheel]
        answer = told.motion_ratio.get(spring) if spring else told.of.get(key)
        if answer is None or answer.value is None or answer.per_metre or not math.isfinite(after):
            continue
        kind: Kind = answer.kind
        value = answer.value
        yield Gained(
            wheel,
            name.replace(" ", "."),
            UNIT[kind],
            surface(before, kind),
            surface(after, kind),
            say(value, kind, error=before),
            say(value, kind, error=after),
        )
