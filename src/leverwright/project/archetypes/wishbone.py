"""A wishbone corner and its mirror image: link from the lower arm to a rocker on the frame's side."""

from __future__ import annotations

import math
from dataclasses import dataclass

from leverwright.project.archetypes.lever import (
    WHEEL_AND_SHOCK,
    Lever,
    Room,
    lever_for,
    mm,
    rocker_arms,
)
from leverwright.project.archetypes.measurement import Archetype, Measurement, Measurements, refuse
from leverwright.project.archetypes.tables import Corner, head, last_tables
from leverwright.quantity import say

__all__ = ["WISHBONE"]

ROCKER_SWING = 0.5  # rad from ride to full bump: inside the 30 deg of common practice
ARM_SWING = 0.55  # m of travel per m of lower arm: 20 deg up from level at full bump
BALL_TO_HUB = 0.070  # m, wheel's middle plane outside the lower ball joint
LINK_SHARE = 0.78  # of the lower arm, from its hinge to the link's hole
UPPER_SHARE = 0.8  # upper arm's length by the lower arm's: some camber gain in bump
BALL_INWARD = 0.010  # m, upper ball joint inside the lower one
MOST_LEAN = 1.73  # link's rise by its lean: 30 deg from upright
LEAST_ARM, MOST_ARM = 0.150, 0.700  # m
MIDDLE_GAP = 0.035  # m from the middle plane to a spring's middle line: two coils side by side
HINGE_HALF = 0.025  # m, half of the rocker's bush
TOE_LINK_BACK = 0.040  # m behind the rear leg of the lower arm


@dataclass(frozen=True, slots=True)
class _Layout:
    """Left side seen from the front at ride height; lengths in m; y left, z up from the floor."""

    lever: Lever
    half_track: float
    half_frame: float
    hub_up: float
    arm: float  # lower arm, hinge to ball joint, level
    lean: float  # rad, link from upright, inward
    rise: float  # link, lower hole to upper hole
    link_arm: float
    spring_arm: float

    @property
    def lower_up(self) -> float:
        """Height of the lower arm."""
        return self.hub_up - min(0.35 * self.hub_up, 0.090)

    @property
    def upper_up(self) -> float:
        """Height of the upper arm."""
        return self.hub_up + min(0.45 * self.hub_up, 0.110)

    @property
    def rocker_pivot(self) -> tuple[float, float]:
        """(y, z) of the rocker's hinge: its link arm stands square to the leaning link."""
        return (
            self.half_frame - self.link_arm * math.cos(self.lean),
            self.lower_up + self.rise - self.link_arm * math.sin(self.lean),
        )


def _lay_out(measured: Measurements) -> _Layout:
    half_track, half_frame = measured["track"] / 2, measured["frame-width"] / 2
    arm = half_track - BALL_TO_HUB - half_frame
    if not LEAST_ARM <= arm <= MOST_ARM:
        widest = 2 * (half_track - BALL_TO_HUB - LEAST_ARM)
        narrowest = max(0.150, 2 * (half_track - BALL_TO_HUB - MOST_ARM))
        raise refuse(
            measured.archetype,
            "frame-width",
            f"{say(2 * half_frame, 'length')} between wheels {say(2 * half_track, 'length')} apart, "
            f"which leaves {say(arm, 'length')} for each lower arm",
            f"{say(narrowest, 'length')} to {say(widest, 'length')} with this track",
            "move the inner pivots, or set the wheels at another track",
        )
    lever = lever_for(measured, Room(travel=ARM_SWING * arm))
    rise = max(MOST_LEAN * LINK_SHARE * arm, lever.ride_length)
    lean = math.atan2(LINK_SHARE * arm, rise)
    link_arm, spring_arm = rocker_arms(lever, LINK_SHARE * math.cos(lean), ROCKER_SWING)
    layout = _Layout(
        lever, half_track, half_frame, measured["wheel-radius"], arm, lean, rise, link_arm, spring_arm
    )
    _check_middle(measured, layout)
    return layout


def _check_middle(measured: Measurements, layout: _Layout) -> None:
    """Both springs must stand beside one another between the frame's sides."""
    left_over = layout.rocker_pivot[0] - layout.spring_arm
    if left_over < MIDDLE_GAP:
        least = 2 * (layout.half_frame + MIDDLE_GAP - left_over)
        raise refuse(
            measured.archetype,
            "frame-width",
            f"{say(2 * layout.half_frame, 'length')}, too narrow for two rockers of "
            f"{say(layout.link_arm, 'length')} and {say(layout.spring_arm, 'length')}",
            f"at least {say(least, 'length')} with this shock and load",
            "move the inner pivots apart, or take a shock of less stroke",
        )


