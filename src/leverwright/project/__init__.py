"""The project file: read, checked, mirrored, edited with comments kept (`edit`), and saved (`saving`)."""

from leverwright.project.fault import ChangedOnDisk, Fault, ProjectError, SaveError
from leverwright.project.limits import LIMITS
from leverwright.project.model import (
    Bar,
    Body,
    BumpStop,
    Goals,
    Held,
    Point,
    Shock,
    Sketch,
    Spring,
    Strap,
    Wheel,
)
from leverwright.project.vehicle import Draft, Project

__all__ = [
    "LIMITS",
    "Bar",
    "Body",
    "BumpStop",
    "ChangedOnDisk",
    "Draft",
    "Fault",
    "Goals",
    "Held",
    "Point",
    "Project",
    "ProjectError",
    "SaveError",
    "Shock",
    "Sketch",
    "Spring",
    "Strap",
    "Wheel",
]
