"""A text with what is made of it, each on first use and kept."""

from __future__ import annotations

import logging
from collections.abc import Sequence
from functools import cached_property

from leverwright.findings import Finding, judge, with_remedies
from leverwright.project import Draft
from leverwright.study import Study
from leverwright.wire.findings import ShownFinding
from leverwright.wire.judging import shown_findings
from leverwright.wire.sweep import Sweep
from leverwright.wire.sweeping import modes_of, sweep_of
from leverwright.wire.working import Judged, next_step, workspace_of
from leverwright.wire.workspace import NextStep, Workspace

__all__ = ["Known"]

_LOG = logging.getLogger("leverwright.server")


class Known:
    """The stages from one text to what pages show of it."""

    def __init__(self, text: str, name: str) -> None:
        self.draft = Draft.from_text(text, name)
        self._sweeps: dict[str, Sweep] = {}

    @cached_property
    def study(self) -> Study | None:
        """None while the draft has faults."""
        return None if self.draft.project is None else Study(self.draft.project)

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """Without remedies."""
        return () if self.study is None else judge(self.study)

    @cached_property
    def remedied(self) -> tuple[list[ShownFinding], NextStep]:
        """With remedies, each a study of its own; and the next thing to do, now that they are known."""
        found = self.findings if self.study is None else with_remedies(self.study, self.findings)
        return shown_findings(found), next_step(self.draft, found)

    @cached_property
    def whole(self) -> Workspace:
        """All that there is to show, every mode of motion with it."""
        return self._workspace(None, quick=False)

    def tried(self, modes: Sequence[str], *, quick: bool) -> Workspace:
        """What a hand that moves is shown: these modes alone; `quick`: no errors, no findings."""
        return self._workspace(modes, quick=quick)

    def _workspace(self, modes: Sequence[str] | None, *, quick: bool) -> Workspace:
        study = self.study
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
