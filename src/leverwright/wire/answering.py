"""Study → the answers, as figures and in words."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from msgspec import UNSET

from leverwright.quantity import Kind, System, say, say_ratio, say_travel, to_surface
from leverwright.ride import FIGURES
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

__all__ = ["answers_of", "said_answers"]


@dataclass(frozen=True, slots=True)
class _Told:
    """How one answer is told: kind of quantity, unit, label, trade word and what it is."""

    kind: Kind
    unit: AnswerUnit
    label: str
    trade: str
    why: str


_TOLD: dict[str, _Told] = {
    "standing_travel": _Told(
        "length", "mm", "Stands at", "standing position",
        "Wheel travel from the set-up pose to where the springs carry the load of the usual rider.",
    ),
    "sag": _Told(
        "length", "mm", "Sits down", "sag",
        "Wheel travel from full droop to where it stands.",
    ),
    "sag_percent": _Told(
        "percent", "%", "Share of its travel", "sag in per cent",
        "Sag over the whole travel from full droop to full bump.",
    ),
    "bump_left": _Told(
        "length", "mm", "Bump left", "bump travel left",
        "Wheel travel from where it stands to full bump.",
    ),
    "motion_ratio": _Told(
        "ratio", "1", "Spring per wheel", "motion ratio",
        "Spring compression over wheel travel, this wheel moving and the others of its assembly held.",
    ),
    "heave_ratio": _Told(
        "ratio", "1", "Spring per wheels", "heave ratio",
        "Spring compression over wheel travel, all wheels of the assembly moving alike.",
    ),
    "wheel_rate": _Told(
        "stiffness", "N/mm", "Stiffness at the wheel", "wheel rate",
        "Change of the wheel's force over its travel, this wheel moving: spring rate times ratio squared, "
        "plus spring force times the change of the ratio.",
    ),
    "heave_rate": _Told(
        "stiffness", "N/mm", "Stiffness, wheels together", "heave rate",
        "Change of the wheel's force over its travel, all wheels of the assembly moving alike.",
    ),
    "ride_frequency": _Told(
        "frequency", "Hz", "Bounces a second", "ride frequency, tyre in series",
        "Square root of the heave rate with the tyre in series over the sprung mass, over two pi.",
    ),
    "ride_frequency_without_tyre": _Told(
        "frequency", "Hz", "Bounces, tyre left out", "ride frequency without tyre",
        "Square root of the heave rate over the sprung mass, over two pi.",
    ),
    "hop_frequency": _Told(
        "frequency", "Hz", "Wheel hops", "wheel hop frequency",
        "Square root of wheel rate and tyre rate together over the unsprung mass, over two pi.",
    ),
    "dead_centre_bump": _Told(
        "length", "mm", "To dead centre, up", "margin to dead centre in bump",
        "Wheel travel from where it stands up to where a bar and the arm that it drives come into line.",
    ),
    "dead_centre_droop": _Told(
        "length", "mm", "To dead centre, down", "margin to dead centre in droop",
        "Wheel travel from where it stands down to where a bar and the arm that it drives come into line.",
    ),
    "dead_centre_angle": _Told(
        "angle", "deg", "Bar to arm, standing", "angle to dead centre",
        "Least angle between a bar and the arm that it drives, where it stands; 90 is best, 0 is dead centre.",
    ),
    "transmission_angle_least": _Told(
        "angle", "deg", "Bar to arm, at worst", "least transmission angle",
        "Least angle between a bar and the arm that it drives over the whole travel; 90 is best.",
    ),
    "roll_rate": _Told(
        "torsion", "N\u00b7m/deg", "Resists leaning", "roll rate",
        "Moment about the length of the vehicle for each degree that the axle leans against the chassis.",
    ),
}  # fmt: skip

_SIGNED = ("standing_travel",)
_NO_ERROR = "no measuring error is stated (key error), so none can be given for the answer"


@dataclass(frozen=True, slots=True)
class _Figure:
    """One answer, SI; value NaN where it cannot be said."""

    key: str
    of: str | None
    value: float
    error: float | None
    because: str | None


def answers_of(study: Study) -> Answers:
    """Every answer at the standing position, in the units of the contract."""
    wheels: dict[str, WheelAnswers] = {}
    for wheel, figures in _by_wheel(study):
        single = {each.key: _answer(each) for each in figures if each.of is None}
        ratios = {each.of: _answer(each) for each in figures if each.key == "motion_ratio" and each.of}
        heave = {each.of: _answer(each) for each in figures if each.key == "heave_ratio" and each.of}
        wheels[wheel] = WheelAnswers(motion_ratio=ratios, heave_ratio=heave, **single)
    axles = {axle: AxleAnswers(_answer(figure)) for axle, figure in _by_axle(study)}
    return Answers(wheels, axles)


def said_answers(study: Study) -> SaidAnswers:
    """The same answers in words; what cannot be said says why."""
    return SaidAnswers(
        {wheel: [_said(each) for each in _in_order(figures)] for wheel, figures in _by_wheel(study)},
        {axle: [_said(figure)] for axle, figure in _by_axle(study)},
    )


def _by_wheel(study: Study) -> Iterator[tuple[str, list[_Figure]]]:
    """Each wheel in the order of the file with its figures."""
    found: dict[str, list[_Figure]] = {}
    straps = study.project.straps
    for sprung, figures in zip(study.assemblies, study.figures, strict=True):
        layout = sprung.assembly.layout
        for w, wheel in enumerate(layout.wheel_names):
            listed = [
                _figure(key, None, float(figures.value[key][w]), figures.because.get(key)) for key in FIGURES
            ]
            for s, spring in enumerate(layout.line_names):
                if spring in straps:
                    continue
                because = figures.because.get("motion_ratio")
                listed.append(_figure("motion_ratio", spring, float(figures.ratio[s, w]), because))
                listed.append(_figure("heave_ratio", spring, float(figures.heave[s]), because))
            found[wheel] = listed
    for wheel in study.project.wheels:
        if wheel in found:
            yield wheel, found[wheel]


def _figure(key: str, of: str | None, value: float, because: str | None) -> _Figure:
    return _Figure(key, of, value, None, because)


def _by_axle(study: Study) -> Iterator[tuple[str, _Figure]]:
    return iter(())


def _answer(figure: _Figure) -> WireAnswer:
    told = _TOLD[figure.key]
    if np.isnan(figure.value):
        return WireAnswer(None, told.unit, None, figure.because or "it cannot be said of this linkage")
    value = number(to_surface(figure.value, told.kind))
    if figure.error is None:
        return WireAnswer(value, told.unit, None, _NO_ERROR)
    return WireAnswer(value, told.unit, number(to_surface(figure.error, told.kind)), UNSET)


def _in_order(figures: list[_Figure]) -> list[_Figure]:
    """As the table of words stands; heave before one wheel where they differ by over 2 %."""
    return sorted(figures, key=lambda each: list(_TOLD).index(each.key))


def _said(figure: _Figure) -> Said:
    told = _TOLD[figure.key]
    if np.isnan(figure.value):
        words = f"cannot be said: {figure.because or 'not of this linkage'}"
        return Said(figure.key, figure.of, told.label, words, words, told.trade, told.why)
    return Said(
        figure.key, figure.of, told.label,
        _words(figure, told.kind, "metric"), _words(figure, told.kind, "inch"),
        told.trade, told.why,
    )  # fmt: skip


def _words(figure: _Figure, kind: Kind, system: System) -> str:
    if kind == "ratio":
        return say_ratio(figure.value, system=system, error=figure.error)
    if figure.key in _SIGNED:
        return say_travel(figure.value, system=system, error=figure.error)
    return say(figure.value, kind, system=system, error=figure.error)
