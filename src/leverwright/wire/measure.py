"""The document of `measure --json`: what tapes, scale and bench say, with how sure they are.

A `Figure` is said as a range, "between 24 and 29 mm"; `error` is one standard deviation.
"""

from __future__ import annotations

from typing import Literal

from leverwright.wire.answers import Answers
from leverwright.wire.findings import FoundFinding
from leverwright.wire.strict import Document, Wire

__all__ = [
    "BalancePoint",
    "BenchSaid",
    "Chassis",
    "Closure",
    "CouplingSaid",
    "Doubted",
    "Figure",
    "FigureUnit",
    "Gained",
    "LoadSetSaid",
    "LookFor",
    "MeasureDocument",
    "MirrorSaid",
    "NextSaid",
    "OpenPlace",
    "PairSaid",
    "PileSaid",
    "PileShockSaid",
    "Raised",
    "RoutesSaid",
    "SlipSaid",
    "SpringSaid",
    "TapeReading",
    "TapedPlace",
    "Tapes",
    "TippingSaid",
    "TrimSaid",
    "TyreReadingSaid",
    "TyreSaid",
    "UnfitSaid",
    "WantSaid",
    "WheelLoad",
    "WireSaid",
]

FigureUnit = Literal["mm", "kg", "N", "N/mm", "1", "%", "Hz", "deg"]
_Span = tuple[float, float]


class Figure(Wire, frozen=True):
    """One figure and its words; `error` null where nothing states one."""

    value: float
    unit: FigureUnit
    error: float | None
    said: str


class TapedPlace(Wire, frozen=True):
    """A point of the network of tapes.

    at_mm, error_mm  as many as the drawing has axes; an error is null where it is not known
    how    "coordinates", "tapes", "twin" (its other side was measured) or "open" (nothing holds it)
    by     statements that name it
    said   its coordinates in words
    twin_of  the point that it mirrors
    """

    at_mm: list[float]
    error_mm: list[float | None]
    how: Literal["coordinates", "tapes", "twin", "open"]
    by: list[str]
    said: str
    twin_of: str | None


class TapeReading(Wire, frozen=True):
    """One reading against the solved places.

    part          of a statement with several, else ""
    residual_mm   adjusted less reading
    redundancy    0: nothing checks it; 1: the others say it by themselves
    standardized  residual over its own standard deviation, beyond 3 it is bad; null where nothing checks it
    gap_mm        reading less what the others say
    detectable_mm least slip that would be found four times in five
    left_out      the places are solved without it
    """

    name: str
    kind: str
    part: str
    points: list[str]
    reads_mm: float
    sigma_mm: float
    adjusted_mm: float
    residual_mm: float
    redundancy: float
    standardized: float | None
    gap_mm: float | None
    detectable_mm: float | None
    left_out: bool


class Doubted(Wire, frozen=True):
    """Readings that disagree with the others, the worst first; several where nothing tells the bad one."""

    tapes: list[str]
    gap_mm: float | None
    standardized: float | None
    left_out: bool


class OpenPlace(Wire, frozen=True):
    """Points that the readings do not hold, how they can move, and what they are measured from."""

    points: list[str]
    motion: str
    about: list[str]


class MirrorSaid(Wire, frozen=True):
    """Points that could as well lie on the other side of others; `decided` by "side" or "sketch", null by nothing."""

    points: list[str]
    through: list[str]
    apart_mm: float
    decided: str | None


class Gained(Wire, frozen=True):
    """What one more reading does to an answer's standard deviation."""

    wheel: str
    answer: str
    unit: FigureUnit
    error_before: float
    error_after: float
    said_before: str
    said_after: str


class NextSaid(Wire, frozen=True):
    """A reading that would help; `opens`: it holds what nothing holds now. `gain_percent` of all answers' spread."""

    kind: str
    points: list[str]
    opens: bool
    gain_percent: float
    answers: list[Gained]
    sentence: str


class Tapes(Wire, frozen=True):
    """The network of tapes; what is wrong with it is said in the findings.

    stated   every reading states its error; else errors of places are null
    spare    readings more than needed; s0 is the scatter over what was stated, 1 as expected
    agrees   chance alone makes them disagree so much less than once in a thousand times
    """

    stated: bool
    spare: int
    s0: float | None
    agrees: bool
    places: dict[str, TapedPlace]
    readings: list[TapeReading]
    doubted: list[Doubted]
    open: list[OpenPlace]
    mirrors: list[MirrorSaid]
    wrong_side: list[str]
    next: list[NextSaid]


class SlipSaid(Wire, frozen=True):
    """A usual slip: what the rate would show with it, and what is true if the stated sizes hold it."""

    slip: str
    made_n_per_mm: float | None
    undone_n_per_mm: float | None


class WireSaid(Wire, frozen=True):
    """The rate by wire and coils; `assumed` lists sizes whose error is the usual one."""

    rate: Figure
    assumed: list[str]
    slips: list[SlipSaid]


class RoutesSaid(Wire, frozen=True):
    """Bench and wire side by side."""

    bench_n_per_mm: float
    wire_n_per_mm: float
    error_n_per_mm: float | None
    agree: bool


class BenchSaid(Wire, frozen=True):
    """How the readings were taken up; a reading left out is named by its mark, 1 the first."""

    kind: str | None
    stroke_mm: float
    rates_n_per_mm: _Span | None
    touch_mm: _Span | None
    left_out: str | None
    left_out_mark: int | None
    left_out_reads_n: float | None
    left_out_expected_n: float | None


