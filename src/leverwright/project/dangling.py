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


def check_names(sketch: Sketch, tables: Tables, faults: FaultList) -> None:
    """Adds a fault for every name that leads nowhere."""
    for table, things in tables.items():
        for entry in things.values():
            for key, spec in KEYS[table].items():
                if spec.of is None or key not in entry.fields:
                    continue
                value = entry.fields[key]
                for name in (value,) if isinstance(value, str) else names_in(value):
                    if name not in tables[spec.of]:
                        _dangling(name, entry, key, spec.of, tables, faults, mirror=sketch.mirror)


def _dangling(
    name: str, entry: Entry, key: str, of: str, tables: Tables, faults: FaultList, *, mirror: bool
) -> None:
    place = entry.place(key)
    if entry.twin_of is not None and faults.has(Rank.DANGLING, place):
        return
    do = f"add it to [{of}], or correct the name"
    left = name.removesuffix(RIGHT) + LEFT
    if name.endswith(RIGHT) and left in tables[of] and not mirror:
        do = "write mirror = true at the top, so that what ends in -left has a twin"
        faults.add(Rank.DANGLING, place, (f"{quoted(name)} is not in [{of}]", f"a name from [{of}]", do))
        return
    said = (f"{quoted(name)} is not in [{of}]", f"a name from [{of}]", do)
    faults.add_misspelt(Rank.DANGLING, place, said, name, tables[of])


def names_in(value: object) -> tuple[str, ...]:
    """The names in the value of a key that holds several."""
    return tuple(one for one in value if isinstance(one, str)) if isinstance(value, tuple) else ()
