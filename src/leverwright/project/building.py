"""Entries made into points, bodies, bars and so on; missing keys are reported, what is incomplete left out."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Any, TypeVar

from leverwright.project.entries import Entry
from leverwright.project.faultlist import FaultList, Rank
from leverwright.project.keys import KEYS, TOP
from leverwright.project.model import (
    Bar,
    Body,
    BumpStop,
    Goals,
    Held,
    Point,
    Shock,
    Sketch,
    Spring,
    Strap,
    Wheel,
)
from leverwright.project.outline import Outline
from leverwright.quantity import quoted

__all__ = ["Tables", "build"]

Tables = Mapping[str, Mapping[str, Entry]]
Thing = TypeVar("Thing")


def build(top: Entry, tables: Tables, goals: Entry, outline: Outline, faults: FaultList) -> Sketch:
    """What can be made of the entries; every missing key and every two that exclude each other is a fault."""
    maker = _Maker(outline, faults)
    maker.require(top, [key for key, spec in TOP.items() if spec.required])
    for table, kind in (("points", "point"), ("bodies", "body")):
        if not tables[table] and not faults.has(Rank.TYPE, (table,)):
            said = (f"there is no {kind}", f"a table [{table}] with at least one {kind}", f"write [{table}]")
            faults.add(Rank.MISSING_KEY, (table,), said)
    if tables["bodies"] and "chassis" not in tables["bodies"]:
        said = (
            "no body is called 'chassis'",
            "the body that stays still, chassis = [its points]",
            "add it to [bodies]",
        )
        faults.add(Rank.MISSING_KEY, ("bodies", "chassis"), said)
    pose = top.fields.get("pose")
    word, load_set = pose if isinstance(pose, tuple) else (pose, None)
    fields: Any = top.fields
    return Sketch(
        title=fields.get("title", ""),
        pose=word,
        pose_load_set=load_set,
        error=fields.get("error"),
        plane=fields.get("plane"),
        mirror=fields.get("mirror", False),
        points=maker.all(tables["points"], maker.point),
        bodies=maker.all(tables["bodies"], maker.body),
        bars=maker.all(tables["bars"], maker.bar),
        shocks=maker.all(tables["shocks"], maker.shock),
        springs=maker.all(tables["springs"], maker.spring),
        straps=maker.all(tables["straps"], maker.strap),
        held=maker.all(tables["held"], maker.hold),
        wheels=maker.all(tables["wheels"], maker.wheel),
        goals=maker.goals(goals),
    )


class _Maker:
    """Makes one thing of each entry; None where a key is missing or unfit."""

    def __init__(self, outline: Outline, faults: FaultList) -> None:
        self._outline = outline
        self._faults = faults

    def all(
        self, entries: Mapping[str, Entry], make: Callable[[Entry, Any], Thing | None]
    ) -> Mapping[str, Thing]:
        """Every thing of a table that could be made, in file order."""
        made = {name: make(entry, entry.fields) for name, entry in entries.items()}
        return MappingProxyType({name: one for name, one in made.items() if one is not None})

    def require(self, entry: Entry, keys: list[str], instead: str = "") -> bool:
        """Are these keys there and fit? A missing one is a fault at the table's header."""
        for key in keys:
            if key in entry.fields or key in entry.broken or entry.twin_of is not None:
                continue
            said = (f"the key {quoted(key)} is missing", instead or _what_is_allowed(key), f"add {key} = …")
            self._faults.add(Rank.MISSING_KEY, (*entry.path, key), said)
        return all(key in entry.fields for key in keys)

    def exclude(self, entry: Entry, keys: tuple[str, ...], other: str, reason: str) -> bool:
        """Reports each of the keys that stands beside the other, which excludes it; True when none does."""
        beside = [key for key in keys if key in entry.places and other in entry.places]
        for key in beside:
            said = (f"{quoted(key)} stands beside {quoted(other)}", reason, f"take {key} or {other} out")
            self._report(entry, key, said)
        return not beside

    def _report(self, entry: Entry, key: str, said: tuple[str, str, str]) -> None:
        """A fault at a key; what a twin has from its original is reported there alone."""
        place = entry.place(key)
        if entry.twin_of is None or not self._faults.has(Rank.TYPE, place):
            self._faults.add(Rank.TYPE, place, said)

    def line(self, entry: Entry) -> int:
        return self._outline.line(entry.path)

    def point(self, entry: Entry, fields: Any) -> Point | None:  # noqa: ANN401  what a reader returned for its key
        if not self.require(entry, ["at"]):
            return None
        at = fields["at"]
        error = fields.get("error")
        errors = tuple(error if own is None else own for own in at.errors)
        return Point(
            name=entry.name,
            at=at.at,
            error=error,
            errors=(errors[0], errors[1], errors[2]),
            alone=fields.get("alone", False),
            line=self.line(entry),
            twin_of=entry.twin_of,
        )

    def body(self, entry: Entry, fields: Any) -> Body | None:  # noqa: ANN401
        if not self.require(entry, ["points"]):
            return None
        return Body(entry.name, fields["points"], self.line(entry), entry.twin_of)

    def bar(self, entry: Entry, fields: Any) -> Bar | None:  # noqa: ANN401
        if not self.require(entry, ["ends"]):
            return None
        return Bar(
            name=entry.name,
            ends=fields["ends"],
            length=fields.get("length"),
            adjust=fields.get("adjust"),
            pitch=fields.get("pitch"),
            line=self.line(entry),
            twin_of=entry.twin_of,
        )

    def shock(self, entry: Entry, fields: Any) -> Shock | None:  # noqa: ANN401
        whole = self.require(entry, ["length_open", "length_closed", "preload"])
        law = self._law(entry)
        stop = fields.get("stop")
        if not (whole and law):
            return None
        return Shock(
            name=entry.name,
            rate=fields.get("rate"),
            length_open=fields["length_open"],
            length_closed=fields["length_closed"],
            preload=fields["preload"],
            gas=fields.get("gas"),
            friction=fields.get("friction"),
            table=fields.get("table"),
            stop=None if stop is None else self._stop(stop, stop.fields),
            coils_touch=fields.get("coils_touch"),
            line=self.line(entry),
        )

    def _law(self, entry: Entry) -> bool:
        """Exactly one of rate and table."""
        one = "one of rate and table"
        if not {"rate", "table"} & entry.places.keys():
            return self.require(entry, ["rate"], one)
        return self.exclude(entry, ("table",), "rate", one) and bool({"rate", "table"} & entry.fields.keys())

    def _stop(self, entry: Entry, fields: Any) -> BumpStop | None:  # noqa: ANN401
        whole = self.require(entry, ["touches"])
        law = self._law(entry)
        if not (whole and law):
            return None
        return BumpStop(fields["touches"], fields.get("rate"), fields.get("table"))

    def spring(self, entry: Entry, fields: Any) -> Spring | None:  # noqa: ANN401
        form = "either ends and shock, or hinge, rate and twist"
        if "hinge" in entry.places:
            single = self.exclude(entry, ("ends", "shock"), "hinge", form)
            whole = self.require(entry, ["hinge", "rate", "twist"], form)
        else:
            single = self._is_no_coil(entry, ("rate", "twist"))
            whole = self.require(entry, ["ends", "shock"], form)
        if not (single and whole):
            return None
        return Spring(
            name=entry.name,
            ends=fields.get("ends"),
            shock=fields.get("shock"),
            hinge=fields.get("hinge"),
            rate=fields.get("rate"),
            twist=fields.get("twist"),
            line=self.line(entry),
            twin_of=entry.twin_of,
        )

    def _is_no_coil(self, entry: Entry, keys: tuple[str, ...]) -> bool:
        """A spring between two points has its rate from its shock: none of these keys stands."""
        stated = [key for key in keys if key in entry.places]
        for key in stated:
            allowed = f"{key} only of a spring on a hinge; between two ends the shock has the rate"
            said = (
                f"{quoted(key)} stands without a hinge",
                allowed,
                "write it in the [shocks] table, or add hinge",
            )
            self._report(entry, key, said)
        return not stated

    def strap(self, entry: Entry, fields: Any) -> Strap | None:  # noqa: ANN401
        if not self.require(entry, ["ends", "length"]):
            return None
        line = self.line(entry)
        return Strap(entry.name, fields["ends"], fields["length"], fields.get("rate"), line, entry.twin_of)

    def hold(self, entry: Entry, fields: Any) -> Held | None:  # noqa: ANN401
        form = "either point, along and range, or bodies and range"
        if "bodies" in entry.places:
            single = self.exclude(entry, ("point", "along"), "bodies", form)
            whole = self.require(entry, ["bodies", "range"], form)
        else:
            single = True
            whole = self.require(entry, ["point", "along", "range"], form)
        if not (single and whole):
            return None
        return Held(
            name=entry.name,
            point=fields.get("point"),
            along=None if "along" not in fields else tuple(fields["along"]),
            bodies=fields.get("bodies"),
            range=fields["range"],
            line=self.line(entry),
            twin_of=entry.twin_of,
        )

    def wheel(self, entry: Entry, fields: Any) -> Wheel | None:  # noqa: ANN401
        if not self.require(entry, [key for key, spec in KEYS["wheels"].items() if spec.required]):
            return None
        return Wheel(
            name=entry.name,
            body=fields["body"],
            centre=fields["centre"],
            axis=fields.get("axis"),
            radius=fields["radius"],
            load=fields["load"],
            unsprung=fields.get("unsprung"),
            tyre=fields.get("tyre"),
            brake=fields.get("brake"),
            line=self.line(entry),
            twin_of=entry.twin_of,
        )

    def goals(self, entry: Entry) -> Goals:
        fields: Any = entry.fields
        travel = fields["travel"].fields if "travel" in fields else {}
        excitation = self._excitation(fields["excitation"]) if "excitation" in fields else None
        return Goals(
            sag=fields.get("sag"),
            frequency=fields.get("frequency"),
            travel_bump=travel.get("bump"),
            travel_droop=travel.get("droop"),
            excitation=excitation,
            excitation_stated=excitation is not None,
        )

    def _excitation(self, entry: Entry) -> tuple[float, float] | None:
        """The band [Hz] that is stated, or the frequency of joints passed at a speed."""
        form = "either speed and every, or hz"
        fields: Any = entry.fields
        if "hz" in entry.places:
            single = self.exclude(entry, ("speed", "every"), "hz", form)
            return fields.get("hz") if single else None
        if not self.require(entry, ["speed", "every"], form):
            return None
        passed = fields["speed"] / fields["every"]
        return passed, passed


def _what_is_allowed(key: str) -> str:
    return _EXAMPLES.get(key, f"a table with its {key}")


_EXAMPLES: Mapping[str, str] = MappingProxyType(
    {
        "leverwright": "leverwright = 1, the version of the file format",
        "at": "a point with its coordinates, { at = [x, y, z] }",
        "ends": 'ends = ["one point", "another"]',
        "length_open": "a shock's length eye to eye, fully open, mm",
        "length_closed": "a shock's length eye to eye, fully closed, mm",
        "preload": "the coil's compression when the shock is fully open, mm; 0 or negative is allowed",
        "body": 'the body that carries the wheel, body = "name"',
        "centre": 'the point at the wheel centre, centre = "name"',
        "radius": "the wheel's radius, mm",
        "load": "what a scale under the wheel reads, kg, vehicle standing, usual rider aboard",
        "length": "the strap's length when taut, mm",
        "touches": "how far before closed the stop touches, mm",
    }
)
