"""Changed vehicles to be judged: each made once however many findings ask for it, all of one asking side by side."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from leverwright.assemble import measured_of
from leverwright.assemble.aboard import Aboard
from leverwright.assemble.footing import footings_of
from leverwright.project import Project, ProjectError
from leverwright.search.edits import Ops, tried
from leverwright.study import Study

__all__ = ["Trials"]


class Trials:
    """The studies that changes of one study make; kept while its findings are being cured."""

    def __init__(self, study: Study) -> None:
        self.study = study
        self._made: dict[str, Study | None] = {}

    def of(self, changes: Sequence[Ops]) -> tuple[Study | None, ...]:
        """A study of each change; None where it makes no vehicle: two holes in one place, an arm of no length."""
        names = [repr(ops) for ops in changes]
        new = {name: ops for name, ops in zip(names, changes, strict=True) if name not in self._made}
        projects = {name: self._changed(ops) for name, ops in new.items()}
        made = {name: project for name, project in projects.items() if project is not None}
        self._made |= dict.fromkeys(projects) | dict(
            zip(made, self._studies(list(made.values())), strict=True)
        )
        return tuple(self._made[name] for name in names)

    def _changed(self, ops: Ops) -> Project | None:
        try:
            return _loaded(self.study, tried(self.study.project, ops))
        except ProjectError:
            return None

    def _studies(self, projects: Sequence[Project]) -> list[Study]:
        study = self.study
        if study.measured.weights is not None:  # each stands on its own wheels first, and is cycled for it
            return [Study(project, study.hold, study.units) for project in projects]
        measured = [measured_of(project) for project in projects]
        known = footings_of([each.project for each in measured], study.hold)
        return [
            Study(project, study.hold, study.units, aboard=Aboard(None, taken, footing))
            for project, taken, footing in zip(projects, measured, known, strict=True)
        ]


def _loaded(study: Study, changed: Project) -> Project:
    """The changed vehicle with the load sets that the measured one has left behind; one read anew has its own."""
    if changed.loads or not study.file.loads:
        return changed
    file = study.file
    return replace(changed, loads=file.loads, masses=file.masses, coupling=file.coupling, tilt=file.tilt)
