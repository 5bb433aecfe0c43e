"""A draft, and the study of it where it is whole → the workspace."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from msgspec import UNSET, structs

from leverwright.findings import Finding
from leverwright.project import Draft, Fault, Point
from leverwright.project.toml_text import Refused, parse
from leverwright.quantity import in_inches
from leverwright.study import Study
from leverwright.wire.answering import answers_of, quick_answers, said_answers
from leverwright.wire.answers import Answers, SaidAnswers
from leverwright.wire.draw import drawing_of
from leverwright.wire.faults import SaidFault
from leverwright.wire.judging import effort_of, shown_findings
from leverwright.wire.mending import mending
from leverwright.wire.sweep import Sweep
from leverwright.wire.workspace import NextStep, Workspace

# Beyond it a page's numbers are no longer whole.
_EXACT = 2**53
# Characters of the line at the foot of the page.
_SHORT = 70

__all__ = ["Judged", "kept_workspace", "next_step", "said_fault", "values_of", "workspace_of"]


@dataclass(frozen=True, slots=True)
class Judged:
    """A study and what was found in it; `findings` None for a hand that moves: not looked for yet."""

    study: Study
    findings: Sequence[Finding] | None


def workspace_of(
    draft: Draft, judged: Judged | None, cycles: Mapping[str, Sweep], *, failed: bool = False
) -> Workspace:
    """All that the page shows; `judged` None while the draft has faults.

    `failed`: the study of a faultless draft broke down; the vehicle is shown, and says so.
    What goes with a text that is kept (its values, undo) is not here: see `kept_workspace`.
    """
    sketch = draft.sketch
    findings = () if judged is None else judged.findings
    answers, said = _told(judged)
    faults = [said_fault(fault) for fault in (*draft.faults, *([_broke_down(draft)] if failed else []))]
    return Workspace(
        title=sketch.title,
        name=draft.name,
        revision=None,
        can_undo=False,
        can_redo=False,
        plane=sketch.plane,
        mirror=sketch.mirror,
        faults=faults,
        drawing=drawing_of(sketch, _solved(judged)),
        answers=answers,
        said=said,
        findings=shown_findings(findings or ()),
        cycles=dict(cycles),
        next=next_step(draft, findings or ()),
        partial=True if findings is None else UNSET,
    )


def _solved(judged: Judged | None) -> Mapping[str, Point] | None:
    """Points as the tapes place them: what moves on the page starts there."""
    if judged is None or judged.study.measured.tapes is None:
        return None
    return judged.study.project.points


def kept_workspace(
    workspace: Workspace, text: str, revision: str | None, undo: tuple[bool, bool]
) -> Workspace:
    """The workspace of a text that is kept; `undo`: whether there is a step back, and one forth."""
    return structs.replace(
        workspace,
        text=text,
        values=values_of(text, workspace.name),
        revision=revision,
        can_undo=undo[0],
        can_redo=undo[1],
    )


def _told(judged: Judged | None) -> tuple[Answers | None, SaidAnswers | None]:
    if judged is None:
        return None, None
    if judged.findings is None:
        return quick_answers(judged.study)
    return answers_of(judged.study), said_answers(judged.study)


def said_fault(fault: Fault) -> SaidFault:
    """A fault with its sentence."""
    return SaidFault(fault.file, fault.line, fault.key, fault.found, fault.allowed, fault.do, fault.sentence)


def values_of(text: str, name: str) -> dict[str, Any]:
    """The file's own tables as JSON, as typed; empty where it is no TOML."""
    try:
        values = parse(text, name).values
    except Refused:
        return {}
    return {key: _plain(value) for key, value in values.items()}


def _plain(value: object) -> Any:  # noqa: ANN401  whatever a TOML file holds
    if isinstance(value, Mapping):
        return {str(key): _plain(inner) for key, inner in value.items()}
    if isinstance(value, list):
        return [_plain(inner) for inner in value]
    if isinstance(value, int) and abs(value) <= _EXACT:  # a flag too
        return value
    if isinstance(value, float) and math.isfinite(value):
        return value
    return str(
        value
    )  # text; dates, nan, inf and giant numbers, which the reader refuses, as they would be typed


def _broke_down(draft: Draft) -> Fault:
    return Fault(
        draft.name, None, None, "a vehicle that the program could not study: it failed inside",
        "any vehicle that the file can describe", "undo the last step, and send the file to the makers",
    )  # fmt: skip


def next_step(draft: Draft, findings: Sequence[Finding]) -> NextStep:
    """What to do next: mend what is missing, then what stops, then what should be mended, then make it."""
    if draft.faults:
        return _mend(draft.faults[0])
    for severity in ("stop", "fix"):
        for finding in findings:
            if finding.severity == severity:
                return _cure(finding)
    return _next(
        "Print the cardboard trial and try it", "20 min, card, scissors, drawing pins", "Can it be made?"
    )


def _mend(fault: Fault) -> NextStep:
    return _next(mending(fault, _SHORT), "a minute", None)


def _cure(finding: Finding) -> NextStep:
    if finding.remedies:
        remedy = finding.remedies[0]
        return _next(remedy.do, effort_of(remedy.effort), finding.question)
    return _next(f"Read why: {_opening(finding.sentence)}", "a few minutes, reading", finding.question)


def _opening(sentence: str) -> str:
    """Its first words, as many as the foot has room for."""
    room = _SHORT - len("Read why: ")
    first = re.split(r"(?<=[^.])[.;:](?=\s|$)", sentence, maxsplit=1)[0]
    return first if len(first) <= room else f"{first[: room - 1].rsplit(' ', 1)[0].rstrip(',')} …"


def _next(do: str, takes: str, question: str | None) -> NextStep:
    return NextStep(do, in_inches(do), takes, question)
