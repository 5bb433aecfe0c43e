"""The project file: read, checked, mirrored, edited with comments kept, and saved."""

from leverwright.project.fault import ChangedOnDisk, Fault, ProjectError, SaveError
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
from leverwright.project.vehicle import Project

__all__ = [
    "Bar",
    "Body",
    "BumpStop",
    "ChangedOnDisk",
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
