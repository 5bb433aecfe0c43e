"""What was measured, as lines of a terminal."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from leverwright.cli.check_text import show_answers, show_findings
from leverwright.cli.measure_loads import show_load_set
from leverwright.cli.terminal import Terminal
from leverwright.quantity import System, fixed, in_inches
from leverwright.study import Study
from leverwright.wire.answering import said_answers
from leverwright.wire.answers import Said, SaidAnswers
from leverwright.wire.measure import MeasureDocument, PileSaid, SpringSaid, TapeReading, Tapes

__all__ = ["show_measured", "show_shocks"]

_WIDEST_LABEL = 34
_SHOWN = ("sag", "sag_percent", "bump_left", "heave_ratio", "motion_ratio")
_BOUNCES = ("ride_frequency", "ride_frequency_without_tyre")  # the first of these that can be said
_UNSAID = "cannot be said"
_FAR = 10_000.0  # mm; no reading is so far off: the network was dragged away
_NOTHING = (
    "Nothing in this file is measured by tape, scale or bench: its numbers are taken as they are written. Tables "
    "[tape], [weighed], [bench], [pile], [loads] and [photos], and readings of a tyre, say how they came about."
)
_CLOSING = (
    "No margin here is permission to ride; strength, clearance and welds are not checked by this version."
)
_ALONE = (
    "No vehicle is drawn in this file yet: where its shocks stand, and which ratio each wants, comes with it."
)
_Words = Callable[[str], str]


def show_measured(out: Terminal, document: MeasureDocument, study: Study, system: System) -> None:
    """Places, tapes, shocks, pile, tyres, load sets, findings; what is absent is left out."""
    said: _Words = in_inches if system == "inch" else str
    if not (document.tapes or document.springs or document.tyres or document.load_sets):
        out.line()
        out.line(_NOTHING)
    if document.tapes is not None:
        _show_places(out, document.tapes, said)
        _show_tapes(out, document.tapes, said)
        _show_next(out, document.tapes, said)
    _show_springs(out, document, said)
    for name, tyre in document.tyres.items():
        if tyre.twin_of is None:
            out.line()
            out.line(f"Tyre of {name}", "title")
            _show_sentences(out, tyre.sentences, said)
    for name, load_set in document.load_sets.items():
        show_load_set(out, name, load_set, said)
        under = study if load_set.usual else study.under(name)
        show_answers(out, _some(said_answers(under)), system)
    show_findings(out, document.findings, system)
    out.line()
    out.line(_CLOSING, "faint")


def show_shocks(out: Terminal, document: MeasureDocument, system: System) -> None:
    """A file with nothing but shocks."""
    _show_springs(out, document, in_inches if system == "inch" else str)
    out.line()
    out.line(_ALONE, "faint")


def _show_springs(out: Terminal, document: MeasureDocument, said: _Words) -> None:
    for name, spring in document.springs.items():
        again = f"It is {spring.pile} of the pile: see there." if spring.pile in document.springs else None
        _show_spring(out, name, spring, said, again)
    if document.pile is not None:
        _show_pile(out, document.pile, said)


def _some(answers: SaidAnswers) -> SaidAnswers:
    """Of all answers those that a load changes most."""
    return SaidAnswers({name: _rows(rows) for name, rows in answers.wheels.items()}, {})


def _rows(rows: list[Said]) -> list[Said]:
    bounces = [row for key in _BOUNCES for row in rows if row.key == key]
    told = [row for row in bounces if not row.metric.startswith(_UNSAID)]
    return [*(row for row in rows if row.key in _SHOWN), *(told or bounces)[:1]]


def _show_places(out: Terminal, tapes: Tapes, said: _Words) -> None:
    out.line()
    out.line("Places", "title")
    shown = {name: place for name, place in tapes.places.items() if place.twin_of is None}
    width = min(_WIDEST_LABEL, max(map(len, shown), default=0))
    for name, place in shown.items():
        note = {"open": "; nothing holds it", "coordinates": "; as written"}.get(place.how, "")
        out.item(f"  {name:<{width}}  ", said(place.said) + note)
    twins = len(tapes.places) - len(shown)
    if twins:
        out.line(f"{twins} more are the mirrored other side of these.", "faint", indent=2)
    if not tapes.stated:
        out.line(
            "How sure these are cannot be told: state tape_error, how far a reading of your tape may well be off.",
            "faint",
            indent=2,
        )


def _show_tapes(out: Terminal, tapes: Tapes, said: _Words) -> None:
    out.line()
    spare = (
        f"{tapes.spare} more than needed" if tapes.spare > 0 else "none more than needed: nothing checks them"
    )
    out.line(f"Tapes, {spare}", "title")
    labels = [_label(each) for each in tapes.readings]
    width = min(_WIDEST_LABEL, max((len(label) for label in labels), default=0))
    for label, each in zip(labels, tapes.readings, strict=True):
        out.item(f"  {label:<{width}}  ", said(_reading(each)))


def _label(one: TapeReading) -> str:
    """A tape by its name, a pick by its picture and point."""
    return f"{one.name}: {one.points[0]}" if one.kind in ("picture", "depth") else one.name


# Of a pick: in the rectangle's own axes.
_PARTS = {"u": "right in the picture", "v": "up in the picture"}


def _reading(one: TapeReading) -> str:
    """What was read, what it comes to, and how far the others check it."""
    part = (
        f" ({_PARTS.get(one.part, one.part)})"
        if one.part and one.kind not in ("height", "offset", "ahead")
        else ""
    )
    reads, fits = f"{fixed(one.reads_mm, 1)} mm", _fits(one)
    if one.left_out:
        return f"reads {reads}{part}, left out: the others say {fits}"
    if one.standardized is None:
        return f"reads {reads}{part}; nothing checks it"
    checked = f"{fixed(100 * one.redundancy, 0)} % checked by the others"
    return f"reads {reads}{part}, fits at {fits}; {checked}"


def _fits(one: TapeReading) -> str:
    """What it comes to; as a number only where it can be one."""
    if abs(one.adjusted_mm - one.reads_mm) > _FAR:
        return "over 10 m from that"
    return f"{fixed(one.adjusted_mm, 1)} mm"


def _show_next(out: Terminal, tapes: Tapes, said: _Words) -> None:
    if not tapes.next:
        return
    out.line()
    out.line(f"Next: {said(tapes.next[0].sentence)}.", "title")
    for each in tapes.next[1:]:
        out.line(f"or: {said(each.sentence)}.", "faint", indent=2)


def _show_spring(out: Terminal, name: str, spring: SpringSaid, said: _Words, again: str | None) -> None:
    out.line()
    out.line(f"Shock {name}{' of the pile' if spring.on == 'pile' else ''}", "title")
    _show_sentences(out, spring.sentences if again is None else [again], said)


def _show_pile(out: Terminal, pile: PileSaid, said: _Words) -> None:
    out.line()
    out.line("The pile", "title")
    _show_sentences(out, pile.sentences, said)


def _show_sentences(out: Terminal, sentences: Iterable[str], said: _Words) -> None:
    for sentence in sentences:
        out.line(said(sentence), indent=2)
