"""What was measured and what it says, card by card: sentences for the page."""

from __future__ import annotations

from typing import Literal

from leverwright.wire.strict import Wire

__all__ = ["CardLine", "Cards", "NextTape", "Verdict"]

Verdict = Literal["good", "watch", "fix", "stop", "said"]


class CardLine(Wire, frozen=True):
    """One sentence, and how it stands; `said` is neither good nor bad."""

    verdict: Verdict
    metric: str
    inch: str


class NextTape(Wire, frozen=True):
    """A reading worth taking: between two points, or the height or offset of one."""

    kind: Literal["between", "height", "offset"]
    points: list[str]
    metric: str
    inch: str


class Cards(Wire, frozen=True, kw_only=True):
    """Empty where the file has no such measurement. `ride` by load set, `squash` by shock, `tapes` by tape."""

    weigh: list[CardLine]
    ride: dict[str, list[CardLine]]
    squash: dict[str, list[CardLine]]
    pile: list[CardLine]
    tape: list[CardLine]
    tapes: dict[str, CardLine]
    next_tapes: list[NextTape]
