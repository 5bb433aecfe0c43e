"""Names that lead nowhere."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from leverwright.project.checks import Tables
from leverwright.project.entries import Entry
from leverwright.project.faultlist import FaultList, Rank
from leverwright.project.keys import KEYS
from leverwright.project.loads import load_set_names
from leverwright.project.mirror import LEFT, RIGHT
from leverwright.project.model import Sketch
from leverwright.project.outline import Path
from leverwright.quantity import quoted

__all__ = ["check_names", "names_in"]

_MOST_NAMED = 8  # names listed in a refusal; more would bury what to do
_ASK_FOR_MIRROR = "write mirror = true at the top, so that what ends in -left has a twin"


def check_names(sketch: Sketch, tables: Tables, faults: FaultList) -> None:
    """Adds a fault for every name that leads nowhere."""
    looker = _Looker(sketch, tables, faults)
    for table, things in tables.items():
        for entry in things.values():
            for key, spec in KEYS[table].items():
                if spec.of is not None and key in entry.fields:
                    looker.look(spec.of, entry, key)
    looker.named_for()
    if sketch.pose_load_set is not None:
        looker.one("loads", sketch.pose_load_set, ("pose", "standing"))


class _Looker:
    """Looks names up in their tables."""

    def __init__(self, sketch: Sketch, tables: Tables, faults: FaultList) -> None:
        self._mirror = sketch.mirror
        self._tables = tables
        self._faults = faults

    def look(self, table: str, entry: Entry, key: str) -> None:
        """Every name in the value of a key; where the value is a table its keys are the names."""
        value, place = entry.fields[key], entry.place(key)
        if isinstance(value, Mapping):
            for name in value:
                self.one(table, name, (*place, name))
            return
        for name in (value,) if isinstance(value, str) else names_in(value):
            if not (entry.twin_of is not None and self._faults.has(Rank.DANGLING, place)):
                self.one(table, name, place)

    def named_for(self) -> None:
        """What has the name of something else: a weighing that of its wheel, a bench that of its shock."""
        for name, entry in self._tables["weighed"].items():
            if "wheel" not in entry.places:
                self.one("wheels", name, entry.path)
        for name, entry in self._tables["bench"].items():
            shock = self._tables["shocks"].get(name)
            if shock is None and name not in self._tables["pile"]:
                known = (*self._tables["shocks"], *self._tables["pile"])
                self._missing(name, entry.path, "[shocks] or in [pile]", known)
            elif shock is not None and name in self._tables["pile"] and shock.fields.get("pile") != name:
                found = f"{quoted(name)} is in [shocks] and in [pile]"
                allowed = "readings of one shock"
                do = f"rename one of them, or write pile = {quoted(name)} in [shocks.{name}] if they are one"
                self._faults.add(Rank.DANGLING, entry.path, (found, allowed, do))

    def one(self, table: str, name: str, place: Path) -> None:
        """A fault when the name is not in its table."""
        known = load_set_names(self._tables) if table == "loads" else tuple(self._tables[table])
        if name not in known:
            self._missing(name, place, f"[{table}]", known)

    def _missing(self, name: str, place: Path, table: str, known: tuple[str, ...]) -> None:
        found, allowed = f"{quoted(name)} is not in {table}", _one_of(table, known)
        if not self._mirror and _has_left(name, known):
            self._faults.add(Rank.DANGLING, place, (found, allowed, _ASK_FOR_MIRROR))
            return
        said = (found, allowed, f"add it to {table.replace(' in ', ' ')}, or correct the name")
        self._faults.add_misspelt(Rank.DANGLING, place, said, name, known)


def _one_of(table: str, names: tuple[str, ...]) -> str:
    """What may stand there: the names themselves while they are few."""
    if not 0 < len(names) <= _MOST_NAMED:
        return f"a name from {table}"
    return f"a name from {table}: {', '.join(quoted(name) for name in names)}"


def _has_left(name: str, names: Iterable[str]) -> bool:
    """Is it the `-right` name of something whose `-left` is there?"""
    return name.endswith(RIGHT) and name.removesuffix(RIGHT) + LEFT in names


def names_in(value: object) -> tuple[str, ...]:
    """The names in the value of a key that holds several."""
    return tuple(one for one in value if isinstance(one, str)) if isinstance(value, tuple) else ()
