"""The answers at the standing position of the usual load."""

from __future__ import annotations

from typing import Literal

from msgspec import UNSET, UnsetType

from leverwright.wire.strict import Wire

__all__ = ["AnswerUnit", "Answers", "AxleAnswers", "Said", "SaidAnswers", "WheelAnswers", "WireAnswer"]

# deg/mm: the ratio of a spring on a hinge, which twists
AnswerUnit = Literal["mm", "%", "1", "N/mm", "Hz", "deg", "N\u00b7m/deg", "deg/mm"]


class WireAnswer(Wire, frozen=True):
    """One figure; `error` is one standard deviation; `because` says why either is null."""

    value: float | None
    unit: AnswerUnit
    error: float | None
    because: str | UnsetType = UNSET


class WheelAnswers(Wire, frozen=True):
    """What one wheel does; ratios by spring."""

    standing_travel: WireAnswer
    sag: WireAnswer
    sag_percent: WireAnswer
    bump_left: WireAnswer
    motion_ratio: dict[str, WireAnswer]
    heave_ratio: dict[str, WireAnswer]
    wheel_rate: WireAnswer
    heave_rate: WireAnswer
    ride_frequency: WireAnswer
    ride_frequency_without_tyre: WireAnswer
    hop_frequency: WireAnswer
    dead_centre_bump: WireAnswer
    dead_centre_droop: WireAnswer
    dead_centre_angle: WireAnswer
    transmission_angle_least: WireAnswer


class AxleAnswers(Wire, frozen=True):
    """What a left and a right wheel do together."""

    roll_rate: WireAnswer


class Answers(Wire, frozen=True):
    """All answers, wheels by name, axles by `LEFT+RIGHT`."""

    wheels: dict[str, WheelAnswers]
    axles: dict[str, AxleAnswers]


class Said(Wire, frozen=True):
    """One answer in words; `of` names the spring of a ratio."""

    key: str
    of: str | None
    label: str
    metric: str
    inch: str
    trade: str
    why: str


class SaidAnswers(Wire, frozen=True):
    """All answers in words, in the order to show them."""

    wheels: dict[str, list[Said]]
    axles: dict[str, list[Said]]
