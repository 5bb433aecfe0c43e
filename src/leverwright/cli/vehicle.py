"""A vehicle named on the command line, read."""

from __future__ import annotations

from leverwright.cli.refusal import refused_fault
from leverwright.project import Project, ProjectError

__all__ = ["project_of"]


def project_of(file: str) -> Project:
    """The project of a file; Refused where it cannot be used."""
    try:
        return Project.read(file)
    except ProjectError as error:
        raise refused_fault(error.fault) from error
