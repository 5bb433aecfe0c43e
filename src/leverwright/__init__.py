"""Lever suspension from tape and scale to drilled steel: read a project file, study it, make its templates."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, cast

if TYPE_CHECKING:
    from leverwright.project import Project
    from leverwright.study import Study

__all__ = ["Project", "Study"]


def __getattr__(name: str) -> object:
    # Arrays cost 0.1 s to import; `leverwright --help` and the file's own reader do without them.
    if name == "Project":
        from leverwright.project import Project

        return Project
    if name == "Study":
        from leverwright.study import Study

        # What a notebook asks the last line of a cell for; the study itself draws nothing.
        cast("Any", Study)._repr_html_ = _shown
        return Study
    raise AttributeError(f"module 'leverwright' has no attribute {name!r}")


def _shown(study: Study) -> str:
    from leverwright.wire.notebook import study_html

    return study_html(study)
