"""Loads on a wheel and heights of its axle → the tyre's rate, said."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from msgspec import UNSET

from leverwright.measure.tyre import TyreRate, tyre_rate
from leverwright.quantity import Quantity, System, say, to_surface
from leverwright.ride.frequency import STANDARD_GRAVITY
from leverwright.wire.answers import WireAnswer
from leverwright.wire.strict import number
from leverwright.wire.tyre import TyreDocument

__all__ = ["bent_words", "half_words", "tyre_document"]

_BENT = 0.2  # share that the rate may grow over the loads before it matters which loads were taken (CP)
_HALF = 0.5  # of the tyre's rate: a stiffer wheel rate moves the tyre rather than the spring (CP)
_WHY = (
    "Rate = more load x g / how much lower the axle stands. Air the tyre as it will be driven, let it settle after "
    "each load, chock the other wheels; a bag of sand sits stiller than a person."
)


def tyre_document(
    loads: Sequence[Quantity], heights: Sequence[Quantity], *, system: System = "metric"
) -> TyreDocument:
    """The rate from loads [kg] and heights of the axle [m] read together; ValueError where they give none."""
    found = tyre_rate(
        np.array([load.value for load in loads]) * STANDARD_GRAVITY,
        np.array([height.value for height in heights]),
        _common(loads, STANDARD_GRAVITY),
        _common(heights, 1.0),
    )
    known = math.isfinite(found.error)
    error = number(to_surface(found.error, "stiffness")) if known else None
    return TyreDocument(
        rate=WireAnswer(number(to_surface(found.rate, "stiffness")), "N/mm", error, UNSET),
        sentences=_sentences(found, system, known=known),
        why=_WHY,
    )


def _common(read: Sequence[Quantity], times: float) -> float | None:
    """The largest ± stated, where each reading states one."""
    errors = [each.error for each in read if each.error is not None]
    return max(errors) * times if len(errors) == len(read) else None


def _sentences(found: TyreRate, system: System, *, known: bool) -> list[str]:
    rate = say(found.rate, "stiffness", system=system, error=found.error if known else None)
    key = f"{to_surface(found.rate, 'stiffness'):.3g}"
    if known:
        key = f'"{key} ± {to_surface(found.error, "stiffness"):.2g} N/mm"'
    words = [
        f"The tyre gives {rate}.",
        f"In the file, under its wheel: tyre = {key}",
        half_words(found.rate, system),
    ]
    if not known:
        words.append(
            'How far it may be off cannot be told: write each reading with its ±, such as "155 ± 0.5 kg".'
        )
    return [*words, *bent_words(found)]


def half_words(rate: float, system: System = "metric") -> str:
    """How stiff a wheel's springs may be over a tyre of this rate [N/m]."""
    half = say(_HALF * rate, "stiffness", system=system)
    return f"A wheel rate above {half} would move the tyre more than the spring (common practice: half)."


def bent_words(found: TyreRate) -> list[str]:
    """What to say of a tyre that stiffens so much that it matters which loads were taken; [] of another."""
    if abs(found.bend) <= _BENT * found.rate:
        return []
    return ["It is not one rate: it changes with the load. Take loads near what the wheel carries."]
