"""A flat swing arm whose rocker rides on the arm: link to the frame ahead, shock upright behind."""

from __future__ import annotations

from dataclasses import dataclass

from leverwright.project.archetypes.lever import WHEEL_AND_SHOCK, Lever, Room, lever_for, mm
from leverwright.project.archetypes.measurement import Archetype, Measurement, Measurements, refuse
from leverwright.project.archetypes.tables import Corner, head, last_tables
from leverwright.quantity import say

__all__ = ["SWING_ARM"]

ROCKER_SWING = 0.45  # rad from ride to full bump: inside the 30 deg of common practice
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


def _lay_out(measured: Measurements) -> _Layout:
    """A rocker between pivot and tyre whose arms can be cut and that turns little enough."""
    arm = measured["arm"]
    _check_reach(measured, arm)
    lever = lever_for(measured, Room(travel=ARM_SWING * arm))
    layout = _rocker(lever, arm, measured["wheel-radius"])
    if layout is not None:
        return layout
    longer = (arm + 0.010 * step for step in range(1, 200))
    enough = next((a for a in longer if _rocker(lever, a, measured["wheel-radius"]) is not None), None)
    raise refuse(
        measured.archetype,
        "arm",
        f"{say(arm, 'length')}, which leaves no room between pivot and tyre for the rocker of this shock",
        f"about {say(enough, 'length')} or more" if enough else "no length with this shock and load",
        "make the arm longer or take a shock of less stroke",
    )


def _check_reach(measured: Measurements, arm: float) -> None:
    """Is there room for a shock ahead of the tyre?"""
    reach = _reach(arm, measured["wheel-radius"])
    if reach < LEAST_REACH:
        raise refuse(
            measured.archetype,
            "arm",
            f"{say(arm, 'length')} with a wheel of {say(measured['wheel-radius'], 'length')} radius, "
            f"which leaves {say(max(0.0, reach), 'length')} for the shock ahead of the tyre",
            f"at least {say(arm - reach + LEAST_REACH, 'length')} with this wheel",
            "make the arm longer or take a smaller wheel",
        )


def _reach(arm: float, radius: float) -> float:
    """From the arm's pivot to the shock's middle line, just ahead of the tyre [m]."""
    return arm - radius - SHOCK_TO_TYRE


def _rocker(lever: Lever, arm: float, radius: float) -> _Layout | None:
    """The rocker on an arm of that length; None where its front arm would be too short.

    It turns by bump * pin / arm / link arm from ride to full bump. With the spring at the reach's end
    that grows with the pin's distance, so the pin sits where the turn is ROCKER_SWING, or nearer.
    """
    reach, wanted = _reach(arm, radius), lever.ratio * arm
    room = ROCKER_SWING * arm - lever.bump
    at_swing = (ROCKER_SWING * arm * reach - lever.bump * wanted) / room if room > 0 else 0.0
    rocker_at = round(min(0.6 * reach, wanted / 1.6, at_swing), 3)
    if rocker_at <= LEAST_ARM:
        return None
    spring_per_link = wanted / rocker_at - 1
    link_arm = round(min((reach - rocker_at) / spring_per_link, 0.6 * rocker_at), 3)
    if link_arm < LEAST_ARM or lever.bump * rocker_at / arm / link_arm > 1.05 * ROCKER_SWING:
        return None
    return _Layout(lever, arm, rocker_at, link_arm, round(spring_per_link * link_arm, 3))


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
hub         = [{mm(-layout.arm)}, {mm(hub_up)}]    # middle of the wheel
rocker-pin  = [{mm(-layout.rocker_at)}, {mm(hub_up)}]    # on the arm: the rocker turns here
link-hole   = [{mm(link_x)}, {mm(hub_up)}]    # on the rocker, ahead of the pin
spring-hole = [{mm(spring_x)}, {mm(hub_up)}]    # on the rocker, behind the pin
link-eye    = [{mm(link_x)}, {mm(hub_up + LINK_LENGTH)}]    # on the frame
spring-eye  = [{mm(spring_x)}, {mm(hub_up + layout.lever.ride_length)}]    # on the frame

[bodies]
chassis = ["arm-pivot", "link-eye", "spring-eye"]
arm     = ["arm-pivot", "rocker-pin", "hub"]
rocker  = ["rocker-pin", "link-hole", "spring-hole"]

[bars.link]               # holds the rocker's front end at its height
ends = ["link-hole", "link-eye"]
adjust = [-5, 5]          # mm that its threads allow, from its set-up length

{last_tables(measured, layout.lever, Corner("arm", "rear"))}
# As first drawn the spring moves, by what the wheel moves:
# (arm-pivot to rocker-pin) / (arm-pivot to hub), times the rocker's (link arm + spring arm) / link arm.
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
