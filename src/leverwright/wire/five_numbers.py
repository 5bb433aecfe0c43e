"""Five numbers as typed → the verdict on them."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import UNSET

from leverwright.quantity import Kind, System, to_surface
from leverwright.ride.quick import quick_verdict, read_quick
from leverwright.ride.quick_words import quick_said
from leverwright.wire.answers import AnswerUnit, WireAnswer
from leverwright.wire.quick import QuickChange, QuickDocument
from leverwright.wire.strict import number

__all__ = ["quick_document"]

_NO_RATE = "nobody knows the spring's rate, so how far the wheel should move cannot be told"


def quick_document(
    typed: Mapping[str, str | None], *, system: System = "metric", link_per_wheel: float = 1.0
) -> QuickDocument:
    """The verdict on the five numbers; QuickError, its `key` the number, where one cannot be read.

    link_per_wheel  movement of the link's lower end for 1 of the wheel
    """
    verdict = quick_verdict(read_quick(typed, link_per_wheel))
    said = quick_said(verdict, system)
    return QuickDocument(
        verdict=said.verdict,
        blame=verdict.blame,
        ratio=_answer(verdict.ratio, verdict.ratio_error, "ratio", "1"),
        ratio_said=said.ratio,
        moves_expected=_answer(verdict.expected, verdict.expected_error, "length", "mm"),
        changes=[QuickChange(change.do, change.before, change.after) for change in said.changes],
        unsaid=list(said.unsaid),
        why=said.why,
    )


def _answer(value: float | None, error: float | None, kind: Kind, unit: AnswerUnit) -> WireAnswer:
    if value is None:
        return WireAnswer(None, unit, None, _NO_RATE)
    spread = None if error is None else number(to_surface(error, kind))
    return WireAnswer(number(to_surface(value, kind)), unit, spread, UNSET)
