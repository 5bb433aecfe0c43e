"""Lever suspension from tape and scale to drilled steel: read a project file, study it, make its templates."""

from leverwright.project import Project
from leverwright.study import Study

__all__ = ["Project", "Study"]
