"""Study → the answers, as figures and in words."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from msgspec import UNSET

from leverwright.assemble.sketched import sketched_wheels
from leverwright.quantity import (
    System,
    from_surface,
    say,
    say_about,
    say_about_ratio,
    say_about_travel,
    say_about_twist_ratio,
    say_ratio,
    say_travel,
    say_twist_ratio,
    to_surface,
)
from leverwright.ride.answers import Answer, answer_wheels
from leverwright.ride.answers import AxleAnswers as RideAxle
from leverwright.ride.answers import WheelAnswers as RideWheel
from leverwright.study import Study
from leverwright.wire.answers import (
    Answers,
    AnswerUnit,
    AxleAnswers,
    Said,
    SaidAnswers,
    WheelAnswers,
    WireAnswer,
)
from leverwright.wire.strict import number

__all__ = ["answers_of", "quick_answers", "said_answers"]


_SYSTEMS: tuple[System, System] = ("metric", "inch")


@dataclass(frozen=True, slots=True)
class _Told:
    """How one answer is told: unit, label, trade word and what it is."""

    unit: AnswerUnit
    label: str
    trade: str
    why: str


_TOLD: dict[str, _Told] = {
    "standing_travel": _Told(
        "mm", "Stands at", "standing position",
        "Wheel travel from the set-up pose to where the springs carry the load of the usual rider.",
    ),
    "sag": _Told(
        "mm", "Sits down", "sag",
        "Wheel travel from full droop to where it stands.",
    ),
    "sag_percent": _Told(
        "%", "Share of its travel", "sag in per cent",
        "Sag over the whole travel from full droop to full bump.",
    ),
    "bump_left": _Told(
        "mm", "Bump left", "bump travel left",
        "Wheel travel from where it stands to full bump.",
    ),
    "heave_ratio": _Told(
        "1", "Spring per wheel, together", "heave ratio",
        "Spring compression over wheel travel, all wheels of the assembly moving alike.",
    ),
    "motion_ratio": _Told(
        "1", "Spring per wheel", "motion ratio",
        "Spring compression over wheel travel, this wheel moving and the others of its assembly held.",
    ),
    "heave_rate": _Told(
        "N/mm", "Wheel rate, together", "heave rate",
        "Change of the wheel's force over its travel, all wheels of the assembly moving alike.",
    ),
    "wheel_rate": _Told(
        "N/mm", "Wheel rate", "wheel rate",
        "Change of the wheel's force over its travel, this wheel moving: spring rate times ratio squared, "
        "plus spring force times the change of the ratio.",
    ),
    "ride_frequency": _Told(
        "Hz", "Bounces a second", "ride frequency, tyre in series",
        "Square root of the heave rate with the tyre in series over the sprung mass, over two pi.",
    ),
    "ride_frequency_without_tyre": _Told(
        "Hz", "Bounces, tyre left out", "ride frequency without tyre",
        "Square root of the heave rate over the sprung mass, over two pi.",
    ),
    "hop_frequency": _Told(
        "Hz", "Wheel hops", "wheel hop frequency",
        "Square root of wheel rate and tyre rate together over the unsprung mass, over two pi.",
    ),
    "dead_centre_bump": _Told(
        "mm", "To dead centre, up", "margin to dead centre in bump",
        "Wheel travel from where it stands up to where a bar and the arm that it drives come into line.",
    ),
    "dead_centre_droop": _Told(
        "mm", "To dead centre, down", "margin to dead centre in droop",
        "Wheel travel from where it stands down to where a bar and the arm that it drives come into line.",
    ),
    "dead_centre_angle": _Told(
        "deg", "Bar to arm, standing", "angle to dead centre",
        "Least angle between a bar and the arm that it drives, where it stands; 90 is best, 0 is dead centre.",
    ),
    "transmission_angle_least": _Told(
        "deg", "Bar to arm, at worst", "least transmission angle",
        "Least angle between a bar and the arm that it drives over the whole travel; 90 is best.",
    ),
    "roll_rate": _Told(
        "N\u00b7m/deg", "Resists leaning", "roll rate",
        "Moment about the length of the vehicle for each degree that the axle leans against the chassis.",
    ),
}  # fmt: skip

_SIGNED = ("standing_travel",)
_NO_ERROR = "no measuring error is stated (key error), so none can be given for the answer"
# Where one wheel and all wheels together differ by less, one wheel by itself is said.
_SAME = 0.02
_ONE = {"heave_ratio": "motion_ratio", "heave_rate": "wheel_rate"}


def answers_of(study: Study) -> Answers:
    """Every answer at the standing position, in the units of the contract."""
    return _answers(study, study.answers)


def quick_answers(study: Study) -> tuple[Answers, SaidAnswers]:
    """The same, and in words, without errors: for a hand that moves, a fifth of the work."""
    rows = zip(
        study.assemblies, study.figures, (None for _ in study.assemblies), study.back_check, strict=True
    )
    found = answer_wheels(tuple(study.project.wheels), rows)
    in_order = sketched_wheels(study.measured, study.assemblies, found)
    return _answers(study, in_order), _said_answers(study, in_order)


def _answers(study: Study, told: Mapping[str, RideWheel]) -> Answers:
    wheels = _wheels(told)
    axles = {_axle(pair): AxleAnswers(_answer("roll_rate", pair.roll_rate)) for pair in study.axles}
    return Answers(wheels, axles)


def _wheels(told: Mapping[str, RideWheel]) -> dict[str, WheelAnswers]:
    wheels: dict[str, WheelAnswers] = {}
    for wheel, answers in told.items():
        wheels[wheel] = WheelAnswers(
            motion_ratio={
                spring: _answer("motion_ratio", each) for spring, each in answers.motion_ratio.items()
            },
            heave_ratio={
                spring: _answer("heave_ratio", each) for spring, each in answers.heave_ratio.items()
            },
            **{key: _answer(key, each) for key, each in answers.of.items()},
        )
    return wheels


def said_answers(study: Study) -> SaidAnswers:
    """The same answers in words, in the order to show; one wheel by itself alone where all together say the same."""
    return _said_answers(study, study.answers)


def _said_answers(study: Study, told: Mapping[str, RideWheel]) -> SaidAnswers:
    return SaidAnswers(
        {wheel: _said_wheel(answers) for wheel, answers in told.items()},
        {_axle(pair): [_said("roll_rate", None, pair.roll_rate)] for pair in study.axles},
    )


def _axle(pair: RideAxle) -> str:
    return "+".join(pair.wheels)


def _answer(key: str, answer: Answer) -> WireAnswer:
    told = _TOLD[key]
    unit: AnswerUnit = "deg/mm" if answer.per_metre else told.unit
    if answer.value is None or not math.isfinite(answer.value):
        return WireAnswer(None, unit, None, answer.because or "it cannot be said of this linkage")
    value, error = _surface(answer, answer.value), answer.error
    if error is None or not math.isfinite(error):
        return WireAnswer(value, unit, None, answer.because or _NO_ERROR)
    return WireAnswer(value, unit, _surface(answer, error), answer.because or UNSET)


def _surface(answer: Answer, value: float) -> float:
    if answer.per_metre:  # rad/m -> deg/mm
        return number(to_surface(value, "angle") * from_surface(1.0, "length"))
    return number(to_surface(value, answer.kind))


def _said_wheel(answers: RideWheel) -> list[Said]:
    figures: dict[str, dict[str | None, Answer]] = {key: {None: each} for key, each in answers.of.items()}
    figures["motion_ratio"] = dict(answers.motion_ratio.items())
    figures["heave_ratio"] = dict(answers.heave_ratio.items())
    told: list[Said] = []
    for key in _TOLD:
        for of, answer in figures.get(key, {}).items():
            one: Answer | None = figures[_ONE[key]].get(of) if key in _ONE else None
            if one is None or not _alike(one, answer):
                told.append(_said(key, of, answer))
    return told


def _alike(one: Answer, heave: Answer) -> bool:
    if one.value is None or heave.value is None:
        return one.value is None and heave.value is None
    return abs(one.value - heave.value) <= _SAME * abs(heave.value)


def _said(key: str, of: str | None, answer: Answer) -> Said:
    told = _TOLD[key]
    if answer.value is None or not math.isfinite(answer.value):
        words = f"cannot be said: {answer.because or 'not of this linkage'}"
        return Said(key, of, told.label, words, words, told.trade, told.why)
    metric, inch = (_words(key, answer, answer.value, system) for system in _SYSTEMS)
    why = told.why if answer.because is None else f"{told.why} Here: {answer.because}."
    return Said(key, of, told.label, metric, inch, told.trade, why)


def _words(key: str, answer: Answer, value: float, system: System) -> str:
    if answer.rough:
        return _rough_words(key, answer, value, system)
    if answer.per_metre:
        return say_twist_ratio(value, system=system, error=answer.error)
    if answer.kind == "ratio":
        return say_ratio(value, system=system, error=answer.error)
    if key in _SIGNED:
        return say_travel(value, system=system, error=answer.error)
    return say(value, answer.kind, system=system, error=answer.error)


def _rough_words(key: str, answer: Answer, value: float, system: System) -> str:
    if answer.per_metre:
        return say_about_twist_ratio(value, system=system)
    if answer.kind == "ratio":
        return say_about_ratio(value, system=system)
    if key in _SIGNED:
        return say_about_travel(value, system=system)
    return say_about(value, answer.kind, system=system)
