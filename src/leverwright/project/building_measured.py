"""Entries made into tapes, masses, load sets, weighings, photographs: what was measured, as it was written."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any

from leverwright.project.checks import Checks, Tables
from leverwright.project.entries import Entry
from leverwright.project.keys import TAPE_READS
from leverwright.project.limits import LIMITS
from leverwright.project.measuring import (
    Coupling,
    LoadSet,
    Mass,
    Photo,
    Plank,
    Scale,
    Tape,
    TapeKind,
    Tilt,
    Travelled,
    Weighing,
)
from leverwright.quantity import quoted

__all__ = ["MeasuredMaker", "plank_of"]

_KINDS: tuple[TapeKind, ...] = ("between", "height", "offset", "ahead", "plumb", "level", "along", "side")
_ONE_KIND = f"exactly one of {', '.join(_KINDS)}"
_BESIDE = {"along": ("point",), "side": ("of", "is")}


class MeasuredMaker:
    """Makes one thing of each entry; None where a key is missing or unfit."""

    def __init__(self, checks: Checks, tables: Tables, top: Mapping[str, Any]) -> None:
        self._checks = checks
        self._tables = tables
        self._top = top

    def made(self) -> dict[str, Any]:
        """The tables of a sketch that hold what was measured, but the bench."""
        named = {
            "tape": self._tape,
            "masses": self._mass,
            "loads": self._load_set,
            "weighed": self._weighing,
            "photos": self._photo,
            "travels": self._travelled,
        }
        single = {"coupling": self._coupling, "scale": self._scale, "tilt": self._tilt}
        made: dict[str, Any] = {
            table: self._checks.all(self._tables[table], make) for table, make in named.items()
        }
        for table, one in single.items():
            made[table] = self._checks.all(self._tables[table], one).get("")
        return made

    def _tape(self, entry: Entry, fields: Any) -> Tape | None:  # noqa: ANN401  what a reader returned for its key
        kinds = [kind for kind in _KINDS if kind in entry.places]
        if not self._checks.require_one(entry, _KINDS, _ONE_KIND) and len(kinds) != 1:
            return None
        kind = kinds[0] if kinds else "between"
        whole = self._keys_fit(entry, kind) and kind in fields
        if not (whole and self._count_fits(entry, kind)):
            return None
        first = fields[kind]
        points = (first,) if isinstance(first, str) else tuple(first)
        if kind == "along":
            points = (*points, fields["point"])
        if kind == "side":
            points = (*points, *fields["of"])
        return Tape(
            name=entry.name,
            kind=kind,
            points=points,
            reads=fields.get("reads", ()),
            error=fields.get("error", self._top.get("tape_error")),
            side=fields.get("is"),
            line=self._checks.line(entry),
        )

    def _keys_fit(self, entry: Entry, kind: str) -> bool:
        """Has it the keys of its kind, and none of another?"""
        needed = (*_BESIDE.get(kind, ()), *(("reads",) if kind in TAPE_READS else ()))
        whole = self._checks.require(entry, needed, _NEEDED.get(kind, ""))
        for key in ("reads", "error", "point", "of", "is"):
            idle = key in entry.places and key not in needed and not (key == "error" and kind != "side")
            if idle:
                said = (f"{quoted(key)} does nothing in a tape of {kind}", _NEEDED[kind], "take it out")
                self._checks.report(entry, key, said)
                whole = False
        return whole

    def _count_fits(self, entry: Entry, kind: str) -> bool:
        """As many points as its kind has."""
        fields: Any = entry.fields
        if kind == "level":
            return self._is_count(entry, "level", fields["level"], (2, LIMITS.tape_points))
        if kind == "side":
            count = 2 if "plane" in self._top else 3
            return self._is_count(entry, "of", fields["of"], (count, count))
        return True

    def _is_count(self, entry: Entry, key: str, names: tuple[str, ...], allowed: tuple[int, int]) -> bool:
        least, most = allowed
        if least <= len(names) <= most:
            return True
        said = f"{least} points" if least == most else f"{least} to {most} points"
        self._checks.report(entry, key, (f"{len(names)} points stand here", said, "name so many points"))
        return False

    def _mass(self, entry: Entry, fields: Any) -> Mass | None:  # noqa: ANN401
        if not self._checks.require(entry, ("mass", "at")):
            return None
        at, error = fields["at"], fields.get("error")
        line = self._checks.line(entry)
        return Mass(entry.name, fields["mass"], at.at, error, at.errors_or(error), line)

    def _load_set(self, entry: Entry, fields: Any) -> LoadSet | None:  # noqa: ANN401
        weighed = any(one.fields.get("set") == entry.name for one in self._tables["weighed"].values())
        form = "carries, a list of masses, or scale, what it reads under each wheel"
        stated = {"carries", "scale"} & entry.places.keys()
        if not stated and not weighed and not self._checks.require(entry, ("carries",), form):
            return None
        scale = MappingProxyType(dict(fields.get("scale", {})))
        return LoadSet(entry.name, fields.get("carries", ()), scale, self._checks.line(entry))

    def _coupling(self, entry: Entry, fields: Any) -> Coupling | None:  # noqa: ANN401
        if not self._checks.require(entry, ("at",)):
            return None
        return Coupling(fields["at"].at, fields.get("height"), self._checks.line(entry))

    def _scale(self, entry: Entry, fields: Any) -> Scale:  # noqa: ANN401
        inside = fields.get("known")
        known = None
        if inside is not None and self._checks.require(inside, ("mass", "reads")):
            known = inside.fields["mass"], inside.fields["reads"]
        return Scale(fields.get("error"), known, fields.get("total"), self._checks.line(entry))

    def _weighing(self, entry: Entry, fields: Any) -> Weighing | None:  # noqa: ANN401
        if not self._checks.require(entry, ("reads",)):
            return None
        return Weighing(
            name=entry.name,
            wheel=fields.get("wheel", entry.name),
            load_set=fields.get("set"),
            reads=fields["reads"],
            raised=fields.get("raised"),
            plank=plank_of(self._checks, fields.get("plank")),
            line=self._checks.line(entry),
        )

    def _tilt(self, entry: Entry, fields: Any) -> Tilt | None:  # noqa: ANN401
        if not self._checks.require(entry, ("lifted", "by", "level", "tilted")):
            return None
        return Tilt(
            lifted=fields["lifted"],
            by=fields["by"],
            level=fields["level"],
            tilted=fields["tilted"],
            load_set=fields.get("set"),
            blocked=fields.get("blocked"),
            total=fields.get("total"),
            line=self._checks.line(entry),
        )

    def _photo(self, entry: Entry, fields: Any) -> Photo | None:  # noqa: ANN401
        second = ("second_corners", "second_rectangle")
        wanted = ("picture", "view", "depth", "corners", "rectangle")
        if not self._checks.require(entry, wanted + (second if any(key in fields for key in second) else ())):
            return None
        return Photo(
            name=entry.name,
            picture=fields["picture"],
            view=fields["view"],
            depth=fields["depth"],
            corners=fields["corners"],
            rectangle=fields["rectangle"],
            camera=fields.get("camera"),
            lens=fields.get("lens"),
            error=fields.get("error"),
            size=fields.get("size"),
            second=(fields[second[0]], fields[second[1]]) if second[0] in fields else None,
            straight=fields.get("straight", ()),
            picks=MappingProxyType(dict(fields.get("picks", {}))),
            line=self._checks.line(entry),
        )

    def _travelled(self, entry: Entry, fields: Any) -> Travelled | None:  # noqa: ANN401
        if not self._checks.require(entry, ("wheel", "spring", "wheel_moved", "spring_moved")):
            return None
        wheel, spring = fields["wheel_moved"], fields["spring_moved"]
        if len(wheel) != len(spring):
            found = f"{len(spring)} lengths stand for {len(wheel)} of the wheel"
            said = (found, "as many as in wheel_moved", "read both at each step")
            self._checks.report(entry, "spring_moved", said)
            return None
        line = self._checks.line(entry)
        return Travelled(entry.name, fields["wheel"], fields["spring"], wheel, spring, line)


_NEEDED: Mapping[str, str] = MappingProxyType(
    {
        "between": "between with reads, the distance of the two points",
        "height": "height with reads, how high the point is above the floor",
        "offset": "offset with reads, how far the point is from the centre plane, + left",
        "ahead": "ahead with reads, how far the second point is ahead of the first",
        "plumb": "plumb alone: one point straight above the other",
        "level": "level alone: points at one height",
        "along": "along with point and reads: how far from the first of the two the point lies on their line",
        "side": "side with of and is: on which side of the points of `of` it lies",
    }
)


def plank_of(checks: Checks, entry: Entry | None) -> Plank | None:
    """A plank and its bar; None where there is none or a part of it is missing."""
    if entry is None or not checks.require(entry, ("load", "scale", "alone"), _PLANK):
        return None
    fields: Any = entry.fields
    return Plank(fields["load"], fields["scale"], fields["alone"])


_PLANK = (
    "{ load = …, scale = …, alone = … }: mm from the bar to the load and to the scale, kg of the plank alone"
)
