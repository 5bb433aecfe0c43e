"""What the server computes: every function here runs on a bench, never in the loop that listens."""

from __future__ import annotations

import os
import threading
from collections import OrderedDict
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from msgspec import UNSET

from leverwright.make import FILE_ENDS, MEDIA_TYPES, Choices, MakeError, measuring_cards, sheet
from leverwright.make.plain_text import file_stem
from leverwright.project import ChangedOnDisk, Draft, ProjectError, SaveError, edit
from leverwright.project.archetypes import archetypes, write_archetype
from leverwright.project.files import read_with_revision
from leverwright.project.saving import save_text
from leverwright.quantity import Kind, QuantityError, read_quantity
from leverwright.ride.quick import QuickError
from leverwright.server.door import said
from leverwright.server.known import Known
from leverwright.wire.archetypes import ArchetypeList, ArchetypeRequest
from leverwright.wire.faults import SaidFault
from leverwright.wire.fields import FieldList
from leverwright.wire.files import MakeRequest
from leverwright.wire.five_numbers import quick_document
from leverwright.wire.forms import field_list
from leverwright.wire.live import Ask, Reply
from leverwright.wire.photo import PhotoReading
from leverwright.wire.photo_words import photo_reading
from leverwright.wire.quick import QuickDocument, QuickRequest
from leverwright.wire.starting import archetype_list
from leverwright.wire.strict import compact
from leverwright.wire.working import kept_workspace, said_fault

__all__ = ["Desk", "Made", "Refusal", "Stand"]

# Texts whose study is kept: the one on the page, the one before an undo, and one of a second page.
_REMEMBERED = 3
# Revisions that were handed out; a save names one of them.
_REVISIONS = 1000
_FIVE = ("link_arm", "spring_arm", "load", "rate", "moves")


class Refusal(Exception):
    """Something that the person can mend; `status` is for HTTP."""

    def __init__(self, fault: SaidFault, status: int = 422) -> None:
        super().__init__(fault.sentence)
        self.fault = fault
        self.status = status


@dataclass(frozen=True, slots=True)
class Made:
    """A sheet as a file."""

    name: str
    kind: str
    body: bytes


@dataclass(frozen=True, slots=True)
class Stand:
    """Where a page stands: its kept text, and the revision that it began with."""

    text: str
    revision: str | None
    can_undo: bool
    can_redo: bool


