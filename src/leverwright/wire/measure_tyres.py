"""Tyres by scale and ruler → their part of the measuring document."""

from __future__ import annotations

from leverwright.assemble.tyres import TyreFit
from leverwright.measure.tyre import RULER_ERROR
from leverwright.quantity import say
from leverwright.study import Study
from leverwright.wire.measure import TyreReadingSaid, TyreSaid
from leverwright.wire.measure_figures import figure_of, surface
from leverwright.wire.tyre_numbers import bent_words, half_words

__all__ = ["tyres_of"]

_UNSTATED = (
    "How far it may be off cannot be told: state error under [scale], or each load with its ±, "
    'such as "155 ± 0.5 kg".'
)


def tyres_of(study: Study) -> dict[str, TyreSaid]:
    """Every tyre that was read, by wheel in the order of the file."""
    said = {}
    for name, fit in study.measured.tyres.items():
        rate = figure_of(fit.rate)
        if rate is not None:
            said[name] = TyreSaid(rate, _readings(fit), fit.twin_of, _sentences(fit, rate.said))
    return said


def _readings(fit: TyreFit) -> list[TyreReadingSaid]:
    rows = zip(fit.loads.tolist(), fit.heights.tolist(), fit.line.tolist(), strict=True)
    return [
        TyreReadingSaid(surface(load, "mass"), surface(height, "length"), surface(line, "length"))
        for load, height, line in rows
    ]


def _sentences(fit: TyreFit, rate: str) -> list[str]:
    words = [f"The tyre gives {rate}.", half_words(fit.found.rate)]
    if len(fit.loads) > 2:
        off = float(abs(fit.heights - fit.line).max())
        words.append(f"Its {len(fit.loads)} readings lie within {say(off, 'length')} of one line.")
    else:
        words.append("Nothing checks two readings: a third load between them would.")
    if fit.rate.error is None:
        words.append(_UNSTATED)
    elif fit.ruler:
        words.append(
            f"A height that states no ± is taken to be read to {say(RULER_ERROR, 'length')} (common practice)."
        )
    return [*words, *bent_words(fit.found)]