class UnfitSaid(Wire, frozen=True):
    """Why not to use a shock (`reject`), or to look again."""

    reason: str
    reject: bool
    sentence: str


class SpringSaid(Wire, frozen=True):
    """All that is known of one shock; null what nothing tells.

    on      "vehicle" or "pile"
    pile    the shock of the pile that it is
    start   force at fully open, preload and gas together
    rows    mm, N in, N out of a bent spring
    filled  keys that were measured; the file states the others
    """

    on: Literal["vehicle", "pile"]
    pile: str | None
    rate: Figure | None
    start: Figure | None
    preload: Figure | None
    gas: Figure | None
    gas_known: bool
    friction: Figure | None
    rows: list[list[float | None]]
    filled: list[str]
    bench: BenchSaid | None
    wire: WireSaid | None
    routes: RoutesSaid | None
    unfit: list[UnfitSaid]
    rejected: bool
    sentences: list[str]


class WantSaid(Wire, frozen=True):
    """The ratio a shock wants where springs sit: `ratio` least, best, most."""

    springs: list[str]
    load_kg: float
    ratio: list[float]
    wheel_travel_mm: float
    sag_mm: float
    frequency_hz: float | None


class PileShockSaid(Wire, frozen=True):
    """A shock of the pile: "use", "look", "reject" or "measure"."""

    verdict: str
    wants: list[WantSaid]


class TrimSaid(Wire, frozen=True):
    """Tighten one of a pair; `loosen_most_mm` null where not known, `has_room` likewise."""

    tighten: str
    other: str
    by_mm: float
    loosen_most_mm: float | None
    may_loosen: bool
    has_room: bool | None


class PairSaid(Wire, frozen=True):
    """Two shocks for two sides: "match", "trim", "poor" or "no"; shares are of their mean."""

    shocks: list[str]
    springs: list[str]
    verdict: str
    rates_apart_percent: float
    rates_apart_error_percent: float | None
    forces_apart_percent: float | None
    trim: TrimSaid | None
    sentences: list[str]


class LookFor(Wire, frozen=True):
    """What another shock must have: so much stroke at least, and stroke times rate between two forces."""

    springs: list[str]
    stroke_mm: float
    squash_force_n: _Span


class PileSaid(Wire, frozen=True):
    """Advice on the pile; `best` the pair to use."""

    shocks: dict[str, PileShockSaid]
    pairs: list[PairSaid]
    best: list[str] | None
    look_for: list[LookFor]
    sentences: list[str]


class TyreReadingSaid(Wire, frozen=True):
    """A load on a wheel, the height of its axle under it, and the height on the line through all readings."""

    load_kg: float
    height_mm: float
    line_mm: float


class TyreSaid(Wire, frozen=True):
    """A tyre by scale and ruler; `twin_of`: the wheel that has the readings, null where they are its own."""

    rate: Figure
    readings: list[TyreReadingSaid]
    twin_of: str | None
    sentences: list[str]


class WheelLoad(Wire, frozen=True):
    """What a wheel carries: "stated", "weighed", "scale" or "masses"; a stated one may have its weighing beside it."""

    load: Figure
    by: str
    weighed: Figure | None


class Closure(Wire, frozen=True):
    """One check of the scale: "known" mass, "repeats" of one wheel, sum against the "total"."""

    kind: str
    wheel: str | None
    off_kg: float
    of_kg: float
    allowed_kg: float
    closes: bool


class Raised(Wire, frozen=True):
    """A wheel that stood higher than the others; what came on it by that, null where nothing tells."""

    wheel: str
    height_mm: float
    shift_kg: float | None


class BalancePoint(Wire, frozen=True):
    """The centre of gravity: over the ground as measured, and how high, by "tilt" or "masses"."""

    ahead: Figure
    left: Figure | None
    height: Figure | None
    height_by: str | None


class Chassis(Wire, frozen=True):
    """How the chassis stands: rise from the set-up pose, nose down and left side up positive; null with a reason."""

    heave_mm: float | None
    pitch_deg: float | None
    roll_deg: float | None
    lifted: list[str]
    because: str | None


class TippingSaid(Wire, frozen=True):
    """Static limits in shares of gravity; null with a reason. `slope` to the side, standing still."""

    sideways: Figure | None
    leaning: Figure | None
    slope: Figure | None
    braking_in_bend: float | None
    driving_in_bend: float | None
    over_front: float | None
    over_rear: float | None
    because: str | None


class CouplingSaid(Wire, frozen=True):
    """What the coupling carries, level as drawn and pitched as it stands; null with a reason."""

    level_kg: float | None
    pitched_kg: float | None
    level_percent: float | None
    pitched_percent: float | None
    because: str | None


class LoadSetSaid(Wire, frozen=True):
    """The vehicle with one load set aboard; answers as in `check`."""

    usual: bool
    carries: list[str]
    wheels: dict[str, WheelLoad]
    total: Figure | None
    cross: Figure | None
    closures: list[Closure]
    raised: list[Raised]
    balance: BalancePoint | None
    chassis: Chassis | None
    tipping: TippingSaid
    coupling: CouplingSaid | None
    answers: Answers


class MeasureDocument(Document, frozen=True, kw_only=True):
    """Everything measured of one vehicle; findings are those of "Can I trust my numbers?", and every stop."""

    title: str
    tapes: Tapes | None
    springs: dict[str, SpringSaid]
    pile: PileSaid | None
    tyres: dict[str, TyreSaid]
    load_sets: dict[str, LoadSetSaid]
    findings: list[FoundFinding]
