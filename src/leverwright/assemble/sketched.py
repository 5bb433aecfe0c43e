"""Answers that hang on a place which nothing measures: its sketch gives them a value, and nobody knows how far off."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from leverwright.assemble.measured import Measured
from leverwright.linkage import Layout
from leverwright.linkage.sensitivity import places_of
from leverwright.quantity import in_words
from leverwright.ride import AxleAnswers, SprungAssembly, WheelAnswers
from leverwright.ride.answers import Answer

__all__ = ["sketched_axles", "sketched_wheels"]

_FEW = 3  # names told one by one
# A motion of all places at once, as what nothing measures; no answer of a single wheel knows of the last two.
_WHOLE = {
    "pitch": "which way is up",
    "roll": "which way is up",
    "up": "how high the taped places are",
    "ahead": "how far ahead the taped places are",
    "sideways": "how far the places are from the centre plane",
    "yaw": "how the places are turned to the centre plane",
}
_CENTRE = frozenset({"sideways", "yaw"})


def sketched_wheels(
    measured: Measured, assemblies: Sequence[SprungAssembly], found: Mapping[str, WheelAnswers]
) -> dict[str, WheelAnswers]:
    """The answers in the order of the file, those that hang on the sketch marked and without ±."""
    told = dict(found)
    for sprung in assemblies:
        layout = sprung.assembly.layout
        reason = _reason(measured, layout)
        if reason is not None:
            told |= {name: _rough_wheel(found[name], reason) for name in layout.wheel_names}
    return {name: told[name] for name in measured.project.wheels}


def sketched_axles(
    measured: Measured, axles: Sequence[AxleAnswers], wheels: Mapping[str, WheelAnswers]
) -> tuple[AxleAnswers, ...]:
    """The same of axles: with what their wheels hang on, and how far these are from the centre plane."""
    centre = _whole(measured, within=_CENTRE)
    return tuple(_rough_axle(pair, centre, wheels) for pair in axles)


def _rough_axle(pair: AxleAnswers, centre: str | None, wheels: Mapping[str, WheelAnswers]) -> AxleAnswers:
    rough = (each for name in pair.wheels for each in wheels[name].of.values() if each.rough)
    first = next(rough, None)
    reason = centre if first is None else first.because
    return pair if reason is None else replace(pair, roll_rate=_rough(pair.roll_rate, reason))


def _rough_wheel(answers: WheelAnswers, reason: str) -> WheelAnswers:
    return replace(
        answers,
        of={key: _rough(each, reason) for key, each in answers.of.items()},
        motion_ratio={key: _rough(each, reason) for key, each in answers.motion_ratio.items()},
        heave_ratio={key: _rough(each, reason) for key, each in answers.heave_ratio.items()},
    )


def _rough(answer: Answer, reason: str) -> Answer:
    """What cannot be said keeps its own reason."""
    if answer.value is None:
        return answer
    because = reason if answer.because is None else f"{reason}; {answer.because}"
    return replace(answer, error=None, because=because, rough=True)


def _reason(measured: Measured, layout: Layout) -> str | None:
    """Which place of this assembly nothing measures, or what of all of them; None where everything is held."""
    if measured.tapes is None or not measured.tapes.network.loose:
        return None
    result = measured.tapes.network
    names = tuple(measured.project.points)
    own = {measured.project.points[names[k]].twin_of or names[k] for k in places_of(layout)}
    hung: dict[str, bool] = {}
    for loose in result.loose:
        if loose.motion not in _WHOLE:
            for name in (result.network.names[p] for p in loose.points):
                hung[name] = hung.get(name, True) and loose.motion == "anywhere"
    mine = [name for name in hung if name in own]
    if not mine:
        taped = own & {result.network.names[p] for each in result.loose for p in each.points}
        return _whole(measured, within=frozenset(_WHOLE) - _CENTRE) if taped else None
    few = mine if len(mine) <= _FEW + 1 else [*mine[:_FEW], f"{len(mine) - _FEW} more places"]
    held = "measured" if all(hung[name] for name in mine) else "held by what is measured"
    return f"from the sketch: {in_words(few)} {'is' if len(mine) == 1 else 'are'} not {held}"


def _whole(measured: Measured, within: frozenset[str]) -> str | None:
    """The motion of all places that nothing measures, in words."""
    loose = () if measured.tapes is None else measured.tapes.network.loose
    found = next((_WHOLE[each.motion] for each in loose if each.motion in within), None)
    return None if found is None else f"from the sketch: {found} is not measured"
