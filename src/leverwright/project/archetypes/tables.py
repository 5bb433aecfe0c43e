"""Parts of a project file that every archetype has: its head, its shock, its goals, its wheels."""

from __future__ import annotations

import math
from dataclasses import dataclass

from leverwright.project.archetypes.lever import PRELOAD, Lever, mm
from leverwright.project.archetypes.measurement import Measurements

__all__ = ["Corner", "head", "last_tables"]

_BUMP_STOP_N_MM = 40  # a plain rubber cone of that size; from memory

_USUAL_HZ = (1.5, 3.2)  # ride frequency; common practice, and a wide band for light machines
_GUESSED = 1.12  # the lever's change of ratio, left out of the guess, moves the frequency by up to so much


def head(title: str, seen: str) -> str:
    """The first lines: what this is and how far to trust it; `seen` says where the axes start."""
    return f"""\
leverwright = 1
title = "{title}"
# A start, not a vehicle: all places below are invented from the few numbers that you gave.
# Move things on screen until it fits your frame, then put in what tape and scale say.
# {seen}; millimetres, kilograms, newtons.
pose = "on blocks"        # wood between frame and axle, at ride height
error = 1.0               # mm: how well a tape finds a hole
"""


@dataclass(frozen=True, slots=True)
class Corner:
    """What carries the wheel, and the wheel's name; `side` ends every name of a mirrored vehicle."""

    body: str
    wheel: str
    side: str = ""


def last_tables(measured: Measurements, lever: Lever, corner: Corner) -> str:
    """Shock, spring, goals and wheel: what follows the linkage in every file."""
    side = corner.side
    axis = f'axis = ["stub{side}", "hub{side}"]\n' if side else ""
    return f"""\
{_shock_table(measured, lever)}
[springs.spring{side}]
ends = ["spring-hole{side}", "spring-eye{side}"]
shock = "mine"

{_goals_table(measured, lever)}
[wheels.{corner.wheel}{side}]
body = "{corner.body}"
centre = "hub{side}"
{axis}{_wheel_values(measured)}"""


def _shock_table(measured: Measurements, lever: Lever) -> str:
    """The shock in hand, with a bump stop in its last fifth."""
    return f"""\
[shocks.mine]
rate = {measured.toml("rate")}        # squashed on a scale, guided and behind a guard, by a qualified person
length_open = {measured.toml("shock-open")}   # eye to eye, hanging
length_closed = {measured.toml("shock-closed")} # eye to eye, pushed in until it stops
preload = {mm(PRELOAD)}               # mm that the collar squashes the coil, shock hanging
stop = {{ touches = {mm(lever.stop_touches)}, rate = {_BUMP_STOP_N_MM} }} # rubber on the rod: N/mm, invented
"""


def _goals_table(measured: Measurements, lever: Lever) -> str:
    """What the wheels should do: common practice, its band widened where this spring and load lie outside.

    Stroke, rate and load settle the frequency, whatever the lever: a goal that no lever meets helps nobody.
    """
    low, high = _USUAL_HZ
    frequency = lever.frequency(measured)
    least = min(low, math.floor(10 * frequency / _GUESSED) / 10)
    most = max(high, math.ceil(10 * frequency * _GUESSED) / 10)
    return f"""\
[goals]                   # usual goals, written by the start form, not by you: put your own
sag = [30, 40]            # % of the travel, usual rider; common practice
frequency = [{least}, {most}]    # Hz; usual is {low} to {high}, written wider where spring and load lie outside
"""


def _wheel_values(measured: Measurements) -> str:
    """What a scale and a tape say of one wheel."""
    return f"""\
radius = {measured.toml("wheel-radius")}
load = {measured.toml("load")}            # scale under this wheel, usual rider seated, all wheels level
unsprung = {measured.toml("unsprung")}         # wheel, brake, half of the arm
# tyre = 90               # N/mm, once you have measured it
"""
