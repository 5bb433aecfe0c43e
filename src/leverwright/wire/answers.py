"""The answers at the standing position of the usual load."""

from __future__ import annotations

from typing import Literal

from msgspec import UNSET, UnsetType

from leverwright.wire.strict import Wire

__all__ = [
    "AnswerUnit",
    "Answers",
    "AxleAnswers",
    "ChassisAnswers",
    "CouplingAnswers",
    "LoadSetAnswers",
    "Said",
    "SaidAnswers",
    "TippingAnswers",
    "WheelAnswers",
    "WireAnswer",
]

# deg/mm: the ratio of a spring on a hinge, which twists
AnswerUnit = Literal["mm", "%", "1", "N/mm", "Hz", "deg", "N\u00b7m/deg", "deg/mm", "kg"]


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


class ChassisAnswers(Wire, frozen=True):
    """How the chassis stands: heave from the set-up pose, pitch (+ nose down) and roll (+ left side up), ISO 8855."""

    heave: WireAnswer
    pitch: WireAnswer
    roll: WireAnswer
    cross_weight: WireAnswer


class TippingAnswers(Wire, frozen=True):
    """Static limits as a share of gravity: a rigid vehicle, leaning, braking or driving in the bend, over its ends."""

    rigid: WireAnswer
    leaning: WireAnswer
    lean: WireAnswer
    braking: WireAnswer
    driving: WireAnswer
    over_front: WireAnswer
    over_rear: WireAnswer
    slope: WireAnswer
    height: WireAnswer


class CouplingAnswers(Wire, frozen=True):
    """What a trailer's coupling carries, as it stands and level as drawn, and the share of the whole weight."""

    load: WireAnswer
    share: WireAnswer
    level_load: WireAnswer
    level_share: WireAnswer


class LoadSetAnswers(Wire, frozen=True):
    """The answers under one load set; `coupling` null for a vehicle without one."""

    usual: bool
    loads: dict[str, WireAnswer]
    wheels: dict[str, WheelAnswers]
    axles: dict[str, AxleAnswers]
    chassis: ChassisAnswers
    tipping: TippingAnswers
    coupling: CouplingAnswers | None


class Answers(Wire, frozen=True):
    """All answers, wheels by name, axles by `LEFT+RIGHT`; load sets where the file has some."""

    wheels: dict[str, WheelAnswers]
    axles: dict[str, AxleAnswers]
    load_sets: dict[str, LoadSetAnswers] | UnsetType = UNSET


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
