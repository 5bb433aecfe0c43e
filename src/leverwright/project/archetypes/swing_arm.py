"""A flat swing arm whose rocker rides on the arm: link to the frame ahead, shock upright behind."""

from __future__ import annotations

from dataclasses import dataclass

from leverwright.project.archetypes.lever import WHEEL_AND_SHOCK, Lever, Room, lever_for, mm, number
from leverwright.project.archetypes.measurement import Archetype, Measurement, Measurements, refuse
from leverwright.project.archetypes.tables import goals_table, head, shock_table, wheel_values
from leverwright.quantity import say

__all__ = ["SWING_ARM"]

ARM_SWING = 0.5  # m of travel per m of arm: 19 deg up from level at full bump
SHOCK_TO_TYRE = 0.040  # m, half a coil and a finger
LEAST_REACH = 0.130  # m between the arm's pivot and the shock's middle line
LEAST_ARM = 0.030  # m, shortest rocker arm that leaves steel between two 10 mm holes
LINK_LENGTH = 0.110  # m


@dataclass(frozen=True, slots=True)
class _Layout:
    """Side view at ride height; lengths in m."""

    lever: Lever
    arm: float  # pivot to wheel centre
    rocker_at: float  # pivot to the rocker's pin, along the arm
    link_arm: float  # rocker's pin forward to the link
    spring_arm: float  # rocker's pin back to the shock

    @property
    def ratio(self) -> float:
        """Motion ratio at ride height.

        The upright link holds the rocker's front hole at its height, so the rear hole rises by
        (link arm + spring arm) / link arm of what the pin between them rises.
        """
        return self.rocker_at / self.arm * (1 + self.spring_arm / self.link_arm)


def _lay_out(measured: Measurements) -> _Layout:
    arm = measured["arm"]
    reach = arm - measured["wheel-radius"] - SHOCK_TO_TYRE
    if reach < LEAST_REACH:
        raise refuse(
            measured.archetype,
            "arm",
            f"{say(arm, 'length')} with a wheel of {say(measured['wheel-radius'], 'length')} radius, "
            f"which leaves {say(reach, 'length')} for the shock ahead of the tyre",
            f"at least {say(arm - reach + LEAST_REACH, 'length')} with this wheel",
            "make the arm longer or take a smaller wheel",
        )
    lever = lever_for(measured, Room(travel=ARM_SWING * arm))
    rocker_at = round(min(0.6 * reach, lever.ratio * arm / 1.6), 3)
    spring_per_link = lever.ratio * arm / rocker_at - 1
    link_arm = round(min((reach - rocker_at) / spring_per_link, 0.6 * rocker_at), 3)
    spring_arm = round(spring_per_link * link_arm, 3)
    return _Layout(lever, arm, rocker_at, link_arm, spring_arm)


def _write(measured: Measurements) -> str:
    layout = _lay_out(measured)
    hub_up = measured["wheel-radius"]
    link_x = -layout.rocker_at + layout.link_arm
    spring_x = -layout.rocker_at - layout.spring_arm
    text_head = head(
        "Swing arm with a rocker on it",
        "Seen from the side: x forward, z up from the floor, x = 0 at the arm's pivot",
    )
    return f"""\
{text_head}plane = "xz"

[points]
arm-pivot   = [0, {mm(hub_up)}]
hub         = [{mm(-layout.arm)}, {mm(hub_up)}]    # {mm(layout.arm)} behind the pivot
rocker-pin  = [{mm(-layout.rocker_at)}, {mm(hub_up)}]    # on the arm: the rocker turns here
link-hole   = [{mm(link_x)}, {mm(hub_up)}]    # {mm(layout.link_arm)} ahead of the pin
spring-hole = [{mm(spring_x)}, {mm(hub_up)}]    # {mm(layout.spring_arm)} behind the pin
link-eye    = [{mm(link_x)}, {mm(hub_up + LINK_LENGTH)}]    # on the frame, straight above link-hole
spring-eye  = [{mm(spring_x)}, {mm(hub_up + layout.lever.ride_length)}]    # on the frame; the shock stands upright

[bodies]
chassis = ["arm-pivot", "link-eye", "spring-eye"]
arm     = ["arm-pivot", "rocker-pin", "hub"]
rocker  = ["rocker-pin", "link-hole", "spring-hole"]

[bars.link]               # holds the rocker's front end at its height
ends = ["link-hole", "link-eye"]
adjust = [-5, 5]          # mm that its threads allow, from the length above

{shock_table(measured, layout.lever)}
[springs.spring]
ends = ["spring-hole", "spring-eye"]
shock = "mine"

{goals_table()}
[wheels.wheel]
body = "arm"
centre = "hub"
{wheel_values(measured)}
# At ride height the spring moves {number(layout.ratio)} of what the wheel moves:
# arm {mm(layout.rocker_at)} / {mm(layout.arm)},
# times rocker ({mm(layout.link_arm)} + {mm(layout.spring_arm)}) / {mm(layout.link_arm)}.
"""


SWING_ARM = Archetype(
    "swing-arm",
    "Swing arm with a rocker on it",
    "One arm for one wheel, as on a rear end with two rails; the rocker sits on the arm, a link ties it to the frame.",
    (
        *WHEEL_AND_SHOCK,
        Measurement(
            "arm",
            "arm length",
            "length",
            "480 mm",
            "From the arm's pivot bolt to the middle of the wheel's axle.",
            0.15,
            1.2,
        ),
    ),
    _write,
)
