"""The tables of a file taken apart: each named thing with its keys read, unknown and unfit ones reported."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from leverwright.project.faultlist import FaultList, Rank
from leverwright.project.keys import (
    HELD_RANGE,
    INSIDE,
    KEYS,
    LATER_KEYS,
    LATER_TABLES,
    MIRRORED,
    MOST,
    READ,
    TABLES,
    TAPE_READS,
    TOP,
    Key,
)
from leverwright.project.limits import LIMITS
from leverwright.project.outline import Path
from leverwright.project.values import Reader, Unfit, shown
from leverwright.project.values import name as read_name
from leverwright.quantity import quoted

__all__ = ["Entry", "TableReader"]

_RESERVED_WHEELS = ("heave", "roll")  # words of the same place in the `cycle` command


@dataclass(frozen=True, slots=True)
class Entry:
    """One named thing of a table, as far as it could be read.

    path     its key in the file; a twin without a table of its own has its original's
    fields   key → what it says
    places   key → where it stands
    broken   keys that are there and could not be read
    """

    name: str
    path: Path
    fields: Mapping[str, object]
    places: Mapping[str, Path]
    broken: frozenset[str]
    twin_of: str | None = None

    def place(self, key: str) -> Path:
        """Where a key of this thing stands, or where it would."""
        return self.places.get(key, (*self.path, key))


class TableReader:
    """Reads the tables of one file; what does not fit goes into `faults`."""

    def __init__(self, values: Mapping[str, object], faults: FaultList) -> None:
        self._values = values
        self._faults = faults
        self._plane: str | None = None

    def top(self) -> Entry:
        """The keys above the first table; unknown keys and tables are reported."""
        for key in self._values:
            if key not in TOP and key not in TABLES:
                self._unknown_top(key)
        written = {key: value for key, value in self._values.items() if key in TOP}
        entry = self._entry("", (), written, "top")
        plane = entry.fields.get("plane")
        self._plane = plane if isinstance(plane, str) else None
        return entry

    def things(self, table: str) -> dict[str, Entry]:
        """The named things of a table, in file order."""
        written = self._table((table,), self._values.get(table, {}))
        most, word = MOST.get(table, (LIMITS.things, table))
        if len(written) > most:
            said = (f"{len(written)} {word}", f"at most {most} {word}", "keep one vehicle in a file")
            self._faults.add_whole(said)
            return {}
        entries = {}
        for name, value in written.items():
            if self._name_is_fit(table, name):
                entries[name] = self._thing(table, name, value, written)
        return entries

    def single(self, table: str) -> dict[str, Entry]:
        """A table that is one thing, under the name ""; nothing when the file has none."""
        if table not in self._values:
            return {}
        return {"": self._entry("", (table,), self._table((table,), self._values[table]), table)}

    def _thing(self, table: str, name: str, value: object, written: Mapping[str, object]) -> Entry:
        path = (table, name)
        if table in ("points", "bodies") and not isinstance(value, dict):
            return self._short_form(table, name, value)
        if not isinstance(value, dict):
            said = (
                f"{shown(value)} stands here",
                f"a table [{table}.NAME] with its keys",
                "write it as a table",
            )
            self._faults.add(Rank.TYPE, path, said)
            inside = {key for of, key in _EXTRA_KEYS if of == table}
            return Entry(name, path, {}, {}, frozenset(KEYS[table]) | inside)
        twin = table in MIRRORED and name.endswith("-right")
        original = written.get(name.removesuffix("-right") + "-left") if twin else None
        return self._entry(name, path, value, table, original if isinstance(original, dict) else {})

    def _short_form(self, table: str, name: str, value: object) -> Entry:
        """A point or body written as a list alone; the list stands at the thing's own key."""
        key = "points" if table == "bodies" else "at"
        path = (table, name)
        places = {key: path}
        if table == "points" and name in TOP and not isinstance(value, list):
            said = (
                f"{shown(value)} stands here",
                "a point as a list of numbers",
                f"write {name} above the first [table]: it belongs to the whole file",
            )
            self._faults.add(Rank.TYPE, path, said)
            return Entry(name, path, {}, places, frozenset((key,)))
        read = self._read(KEYS[table][key].read, value, path)
        fields = {} if read is None else {key: read}
        return Entry(name, path, fields, places, frozenset() if fields else frozenset((key,)))

    def _entry(
        self,
        name: str,
        path: Path,
        written: Mapping[str, object],
        kind: str,
        original: Mapping[str, object] | None = None,
    ) -> Entry:
        """Reads the keys of one table; those that are tables themselves become entries."""
        fields: dict[str, object] = {}
        places: dict[str, Path] = {}
        for key, value in written.items():
            place = (*path, key)
            places[key] = place
            reader = self._reader_of(kind, key, {**(original or {}), **written})
            if reader is None:
                self._unknown(kind, place)
                continue
            read = reader(value, place)
            if read is not None:
                fields[key] = read
        return Entry(name, path, fields, places, frozenset(places) - frozenset(fields))

    def _reader_of(
        self, kind: str, key: str, written: Mapping[str, object]
    ) -> Callable[[object, Path], object] | None:
        """How a key of a table is read; None when there is no such key."""
        if (kind, key) in INSIDE:
            return lambda value, place: self._inside(key, value, place)
        if (kind, key) == ("top", "pose"):
            return self._pose
        reader: Reader
        if (kind, key) == ("held", "range"):
            reader = HELD_RANGE["bodies" if "bodies" in written else "point"]
        elif (kind, key) == ("tape", "reads"):
            reader = TAPE_READS[next((one for one in TAPE_READS if one in written), "offset")]
        else:
            keys = TOP if kind == "top" else KEYS[kind]
            if key not in keys:
                return None
            if keys[key].by_name:
                return lambda value, place: self._by_name(keys[key], value, place)
            reader = keys[key].read
        if (kind, key) in READ:
            return lambda value, place: self._number_or_inside(reader, value, place)
        return lambda value, place: self._read(reader, value, place)

    def _by_name(self, key: Key, value: object, place: Path) -> Mapping[str, object] | None:
        """A table whose keys are names: those that say something fit."""
        if not isinstance(value, dict) or not value:
            said = (
                f"{shown(value)} stands here" if value != {} else "an empty table stands here",
                f"a table of names from [{key.of}] with a value each",
                f"write {place[-1]} = {{ name = … }}",
            )
            self._faults.add(Rank.TYPE, place, said)
            return None
        most = LIMITS.picks
        if len(value) > most:
            said = (f"{len(value)} values in a table", f"at most {most}", "keep the best of them")
            self._faults.add(Rank.LIMIT, place, said)
            return None
        read = {one: self._read(key.read, written, (*place, one)) for one, written in value.items()}
        return {one: fit for one, fit in read.items() if fit is not None}

    def _read(self, reader: Reader, value: object, place: Path) -> object:
        """What a value says; None, with a fault kept, when it says nothing that fits."""
        try:
            return reader(value, self._plane)
        except Unfit as unfit:
            rank = Rank.LIMIT if unfit.limit else Rank.TYPE
            self._faults.add(rank, place, (unfit.found, unfit.allowed, unfit.do))
            return None

    def _inside(self, key: str, value: object, place: Path) -> Entry | None:
        """A table within a table, such as the `stop` of a shock."""
        if isinstance(value, dict):
            return self._entry(key, place, value, key)
        choice = ", ".join(KEYS[key])
        said = (f"{shown(value)} stands here", f"a table of {choice}", f"write {key} = {{ … }}")
        self._faults.add(Rank.TYPE, place, said)
        return None

    def _number_or_inside(self, reader: Reader, value: object, place: Path) -> object:
        """One number, or the table of what it is read from."""
        if isinstance(value, dict):
            return self._inside(place[-1], value, place)
        if not isinstance(value, list):
            return self._read(reader, value, place)
        key, choice = place[-1], ", ".join(KEYS[place[-1]])
        said = (
            f"{shown(value)} stands here",
            f"one number, or a table of {choice}",
            f"write {key} = {{ … }}",
        )
        self._faults.add(Rank.TYPE, place, said)
        return None

    def _pose(self, value: object, place: Path) -> object:
        """The pose: one of three words, or standing under a named load set."""
        if not isinstance(value, dict):
            return self._read(TOP["pose"].read, value, place)
        for key in value:
            if key != "standing":
                self._unknown("pose", (*place, key))
        if "standing" not in value:
            said = (
                "the pose names no load set",
                '{ standing = "usual" }',
                "name the load set, or write one word",
            )
            self._faults.add(Rank.MISSING_KEY, (*place, "standing"), said)
            return None
        load_set = self._read(read_name, value["standing"], (*place, "standing"))
        return None if load_set is None else ("standing", load_set)

    def _table(self, path: Path, value: object) -> Mapping[str, object]:
        if isinstance(value, dict):
            return value
        said = (
            f"{shown(value)} stands here",
            f"a table, [{path[0]}]",
            f"write [{path[0]}] on a line of its own",
        )
        if isinstance(value, list):
            said = (said[0], said[1], f"write [{path[0]}.NAME] with single brackets")
        self._faults.add(Rank.TYPE, path, said)
        return {}

    def _name_is_fit(self, table: str, name: str) -> bool:
        """Can a thing be called this?"""
        path = (table, name)
        if len(name) > LIMITS.name_characters:
            found, allowed = (
                f"a name of {len(name)} characters",
                f"at most {LIMITS.name_characters} characters",
            )
            self._faults.add(Rank.LIMIT, path, (found, allowed, "give it a shorter name"))
            return False
        if not name.strip():
            self._faults.add(
                Rank.TYPE, path, ("an empty name", "a name of at least one letter", "give it a name")
            )
            return False
        if table == "wheels" and name in _RESERVED_WHEELS:
            said = (
                f"a wheel called {quoted(name)}",
                "any other name",
                f"{name} is a motion of the whole axle; rename it",
            )
            self._faults.add(Rank.TYPE, path, said)
            return False
        return True

    def _unknown_top(self, key: str) -> None:
        known = (*TOP, *TABLES)
        if key in LATER_TABLES:
            self._later((key,), f"[{key}]")
            return
        found = f"there is no key or table {quoted(key)}"
        said = (found, ", ".join(known), "take it out")
        self._faults.add_misspelt(Rank.UNKNOWN_KEY, (key,), said, key, known)

    def _unknown(self, kind: str, place: Path) -> None:
        key = place[-1]
        if key in LATER_KEYS.get(kind, ()):
            self._later(place, quoted(key))
            return
        known = [*KEYS.get(kind, ("standing",)), *(inside for of, inside in _EXTRA_KEYS if of == kind)]
        said = (f"there is no key {quoted(key)} here", ", ".join(known), "take it out")
        self._faults.add_misspelt(Rank.UNKNOWN_KEY, place, said, key, known)

    def _later(self, place: Path, what: str) -> None:
        said = (
            f"this version does not read {what} yet",
            "what the reference of this version lists",
            "take it out",
        )
        self._faults.add(Rank.UNKNOWN_KEY, place, said)


_EXTRA_KEYS = (*INSIDE, ("held", "range"), ("tape", "reads"))
