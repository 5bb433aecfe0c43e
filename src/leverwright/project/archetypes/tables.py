"""Parts of a project file that every archetype has: its head, its shock, its goals, its wheels."""

from __future__ import annotations

from leverwright.project.archetypes.lever import PRELOAD, Lever, mm
from leverwright.project.archetypes.measurement import Measurements

__all__ = ["goals_table", "head", "shock_table", "wheel_values"]

_BUMP_STOP_N_MM = 40  # a plain rubber cone of that size; from memory


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


def shock_table(measured: Measurements, lever: Lever) -> str:
    """The shock in hand, with a bump stop in its last fifth."""
    return f"""\
[shocks.mine]
rate = {measured.toml("rate")}        # squash it on a scale, behind a guard, before you trust this
length_open = {measured.toml("shock-open")}   # eye to eye, hanging
length_closed = {measured.toml("shock-closed")} # eye to eye, pushed in until it stops
preload = {mm(PRELOAD)}               # mm that the collar squashes the coil, shock hanging
stop = {{ touches = {mm(lever.stop_touches)}, rate = {_BUMP_STOP_N_MM} }} # rubber on the rod: N/mm, invented
"""


def goals_table() -> str:
    """What the wheels should do; common practice, and a wide band for light machines."""
    return """\
[goals]
sag = [30, 40]            # % of the travel, usual rider; common practice
frequency = [1.5, 3.2]    # Hz; light machines sit near the top of this band
"""


def wheel_values(measured: Measurements) -> str:
    """What a scale and a tape say of one wheel."""
    return f"""\
radius = {measured.toml("wheel-radius")}
load = {measured.toml("load")}            # scale under this wheel, usual rider seated, all wheels level
unsprung = {measured.toml("unsprung")}         # wheel, brake, half of the arm
# tyre = 90               # N/mm, once you have measured it
"""
