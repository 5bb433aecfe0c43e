"""A text with what is made of it, each on first use and kept."""

from __future__ import annotations

import logging
from collections.abc import Callable, Mapping, Sequence
from dataclasses import fields, replace
from functools import cached_property
from typing import Any

from leverwright.findings import Finding, judge
from leverwright.project import Draft, Project, Sketch
from leverwright.quantity import from_surface
from leverwright.search import cures
from leverwright.search.edits import tried
from leverwright.study import Study
from leverwright.wire.card_words import cards_of, cards_of_shocks
from leverwright.wire.cards import Cards
from leverwright.wire.findings import ShownFinding
from leverwright.wire.judging import shown_findings
from leverwright.wire.sweep import Sweep
from leverwright.wire.sweeping import modes_of, sweep_of
from leverwright.wire.working import Judged, next_step, workspace_of
from leverwright.wire.workspace import NextStep, Workspace

__all__ = ["Known", "Superseded"]

# m. Beyond the first, and where a mirrored vehicle's sides are not plain by the second, the reader has its say.
_FAR = 5.0
_NEAR = 0.010
_LOG = logging.getLogger("leverwright.server")


class Superseded(Exception):
    """Nobody wants the answer any more."""


class Known:
    """The stages from one text to what pages show of it."""

    def __init__(self, draft: Draft) -> None:
        self.draft = draft
        self._sweeps: dict[str, Sweep] = {}
        self._remedied: tuple[list[ShownFinding], NextStep] | None = None

    def moved(self, ops: Sequence[Mapping[str, Any]]) -> Known | None:
        """The same vehicle with points moved, without its text written and read again: half the time of a try.

        None for any other edit, and for a place that reading might refuse. Its draft keeps the old text.
        """
        project = self.draft.project
        if project is None or not all(_moves_point(project, op) for op in ops):
            return None
        changed = tried(project, tuple(ops))
        draft = self.draft
        return Known(Draft(draft.name, draft.text, (), draft.notices, _sketch_of(changed), changed))

    @cached_property
    def study(self) -> Study | None:
        """None while the draft has faults."""
        return None if self.draft.project is None else Study(self.draft.project)

    @cached_property
    def quick_study(self) -> Study | None:
        """The same without errors and adjusters."""
        return None if self.draft.project is None else Study(self.draft.project, quick=True)

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """Without remedies."""
        return () if self.study is None else judge(self.study)

    def remedied(self, patience: Callable[[], None]) -> tuple[list[ShownFinding], NextStep]:
        """With remedies, each some studies of its own; and the next thing to do, now that they are known.

        patience  called before each study; it may wait, and raises Superseded to end it
        """
        if self._remedied is None:
            found = tuple(self._cured(finding, patience) for finding in self.findings)
            self._remedied = shown_findings(found), next_step(self.draft, found)
        return self._remedied

    def _cured(self, finding: Finding, patience: Callable[[], None]) -> Finding:
        if self.study is None:
            return finding

        def patient(study: Study, only: str | None = None) -> tuple[Finding, ...]:
            patience()
            return judge(study, only)

        return replace(finding, remedies=cures(self.study, finding, self.findings, patient))

    @cached_property
    def cards(self) -> Cards | None:
        """What was measured, in sentences, of shocks alone while the draft has faults; None where it cannot be said."""
        sketch = self.draft.sketch
        if self.study is None and not (sketch.bench or sketch.pile):
            return None
        try:
            return cards_of_shocks(sketch) if self.study is None else cards_of(self.study)
        except Exception:  # noqa: BLE001  logged whole: the vehicle is shown without these sentences
            _LOG.exception("what was measured could not be said")
            return None

    @cached_property
    def whole(self) -> Workspace:
        """All that there is to show, every mode of motion with it."""
        return self._workspace(None, quick=False)

    def tried(self, modes: Sequence[str], *, quick: bool) -> Workspace:
        """What a hand that moves is shown: these modes alone; `quick`: no errors, no findings."""
        return self._workspace(modes, quick=quick)

    def _workspace(self, modes: Sequence[str] | None, *, quick: bool) -> Workspace:
        study = self.quick_study if quick else self.study
        if study is None:
            return workspace_of(self.draft, None, {})
        try:
            asked = [mode for mode in modes_of(study) if modes is None or mode in modes]
            judged = Judged(study, None if quick else self.findings)
            return workspace_of(self.draft, judged, {mode: self._sweep(study, mode) for mode in asked})
        except Exception:  # noqa: BLE001  logged whole
            # A vehicle that the engine cannot bear must still be shown, or nobody could mend it.
            _LOG.exception("a vehicle could not be studied")
            return workspace_of(self.draft, None, {}, failed=True)

    def _sweep(self, study: Study, mode: str) -> Sweep:
        if mode not in self._sweeps:
            self._sweeps[mode] = sweep_of(study, mode)
        return self._sweeps[mode]


def _moves_point(project: Project, op: Mapping[str, Any]) -> bool:
    """Whether the edit puts a point that is written by plain numbers to other numbers, on its own side."""
    key, value = op.get("key"), op.get("value")
    if op.get("op") != "set" or not isinstance(key, list) or len(key) != 2 or key[0] != "points":
        return False
    point = project.points.get(str(key[1]))
    if point is None or point.twin_of is not None or any(error is not None for error in point.errors):
        return False
    if not isinstance(value, list) or len(value) != (2 if project.plane else 3):
        return False
    numbers = [x for x in value if isinstance(x, int | float) and not isinstance(x, bool)]
    place = [from_surface(x, "length") for x in numbers]
    near = len(place) == len(value) and all(abs(x) < _FAR for x in place)
    return near and (not project.mirror or _on_its_side(point.name, place[1]))


def _on_its_side(name: str, y: float) -> bool:
    if name.endswith("-left"):
        return y > _NEAR
    return y < -_NEAR if name.endswith("-right") else abs(y) < _NEAR


def _sketch_of(project: Project) -> Sketch:
    return Sketch(**{field.name: getattr(project, field.name) for field in fields(Sketch)})
