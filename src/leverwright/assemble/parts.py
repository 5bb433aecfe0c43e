"""The assemblies as the chassis stands on them."""

from __future__ import annotations

import numpy as np

from leverwright.assemble.footing import Footing
from leverwright.geometry import Array
from leverwright.project import Project
from leverwright.ride.chassis_wheels import Part
from leverwright.ride.sprung import SprungAssembly

__all__ = ["parts_of"]


def parts_of(project: Project, footing: Footing) -> tuple[Part, ...]:
    """The assemblies that have wheels, as the chassis stands on them."""
    rows = zip(footing.assemblies, footing.travels, footing.heave, strict=True)
    return tuple(Part(a, t, h, _radius(project, a)) for a, t, h in rows if len(a.load))


def _radius(project: Project, sprung: SprungAssembly) -> Array:
    return np.array([project.wheels[name].radius.value for name in sprung.assembly.layout.wheel_names])
