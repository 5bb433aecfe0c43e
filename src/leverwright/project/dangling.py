"""Names that lead nowhere."""

from __future__ import annotations

from collections.abc import Mapping

from leverwright.project.entries import Entry
from leverwright.project.faultlist import FaultList, Rank
from leverwright.project.keys import KEYS
from leverwright.project.mirror import LEFT, RIGHT
from leverwright.project.model import Sketch
from leverwright.quantity import quoted

__all__ = ["check_names", "names_in"]

Tables = Mapping[str, Mapping[str, Entry]]

_MOST_NAMED = 8  # names listed in a refusal; more would bury what to do
_ASK_FOR_MIRROR = "write mirror = true at the top, so that what ends in -left has a twin"


def check_names(sketch: Sketch, tables: Tables, faults: FaultList) -> None:
    """Adds a fault for every name that leads nowhere."""
    for table, things in tables.items():
        for entry in things.values():
            for key, spec in KEYS[table].items():
                if spec.of is None or key not in entry.fields:
                    continue
                value = entry.fields[key]
                for name in (value,) if isinstance(value, str) else names_in(value):
                    place = entry.place(key)
                    said_before = entry.twin_of is not None and faults.has(Rank.DANGLING, place)
                    if name in tables[spec.of] or said_before:
                        continue
                    found, allowed = (
                        f"{quoted(name)} is not in [{spec.of}]",
                        _one_of(spec.of, tables[spec.of]),
                    )
                    if not sketch.mirror and _has_left(name, tables[spec.of]):
                        faults.add(Rank.DANGLING, place, (found, allowed, _ASK_FOR_MIRROR))
                    else:
                        said = (found, allowed, f"add it to [{spec.of}], or correct the name")
                        faults.add_misspelt(Rank.DANGLING, place, said, name, tables[spec.of])


def _one_of(table: str, things: Mapping[str, Entry]) -> str:
    """What may stand there: the names themselves while they are few."""
    if not 0 < len(things) <= _MOST_NAMED:
        return f"a name from [{table}]"
    return f"a name from [{table}]: {', '.join(quoted(name) for name in things)}"


def _has_left(name: str, things: Mapping[str, Entry]) -> bool:
    """Is it the `-right` name of something whose `-left` is there?"""
    return name.endswith(RIGHT) and name.removesuffix(RIGHT) + LEFT in things


def names_in(value: object) -> tuple[str, ...]:
    """The names in the value of a key that holds several."""
    return tuple(one for one in value if isinstance(one, str)) if isinstance(value, tuple) else ()