def _points(layout: _Layout) -> str:
    """The [points] table of the left side."""
    inner, ball = layout.half_frame, layout.half_frame + layout.arm
    low, high = layout.lower_up, layout.upper_up
    upper_in = ball - BALL_INWARD - UPPER_SHARE * layout.arm
    toe_x = -0.35 * layout.arm - TOE_LINK_BACK
    pivot_y, pivot_z = layout.rocker_pivot
    spring_y = pivot_y - layout.spring_arm
    link_y = inner + LINK_SHARE * layout.arm

    def row(name: str, place: tuple[float, float, float], note: str = "") -> str:
        x, y, z = map(mm, place)
        return f"{name + '-left':<18} = [{x}, {y}, {z}]{note and '    # ' + note}"

    return "\n".join(
        (
            row("lower-front", (0.35 * layout.arm, inner, low), "lower arm's hinge on the frame"),
            row("lower-rear", (-0.35 * layout.arm, inner, low)),
            row("lower-ball", (0.0, ball, low), "lower arm's ball joint"),
            row("link-low", (0.0, link_y, low), "link takes off from the lower arm"),
            row("upper-front", (0.3 * layout.arm, upper_in, high), "upper arm's hinge on the frame"),
            row("upper-rear", (-0.3 * layout.arm, upper_in, high)),
            row("upper-ball", (0.0, ball - BALL_INWARD, high), "upper arm's ball joint"),
            row("toe-outer", (toe_x, ball, low), "toe link, on the upright"),
            row("toe-inner", (toe_x, inner, low)),
            row("stub", (0.0, ball + 0.020, layout.hub_up), "inner end of the stub axle"),
            row("hub", (0.0, layout.half_track, layout.hub_up), "middle of the wheel"),
            row("rocker-front", (HINGE_HALF, pivot_y, pivot_z), "rocker's hinge, along the frame"),
            row("rocker-rear", (-HINGE_HALF, pivot_y, pivot_z)),
            row(
                "link-high",
                (0.0, inner, low + layout.rise),
                "on the rocker",
            ),
            row("spring-hole", (0.0, spring_y, pivot_z), "on the rocker"),
            row(
                "spring-eye",
                (0.0, spring_y, pivot_z - layout.lever.ride_length),
                "on the frame",
            ),
        )
    )


def _write(measured: Measurements) -> str:
    layout = _lay_out(measured)
    text_head = head(
        "Wishbone corners with rockers",
        "x forward from the axle line, y left from the middle, z up from the floor",
    )
    return f"""\
{text_head}mirror = true             # what ends in -left is built on the right too

[points]
{_points(layout)}

[bodies]
chassis          = ["lower-front-left", "lower-rear-left", "upper-front-left", "upper-rear-left",
                    "toe-inner-left", "rocker-front-left", "rocker-rear-left", "spring-eye-left"]
lower-arm-left   = ["lower-front-left", "lower-rear-left", "lower-ball-left", "link-low-left"]
upper-arm-left   = ["upper-front-left", "upper-rear-left", "upper-ball-left"]
upright-left     = ["lower-ball-left", "upper-ball-left", "toe-outer-left", "stub-left", "hub-left"]
rocker-left      = ["rocker-front-left", "rocker-rear-left", "link-high-left", "spring-hole-left"]

[bars.link-left]          # push link with a rod end and a jam nut at each end
ends = ["link-low-left", "link-high-left"]
adjust = [-5, 5]          # mm that its threads allow, from its set-up length

[bars.toe-link-left]      # holds the wheel straight; with steering, a tie rod to the rack instead
ends = ["toe-outer-left", "toe-inner-left"]

{last_tables(measured, layout.lever, Corner("upright-left", "wheel", "-left"))}
# As first drawn the spring moves, by what the wheel moves: the link hole's share of the lower arm,
# times the cosine of the link's lean, times the rocker's spring arm / link arm.
"""


WISHBONE = Archetype(
    "wishbone",
    "Wishbone corners with rockers",
    "Two arms a side with ball joints outside, link from the lower arm up to a rocker, shock upright in the frame.",
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
            "frame-width",
            "frame width at the arms",
            "length",
            "440 mm",
            "Between the left and the right hinge of the lower arms.",
            0.15,
            1.5,
        ),
    ),
    _write,
)
