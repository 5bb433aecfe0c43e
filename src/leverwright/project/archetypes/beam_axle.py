"""A beam axle on four links, with a rocker each side and the shocks lying along the frame."""

from __future__ import annotations

from dataclasses import dataclass

from leverwright.project.archetypes.lever import (
    WHEEL_AND_SHOCK,
    Lever,
    Room,
    lever_for,
    mm,
    rocker_arms,
)
from leverwright.project.archetypes.measurement import Archetype, Measurement, Measurements
from leverwright.project.archetypes.tables import Corner, head, last_tables

__all__ = ["BEAM_AXLE"]

ROCKER_SWING = 0.5  # rad from ride to full bump: inside the 30 deg of common practice
LINK_SWING = 0.5  # m of travel per m of trailing link
MOST_TRAVEL = 0.130  # m; the rocker turns with the whole travel and would outgrow a hand
LOWER_SHARE, TAB_SHARE = 0.30, 0.34  # of the track, from the middle: lower links, push links
UPPER_LENGTH_SHARE = 0.8  # upper link by the lower ones
PUSH_LINK = 0.220  # m
TAB_UP = 0.040  # m, push link's tab above the axle's middle line
LOCATOR_BACK = 0.070  # m, lateral locator behind the axle
HINGE_HALF = 0.025  # m, half of the rocker's bush


@dataclass(frozen=True, slots=True)
class _Layout:
    """At ride height, lengths in m; x from the axle line, z from the floor."""

    lever: Lever
    track: float
    hub_up: float
    trailing: float  # length of a lower link
    link_arm: float
    spring_arm: float

    @property
    def link_height(self) -> float:
        """How far the lower links sit below the axle's middle line, and the upper one above it."""
        return min(0.3 * self.hub_up, 0.080)

    @property
    def rocker_up(self) -> float:
        """Height of the rockers' hinges."""
        return self.hub_up + TAB_UP + PUSH_LINK


def _lay_out(measured: Measurements) -> _Layout:
    trailing = measured["link"]
    lever = lever_for(measured, Room(travel=min(LINK_SWING * trailing, MOST_TRAVEL)))
    link_arm, spring_arm = rocker_arms(lever, 1.0, ROCKER_SWING)
    return _Layout(lever, measured["track"], measured["wheel-radius"], trailing, link_arm, spring_arm)


def _points(layout: _Layout) -> str:
    """The [points] table: left side, and what stands once."""
    half, hub_up = layout.track / 2, layout.hub_up
    low, high = hub_up - layout.link_height, hub_up + layout.link_height
    lower_y, tab_y = LOWER_SHARE * layout.track, TAB_SHARE * layout.track
    pivot_x, pivot_z = layout.link_arm, layout.rocker_up
    spring_z = pivot_z + layout.spring_arm
    upper = UPPER_LENGTH_SHARE * layout.trailing

    def row(name: str, place: tuple[float, float, float], note: str = "") -> str:
        x, y, z = map(mm, place)
        return f"{name:<18} = [{x}, {y}, {z}]{note and '    # ' + note}"

    def once(name: str, place: tuple[float, float, float], note: str) -> str:
        x, y, z = map(mm, place)
        return f"{name:<18} = {{ at = [{x}, {y}, {z}], alone = true }}    # {note}"

    return "\n".join(
        (
            row("hub-left", (0.0, half, hub_up), "middle of the wheel"),
            row("stub-left", (0.0, half - 0.080, hub_up), "end of the axle tube"),
            row("lower-axle-left", (0.0, lower_y, low), "lower trailing link"),
            row("lower-frame-left", (layout.trailing, lower_y, low)),
            row("upper-axle", (0.0, 0.0, high), "one upper link, in the middle"),
            row("upper-frame", (upper, 0.0, high)),
            once("locator-frame", (-LOCATOR_BACK, lower_y, hub_up), "lateral locator, its frame end"),
            once("locator-axle", (-LOCATOR_BACK, -lower_y, hub_up), "its axle end, on the right"),
            row("push-tab-left", (0.0, tab_y, hub_up + TAB_UP), "push link stands on the axle here"),
            row("link-hole-left", (0.0, tab_y, pivot_z), "on the rocker"),
            row("rocker-in-left", (pivot_x, tab_y - HINGE_HALF, pivot_z), "rocker's hinge, across"),
            row("rocker-out-left", (pivot_x, tab_y + HINGE_HALF, pivot_z)),
            row("spring-hole-left", (pivot_x, tab_y, spring_z), "on the rocker"),
            row("spring-eye-left", (pivot_x + layout.lever.ride_length, tab_y, spring_z), "on the frame"),
        )
    )


def _write(measured: Measurements) -> str:
    layout = _lay_out(measured)
    text_head = head(
        "Beam axle on links with two rockers",
        "x forward from the axle line, y left from the middle, z up from the floor",
    )
    return f"""\
{text_head}mirror = true             # what ends in -left is built on the right too

[points]
{_points(layout)}

[bodies]
chassis = ["lower-frame-left", "upper-frame", "locator-frame",
           "rocker-in-left", "rocker-out-left", "spring-eye-left"]
axle = ["hub-left", "stub-left", "lower-axle-left", "upper-axle", "locator-axle", "push-tab-left"]
rocker-left = ["rocker-in-left", "rocker-out-left", "link-hole-left", "spring-hole-left"]

# Four links hold the axle: it can go up and down and tilt, and nothing else.
# Each needs a ball joint or a soft bush at both ends; welded or bolted solid, the axle cannot tilt.
[bars.lower-link-left]
ends = ["lower-axle-left", "lower-frame-left"]

[bars.upper-link]         # keeps the axle from winding up under the brake
ends = ["upper-axle", "upper-frame"]

[bars.lateral-locator]    # keeps the axle from drifting sideways
ends = ["locator-axle", "locator-frame"]

[bars.push-link-left]     # rod end and jam nut at each end
ends = ["push-tab-left", "link-hole-left"]
adjust = [-5, 5]          # mm that its threads allow, from its set-up length

{last_tables(measured, layout.lever, Corner("axle", "wheel", "-left"))}
# As first drawn the springs move, by what the wheels move together: the rocker's spring arm / link arm.
# One wheel alone moves its own spring less, and the other one a little.
"""


BEAM_AXLE = Archetype(
    "beam-axle",
    "Beam axle on links with two rockers",
    "One tube between two wheels, two lower links, an upper one, a lateral locator; a rocker and shock a side.",
    (
        *WHEEL_AND_SHOCK,
        Measurement(
            "track",
            "track",
            "length",
            "1050 mm",
            "Between the middles of the left and the right wheel.",
            0.5,
            2.2,
        ),
        Measurement(
            "link",
            "length of the trailing links",
            "length",
            "420 mm",
            "From bolt to bolt of a lower link, frame end to axle end.",
            0.15,
            1.2,
        ),
    ),
    _write,
)
