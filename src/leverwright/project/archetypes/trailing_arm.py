"""A flat trailing arm: link up to a rocker on the frame, shock forward along the frame."""

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

__all__ = ["TRAILING_ARM"]

ROCKER_SWING = 0.38  # rad from ride to full bump; common practice: 30 deg at most, 20 is better
ARM_SWING = 0.55  # m of travel per m of arm: 20 deg up from level at full bump
TAB_HEIGHT = 0.020  # m, link hole above the arm's middle line
SHORTEST_LINK = 0.180  # m; a short link tilts much and is hard to adjust


@dataclass(frozen=True, slots=True)
class _Layout:
    """Side view at ride height; lengths in m, origin on the floor below the arm's pivot."""

    lever: Lever
    arm: float  # pivot to wheel centre
    link_at: float  # pivot to the link's hole, along the arm
    link_length: float
    link_arm: float
    spring_arm: float


def _lay_out(measured: Measurements) -> _Layout:
    """Link square to the arm and to the rocker, spring square to the rocker, all at ride height."""
    arm = measured["arm"]
    lever = lever_for(measured, Room(travel=ARM_SWING * arm))
    # Long travel takes the link nearer to the pivot, so that the rocker stays a handy size.
    share = min(0.65, max(0.35, 0.055 / lever.travel))
    link_at = round(share * arm, 3)
    link_arm, spring_arm = rocker_arms(lever, link_at / arm, ROCKER_SWING)
    link_length = max(SHORTEST_LINK, round(2 * link_arm, 2))
    return _Layout(lever, arm, link_at, link_length, link_arm, spring_arm)


def _write(measured: Measurements) -> str:
    layout = _lay_out(measured)
    lever, hub_up = layout.lever, measured["wheel-radius"]
    tab_up = hub_up + TAB_HEIGHT
    rocker_up = tab_up + layout.link_length
    spring_up = rocker_up + layout.spring_arm
    pivot = -layout.link_at + layout.link_arm
    text_head = head(
        "Trailing arm with a rocker",
        "Seen from the side: x forward, z up from the floor, x = 0 at the arm's pivot",
    )
    return f"""\
{text_head}plane = "xz"

[points]
arm-pivot    = [0, {mm(hub_up)}]
hub          = [{mm(-layout.arm)}, {mm(hub_up)}]    # middle of the wheel
arm-tab      = [{mm(-layout.link_at)}, {mm(tab_up)}]    # the link takes off here
link-hole    = [{mm(-layout.link_at)}, {mm(rocker_up)}]    # on the rocker
rocker-pivot = [{mm(pivot)}, {mm(rocker_up)}]    # on the frame: the rocker turns here
spring-hole  = [{mm(pivot)}, {mm(spring_up)}]    # on the rocker
spring-eye   = [{mm(pivot + lever.ride_length)}, {mm(spring_up)}]    # on the frame

[bodies]
chassis = ["arm-pivot", "rocker-pivot", "spring-eye"]
arm     = ["arm-pivot", "arm-tab", "hub"]
rocker  = ["rocker-pivot", "link-hole", "spring-hole"]

[bars.link]               # push link with a rod end and a jam nut at each end
ends = ["arm-tab", "link-hole"]
adjust = [-5, 5]          # mm that its threads allow, from its set-up length

{last_tables(measured, lever, Corner("arm", "rear"))}
# As first drawn the spring moves, by what the wheel moves:
# (arm-pivot to arm-tab) / (arm-pivot to hub), times the rocker's spring arm / link arm.
"""


TRAILING_ARM = Archetype(
    "trailing-arm",
    "Trailing arm with a rocker",
    "One arm hinged on the frame, wheel behind it, link up to a rocker, shock lying along the frame.",
    (
        *WHEEL_AND_SHOCK,
        Measurement(
            "arm",
            "arm length",
            "length",
            "420 mm",
            "From the arm's pivot bolt to the middle of the wheel's axle.",
            0.15,
            1.2,
        ),
    ),
    _write,
)
