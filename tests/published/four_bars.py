"""Project texts of the published four-bars: the crank carries the wheel, the rocker turns on the ground line.

The set-up pose is one whose coordinates follow from two circles; the published pose is then reached
by moving the wheel, so the solver has to find it. Lengths are the book's numbers as millimetres (or
inches), angles are anticlockwise from the ground line, which lies along x.
"""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class FourBar:
    """Lengths in one unit; `branch` +1 for the coupler's end above the ground line, -1 below."""

    ground: float
    crank: float
    coupler: float
    rocker: float
    branch: int
    unit: str = "mm"

    def joint(self, crank_angle: float) -> tuple[float, float, float, float]:
        """Crank end and coupler end (x, z each) by two circles, in `unit`."""
        ax, az = self.crank * math.cos(crank_angle), self.crank * math.sin(crank_angle)
        dx, dz = self.ground - ax, -az
        far = math.hypot(dx, dz)
        along = (self.coupler**2 - self.rocker**2 + far**2) / (2 * far)
        off = self.branch * math.sqrt(self.coupler**2 - along**2)
        return ax, az, ax + (along * dx - off * dz) / far, az + (along * dz + off * dx) / far

    def text(self, set_up_angle: float, springs: bool = True) -> str:
        """The project with the crank at `set_up_angle` [rad] as measured; hinge springs watch both turns."""
        ax, az, bx, bz = self.joint(set_up_angle)
        u = self.unit
        return f"""
leverwright = 1
plane = "xz"
[points]
crank-pivot = [0, 0]
rocker-pivot = ["{self.ground!r} {u}", 0]
crank-end = ["{ax!r} {u}", "{az!r} {u}"]
rocker-end = ["{bx!r} {u}", "{bz!r} {u}"]
[bodies]
chassis = ["crank-pivot", "rocker-pivot"]
crank = ["crank-pivot", "crank-end"]
coupler = ["crank-end", "rocker-end"]
rocker = ["rocker-pivot", "rocker-end"]
[wheels.wheel]
body = "crank"
centre = "crank-end"
radius = 100
load = 10
{_TURNS if springs else ""}"""


_TURNS = """
[springs.rocker-twist]
hinge = ["rocker", "chassis"]
rate = "1 N·m/deg"
twist = 0
[springs.coupler-twist]
hinge = ["coupler", "crank"]
rate = "1 N·m/deg"
twist = 0
"""

NORTON = FourBar(ground=100, crank=40, coupler=120, rocker=80, branch=1)
NORTON_CROSSED = FourBar(ground=100, crank=40, coupler=120, rocker=80, branch=-1)
BEVAN = FourBar(ground=8, crank=2.5, coupler=7, rocker=4.5, branch=1, unit="in")
