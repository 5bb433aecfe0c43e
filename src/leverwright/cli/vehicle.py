"""A vehicle named on the command line, read."""

from __future__ import annotations

from leverwright.cli.refusal import refused_fault
from leverwright.project import Draft, Project, ProjectError, Sketch
from leverwright.project.files import read_file, shown_name

__all__ = ["project_of", "project_or_shocks"]

# What a file with nothing but shocks lacks.
_VEHICLE = ("points", "bodies")


def project_of(file: str) -> Project:
    """The project of a file; Refused where it cannot be used."""
    try:
        return Project.read(file)
    except ProjectError as error:
        raise refused_fault(error.fault) from error


def project_or_shocks(file: str) -> Project | Sketch:
    """The project of a file, or its sketch where it is sound and lacks nothing but the vehicle round its shocks."""
    try:
        return Project.read(file)
    except ProjectError as error:
        alone = _shocks_of(file)
        if alone is None:
            raise refused_fault(error.fault) from error
        return alone


def _shocks_of(file: str) -> Sketch | None:
    try:
        draft = Draft.from_text(read_file(file), shown_name(file))
    except ProjectError:
        return None  # no readable file: the first refusal says so
    only = all(fault.key in _VEHICLE for fault in draft.faults)
    return draft.sketch if only and (draft.sketch.bench or draft.sketch.pile) else None
