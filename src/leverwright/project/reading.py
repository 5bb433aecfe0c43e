"""A text read: what can be made of it, every fault of it in order, and what it wants looked at."""

from __future__ import annotations

from dataclasses import dataclass

from leverwright.project.building import build
from leverwright.project.dangling import check_names
from leverwright.project.entries import TableReader
from leverwright.project.fault import Fault
from leverwright.project.faultlist import FaultList, Rank
from leverwright.project.keys import SINGLE, TABLES
from leverwright.project.limits import LIMITS
from leverwright.project.measured_shape import check_measured
from leverwright.project.mirror import with_twins
from leverwright.project.model import Sketch
from leverwright.project.notices import notice
from leverwright.project.shape import check_shape
from leverwright.project.toml_text import Parsed, Refused, parse
from leverwright.quantity import quoted

__all__ = ["Reading", "read_text"]


@dataclass(frozen=True, slots=True)
class Reading:
    """What was read; a text without faults makes a project."""

    sketch: Sketch
    faults: tuple[Fault, ...]
    notices: tuple[Fault, ...]


def read_text(text: str, name: str) -> Reading:
    """Reads the text of a file called `name`; never raises for what stands in it."""
    try:
        parsed = parse(text, name)
    except Refused as refused:
        return Reading(Sketch(), (refused.fault,), ())
    version = parsed.values.get("leverwright")
    if isinstance(version, int) and not isinstance(version, bool) and version != 1:
        return Reading(Sketch(), (_other_version(version, parsed, name),), ())
    return _read_parsed(parsed, name)


def _read_parsed(parsed: Parsed, name: str) -> Reading:
    faults = FaultList(name, parsed.outline)
    for path, written, _line in parsed.outline.marks:
        said = (
            f"{quoted(written)} has a mark between its digits",
            "digits with a decimal point",
            "write it without _",
        )
        faults.add(Rank.TYPE, path, said)
    reader = TableReader(parsed.values, faults)
    top = reader.top()
    tables = {table: reader.single(table) if table in SINGLE else reader.things(table) for table in TABLES}
    if top.fields.get("mirror") and "plane" in top.fields:
        said = ("mirror stands in a flat drawing", "mirror without plane", "take mirror or plane out")
        faults.add(Rank.GEOMETRY, ("mirror",), said)
    elif top.fields.get("mirror"):
        tables = with_twins(tables)
    if len(tables["points"]) > LIMITS.points:
        found = f"{len(tables['points'])} points, twins counted"
        faults.add_whole((found, f"at most {LIMITS.points} points", "keep one vehicle in a file"))
        return Reading(Sketch(), faults.in_order(), ())
    sketch = build(top, tables, parsed.outline, faults)
    check_names(sketch, tables, faults)
    check_shape(sketch, tables, faults)
    check_measured(sketch, tables, faults)
    ordered = faults.in_order()
    return Reading(sketch, ordered, notice(sketch, tables, name))


def _other_version(version: int, parsed: Parsed, name: str) -> Fault:
    line = parsed.outline.line(("leverwright",))
    found = f"a file of format version {quoted(str(version))[1:-1]}"
    return Fault(name, line, "leverwright", found, "version 1", "open it with the version that wrote it")
