"""Load sets → the answers under each of them."""

from __future__ import annotations

import math

from leverwright.quantity import Kind, Quantity, to_surface
from leverwright.study import Study
from leverwright.wire.answering import answers_of
from leverwright.wire.answers import (
    Answers,
    AnswerUnit,
    ChassisAnswers,
    CouplingAnswers,
    LoadSetAnswers,
    TippingAnswers,
    WireAnswer,
)
from leverwright.wire.strict import number

__all__ = ["answers_under_each", "load_set_answers"]

_NO_MASSES = "the load set states no masses with their places"
_NOT_SAID = "no error is stated for the masses and their places"
_UNITS: dict[Kind, AnswerUnit] = {"length": "mm", "angle": "deg", "mass": "kg", "percent": "%", "ratio": "1"}


def answers_under_each(study: Study) -> Answers:
    """Every answer under the usual load, and again under each load set where the file has some."""
    usual = answers_of(study)
    if not study.sets:
        return usual
    sets = {name: load_set_answers(of, usual=name == study.load_set) for name, of in study.sets.items()}
    return Answers(usual.wheels, usual.axles, sets)


def load_set_answers(study: Study, *, usual: bool) -> LoadSetAnswers:
    """The answers of one load set; `study` stands under it."""
    each = answers_of(study)
    return LoadSetAnswers(
        usual=usual,
        loads={name: _load(wheel.load) for name, wheel in study.project.wheels.items()},
        wheels=each.wheels,
        axles=each.axles,
        chassis=_chassis(study),
        tipping=_tipping(study),
        coupling=_coupling(study),
    )


def _load(load: Quantity | None) -> WireAnswer:
    if load is None:
        return WireAnswer(None, "kg", None, "nothing says what this wheel carries under this load set")
    return _said(load.value, "mass", load.error, None if load.error else "no error is stated for the load")


def _said(value: float, kind: Kind, error: float | None = None, because: str | None = None) -> WireAnswer:
    if not math.isfinite(value):
        return WireAnswer(None, _UNITS[kind], None, because or "it cannot be told")
    spread = None if error is None or not math.isfinite(error) else number(to_surface(error, kind))
    told = number(to_surface(value, kind))
    return (
        WireAnswer(told, _UNITS[kind], spread)
        if because is None
        else WireAnswer(told, _UNITS[kind], spread, because)
    )


def _nothing(kind: Kind, because: str) -> WireAnswer:
    return WireAnswer(None, _UNITS[kind], None, because)


def _chassis(study: Study) -> ChassisAnswers:
    from leverwright.assemble.stance import cross_of  # for those alone who weighed

    weights, standing = study.measured.weights, study.chassis
    cross = "nothing is weighed" if weights is None else cross_of(study.project, weights)
    crossed = _nothing("percent", cross) if isinstance(cross, str) else _said(cross[0], "percent", cross[1])
    because = _NO_MASSES if standing is None else standing.because
    if standing is None or because is not None:
        said = because or "it cannot be told"
        return ChassisAnswers(
            _nothing("length", said), _nothing("angle", said), _nothing("angle", said), crossed
        )
    return ChassisAnswers(
        _said(standing.heave, "length"),
        _said(standing.pitch, "angle"),
        _said(standing.roll, "angle"),
        crossed,
    )


def _tipping(study: Study) -> TippingAnswers:
    found = _NO_MASSES if study.loading is None else study.loading.tipping
    if isinstance(found, str):
        ratio, angle = _nothing("ratio", found), _nothing("angle", found)
        height = _nothing("length", found)
        return TippingAnswers(ratio, ratio, angle, ratio, ratio, ratio, ratio, angle, height)
    lean = math.nan if found.lean is None else found.lean.per_lateral
    tilted = None if study.loading is None else study.loading.tilted
    return TippingAnswers(
        _said(found.rigid, "ratio", found.error, None if found.error else _NOT_SAID),
        _said(found.leaning, "ratio", found.leaning_error, found.no_lean),
        _said(lean, "angle", None, found.no_lean),
        _said(found.braking, "ratio"),
        _said(found.driving, "ratio"),
        _said(found.over_front, "ratio"),
        _said(found.over_rear, "ratio"),
        _said(found.slope, "angle", found.slope_error),
        _said(found.stance.height, "length", None if tilted is None else tilted.error),
    )


def _coupling(study: Study) -> CouplingAnswers | None:
    share = None if study.loading is None else study.loading.coupling
    if share is None:
        return None
    if isinstance(share, str):
        load, part = _nothing("mass", share), _nothing("percent", share)
        return CouplingAnswers(load, part, load, part)
    return CouplingAnswers(
        _said(share.pitched, "mass"),
        _said(share.pitched_share, "percent"),
        _said(share.level, "mass"),
        _said(share.level_share, "percent"),
    )
