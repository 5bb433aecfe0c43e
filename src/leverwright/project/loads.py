"""Who says what a wheel carries: its own key, the scale under it, or the usual load set."""

from __future__ import annotations

from collections.abc import Iterable

from leverwright.project.checks import Tables
from leverwright.project.entries import Entry
from leverwright.project.faultlist import FaultList, Rank
from leverwright.project.outline import Path
from leverwright.quantity import quoted

__all__ = ["USUAL", "Loads", "load_set_names", "usual_of"]

USUAL = "usual"
"""Name of the load set that answers mean when they name none."""


def usual_of(names: Iterable[str]) -> str | None:
    """The usual load set: the one of that name, else the first; None where there is none."""
    listed = list(names)
    return USUAL if USUAL in listed else listed[0] if listed else None


def load_set_names(tables: Tables) -> tuple[str, ...]:
    """Names of load sets that may be used; one `load` a wheel is a load set too, the usual one."""
    return tuple(tables["loads"]) or (USUAL,)


class Loads:
    """Looks whether each wheel's load is said somewhere."""

    def __init__(self, tables: Tables, faults: FaultList) -> None:
        self._tables = tables
        self._faults = faults
        self._usual = usual_of(load_set_names(tables))
        self._asked: set[str] = set()

    def weighs(self, wheel: Entry) -> bool:
        """Is the usual load of a wheel said? Where it is not, that is a fault."""
        if "load" in wheel.places:
            return "load" in wheel.fields
        if self._scale_says(wheel.name) or self._masses_say():
            return True
        if wheel.twin_of in self._asked:
            return False
        self._asked.add(wheel.name)
        if wheel.twin_of is None:
            allowed = (
                "kg on a scale under this wheel, vehicle standing, usual rider aboard; or that scale's readings in "
                f"[weighed.{wheel.name}]; or masses in the usual load set"
            )
            said = ("the key 'load' is missing", allowed, "add load = …")
            self._faults.add(Rank.MISSING_KEY, (*wheel.path, "load"), said)
            return False
        place: Path = ("weighed", wheel.name)
        if not self._tables["weighed"]:
            place = ("loads", str(self._usual), "scale", wheel.name)
        said = (
            f"{quoted(wheel.twin_of)} is weighed and {quoted(wheel.name)} is not",
            "each wheel on the scale, or load in its own table: two sides seldom weigh the same",
            f"add {quoted(wheel.name)}",
        )
        self._faults.add(Rank.MISSING_KEY, place, said)
        return False

    def _scale_says(self, wheel: str) -> bool:
        """Was a scale under this wheel with the usual load aboard?

        What could not be read may say so, and so may the name of a wheel that is not there.
        """
        wheels = self._tables["wheels"]
        for name, entry in self._tables["weighed"].items():
            under = entry.fields.get("wheel", name)
            if (under == wheel or under not in wheels) and entry.fields.get(
                "set", self._usual
            ) == self._usual:
                return True
        usual = self._tables["loads"].get(str(self._usual))
        if usual is None:
            return False
        scale = usual.fields.get("scale")
        unread = "scale" in usual.broken or self._faults.has(Rank.TYPE, (*usual.place("scale"), wheel))
        stray = isinstance(scale, dict) and any(under not in wheels for under in scale)
        return unread or stray or (isinstance(scale, dict) and wheel in scale)

    def _masses_say(self) -> bool:
        usual = self._tables["loads"].get(str(self._usual))
        return usual is not None and "carries" in usual.places