class Desk:
    """The project file at `path`, and the last studies made of its texts."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self.name = path.name
        self._known: OrderedDict[str, Known] = OrderedDict()
        self._tried: tuple[str, Known] | None = None
        self._handed: OrderedDict[str, None] = OrderedDict()
        self._lock = threading.Lock()

    # --- the file -------------------------------------------------------------------------------------------------

    def read(self) -> tuple[str, str]:
        """Text and revision of the file as it is; both empty where there is none yet."""
        if not os.path.lexists(self.path):
            return "", self._hand_out("")
        try:
            text, revision = read_with_revision(self.path)
        except ProjectError as error:
            raise Refusal(said_fault(error.fault)) from error
        return text, self._hand_out(revision)

    def save(self, text: str, revision: str) -> str:
        """Put `text` in place of `revision`; the new revision."""
        with self._lock:
            known = revision in self._handed
        if not known:
            fault = said(
                "a revision that this program never handed out", "the one read last", "read the file again"
            )
            raise Refusal(fault, 412)
        try:
            return self._hand_out(save_text(self.path, text, revision or None))
        except ChangedOnDisk as changed:
            raise Refusal(self._not_saved(str(changed)), 409) from changed
        except SaveError as failed:
            raise Refusal(self._not_saved(str(failed)), 507) from failed
        except ProjectError as error:
            raise Refusal(said_fault(error.fault)) from error

    def stamp(self) -> tuple[int, ...] | None:
        """What a glance at the file shows: it differs after every write."""
        try:
            seen = self.path.stat()
        except OSError:
            return None
        return seen.st_ino, seen.st_size, seen.st_mtime_ns

    def revision(self) -> str | None:
        """Revision of the file as it is; None where it cannot be read."""
        try:
            return self.read()[1]
        except Refusal:
            return None

    def _hand_out(self, revision: str) -> str:
        with self._lock:
            self._handed[revision] = None
            self._handed.move_to_end(revision)
            while len(self._handed) > _REVISIONS:
                self._handed.popitem(last=False)
        return revision

    def _not_saved(self, sentence: str) -> SaidFault:
        return SaidFault(
            self.name, None, None, sentence, "a save over the text that was read", "read it again", sentence
        )

    # --- one page -------------------------------------------------------------------------------------------------

    def edited(self, text: str, ops: Sequence[Mapping[str, Any]]) -> str:
        """The text with `ops` carried out."""
        try:
            return edit.apply(text, ops, name=self.name)
        except ProjectError as error:
            raise Refusal(said_fault(error.fault)) from error

    def shown(self, stand: Stand, number: int) -> bytes:
        """The answer to a step that is kept: the whole workspace, remedies left out."""
        whole = self._of(stand.text).whole
        undo = stand.can_undo, stand.can_redo
        return compact(Reply(number, workspace=kept_workspace(whole, stand.text, stand.revision, undo)))

    def tried(self, stand: Stand, ask: Ask, *, whole: bool) -> bytes:
        """The answer to a try, not kept: at once without errors and findings, or `whole`."""
        quick = None if whole or ask.text is not None else self._of(stand.text).moved(ask.ops)
        known = quick or self._tried_text(stand, ask)
        return compact(Reply(ask.id, workspace=known.tried(ask.modes, quick=not whole)))

    def _tried_text(self, stand: Stand, ask: Ask) -> Known:
        text = self.edited(stand.text, ask.ops) if ask.text is None else ask.text
        with self._lock:
            known = self._tried[1] if self._tried and self._tried[0] == text else self._known.get(text)
        if known is None:
            known = Known(Draft.from_text(text, self.name))
        with self._lock:
            self._tried = text, known
        return known

    def remedied(self, text: str, number: int, patience: Callable[[], None]) -> bytes:
        """The findings of a text with their remedies, and what to do next; see `Known.remedied`."""
        known = self._of(text)
        patience()
        cards = known.cards
        findings, step = known.remedied(patience)
        return compact(Reply(number, findings=findings, next=step, cards=UNSET if cards is None else cards))

    def _of(self, text: str) -> Known:
        with self._lock:
            known = self._known.get(text)
            if known is None and self._tried and self._tried[0] == text:
                known = self._tried[1]  # let go where the hand rested
            self._known[text] = known = known or Known(Draft.from_text(text, self.name))
            self._known.move_to_end(text)
            while len(self._known) > _REMEMBERED:
                self._known.popitem(last=False)
        return known

    # --- beside the vehicle ---------------------------------------------------------------------------------------

    def archetypes(self) -> ArchetypeList:
        """The kinds of vehicle to start from."""
        return archetype_list(archetypes())

    def archetype(self, wanted: ArchetypeRequest) -> str:
        """The project file of one kind."""
        try:
            return write_archetype(wanted.id, wanted.measurements)
        except ProjectError as error:
            fault = error.fault  # its file is the command line's word for a form
            raise Refusal(said(fault.found, fault.allowed, fault.do, key=fault.key)) from error

    def fields(self) -> FieldList:
        """What may be typed where."""
        return field_list()

    def photos(self, text: str) -> PhotoReading:
        """What the photographs of a text say, whatever faults it has elsewhere."""
        return photo_reading(self._of(text).draft.sketch)

    def quick(self, wanted: QuickRequest) -> QuickDocument:
        """The verdict on five numbers."""
        typed = {key: getattr(wanted, key) for key in _FIVE}
        share = _read("link_moves", wanted.link_moves, "ratio")
        try:
            return quick_document(typed, system=wanted.units, link_per_wheel=1.0 if share is None else share)
        except QuickError as error:
            key = "link_moves" if error.key == "link_per_wheel" else error.key
            raise Refusal(said(error.found, error.allowed, error.do, name="", key=key)) from error

    def made(self, wanted: MakeRequest) -> Made:
        """One sheet of a vehicle as a file."""
        known = self._of(wanted.text)
        if wanted.sheet == "measuring":  # for a vehicle that is not whole yet, above all
            return _file(known.draft.sketch.title, wanted, measuring_cards(known.draft.sketch, wanted.paper))
        if known.study is None:
            raise Refusal(said_fault(known.draft.faults[0]))
        try:
            stops = tuple(found.sentence for found in known.findings if found.severity == "stop")
            body = sheet(known.study, wanted.sheet, wanted.paper, replace(_choices(wanted), stops=stops))
        except MakeError as error:
            raise Refusal(said(error.found, error.allowed, error.do)) from error
        return _file(known.study.project.title, wanted, body)


def _file(title: str, wanted: MakeRequest, body: bytes) -> Made:
    return Made(f"{file_stem(title, 'vehicle')}-{FILE_ENDS[wanted.sheet]}", MEDIA_TYPES[wanted.sheet], body)


def _choices(wanted: MakeRequest) -> Choices:
    """What was typed beside the sheet, in SI."""
    return Choices(
        hole=_read("hole", wanted.hole),
        holes={
            point: size for point, text in wanted.holes.items() if (size := _read(point, text)) is not None
        },
        measured_across=_read("bar_across", wanted.bar_across),
        measured_up=_read("bar_up", wanted.bar_up),
    )


def _read(key: str, typed: str | None, kind: Kind = "length") -> float | None:
    if typed is None or not typed.strip():
        return None
    try:
        return read_quantity(typed, kind).value
    except QuantityError as error:
        raise Refusal(said(error.found, error.allowed, error.do, key=key)) from error
