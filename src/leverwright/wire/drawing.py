"""The vehicle as drawn: places, and who carries what."""

from __future__ import annotations

from msgspec import UNSET, UnsetType

from leverwright.wire.strict import Wire

__all__ = [
    "Drawing",
    "DrawnBar",
    "DrawnBody",
    "DrawnHeld",
    "DrawnPoint",
    "DrawnShock",
    "DrawnSpring",
    "DrawnStrap",
    "DrawnWheel",
]

Place = tuple[float, float, float]
Pair = tuple[str, str]
Span = tuple[float, float]


class DrawnPoint(Wire, frozen=True):
    """A point in the set-up pose, mm; the axis a flat drawing lacks is 0.

    at        where the tapes put it, where there are any that do
    sketched  the file has a rough place of it only
    """

    at: Place
    bodies: list[str]
    twin_of: str | None
    error_mm: float | None
    alone: bool
    sketched: bool | UnsetType = UNSET


class DrawnBody(Wire, frozen=True):
    """A rigid body by the points it carries."""

    points: list[str]
    twin_of: str | None


class DrawnBar(Wire, frozen=True):
    """A bar; `length_mm` is its length now, `drawn_mm` the distance of its ends in the set-up pose."""

    ends: Pair
    length_mm: float
    drawn_mm: float
    adjust_mm: Span | None
    twin_of: str | None


class DrawnSpring(Wire, frozen=True):
    """A spring between two points, or on the hinge of two bodies."""

    ends: Pair | None
    shock: str | None
    hinge: Pair | None
    twin_of: str | None


class DrawnStrap(Wire, frozen=True):
    """A strap between two points: slack below its length."""

    ends: Pair
    length_mm: float
    twin_of: str | None


class DrawnHeld(Wire, frozen=True):
    """A held range: a point led along a line (mm), or a hinge (deg)."""

    point: str | None
    along: Place | None
    bodies: Pair | None
    range: Span
    twin_of: str | None


class DrawnWheel(Wire, frozen=True):
    """A wheel."""

    body: str
    centre: str
    axis: Pair | None
    radius_mm: float
    load_kg: float | None
    twin_of: str | None


class DrawnShock(Wire, frozen=True):
    """A kind of shock by its two lengths, eye to eye."""

    length_open_mm: float
    length_closed_mm: float


class Drawing(Wire, frozen=True):
    """Everything by name, in the order of the file, a twin right after its original."""

    points: dict[str, DrawnPoint]
    bodies: dict[str, DrawnBody]
    bars: dict[str, DrawnBar]
    springs: dict[str, DrawnSpring]
    straps: dict[str, DrawnStrap]
    held: dict[str, DrawnHeld]
    wheels: dict[str, DrawnWheel]
    shocks: dict[str, DrawnShock]
