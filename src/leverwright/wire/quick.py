"""Five numbers and no drawing: is it the ratio, the spring or the preload?"""

from __future__ import annotations

from typing import Literal

from leverwright.wire.answers import WireAnswer
from leverwright.wire.strict import Document, Wire

__all__ = ["Blame", "QuickChange", "QuickDocument", "QuickRequest"]

Blame = Literal["ratio", "spring", "preload", "nothing", "unknown"]


class QuickRequest(Wire, frozen=True):
    """The five numbers as typed, with their units; `rate` null or "unknown" when nobody knows it.

    link_moves  movement of the link's lower end for 1 of the wheel, such as "0.8"; 1 where it is not given
    units       in which the verdict is said
    """

    link_arm: str
    spring_arm: str
    load: str
    rate: str | None = None
    moves: str | None = None
    link_moves: str | None = None
    units: Literal["metric", "inch"] = "metric"


class QuickChange(Wire, frozen=True):
    """One change to the lever or the spring: how far the wheel moves before and after."""

    do: str
    before: str
    after: str


class QuickDocument(Document, frozen=True, kw_only=True):
    """The verdict in one sentence, the figures behind it, and what cannot be told."""

    verdict: str
    blame: Blame
    ratio: WireAnswer
    ratio_said: str
    moves_expected: WireAnswer
    changes: list[QuickChange]
    unsaid: list[str]
    why: str
