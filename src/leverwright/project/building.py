"""Entries made into points, bodies, bars and so on; missing keys are reported, what is incomplete left out."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from leverwright.project.building_measured import MeasuredMaker
from leverwright.project.building_shocks import ShockMaker
from leverwright.project.checks import Checks, Tables
from leverwright.project.entries import Entry
from leverwright.project.faultlist import FaultList, Rank
from leverwright.project.keys import TOP
from leverwright.project.loads import Loads
from leverwright.project.model import (
    Bar,
    Body,
    Goals,
    Held,
    Point,
    Sketch,
    Spring,
    Strap,
    Wheel,
)
from leverwright.project.outline import Outline
from leverwright.project.tyre_readings import tyre_readings_of
from leverwright.project.values import At
from leverwright.quantity import Quantity, quoted

__all__ = ["build"]


def build(top: Entry, tables: Tables, outline: Outline, faults: FaultList) -> Sketch:
    """What can be made of the entries; every missing key and every two that exclude each other is a fault."""
    checks = Checks(outline, faults)
    checks.require(top, tuple(key for key, spec in TOP.items() if spec.required))
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
    maker = _Maker(checks, Loads(tables, faults))
    return Sketch(
        title=fields.get("title", ""),
        pose=word,
        pose_load_set=load_set,
        error=fields.get("error"),
        tape_error=fields.get("tape_error"),
        plane=fields.get("plane"),
        mirror=fields.get("mirror", False),
        points=checks.all(tables["points"], maker.point),
        bodies=checks.all(tables["bodies"], maker.body),
        bars=checks.all(tables["bars"], maker.bar),
        springs=checks.all(tables["springs"], maker.spring),
        straps=checks.all(tables["straps"], maker.strap),
        held=checks.all(tables["held"], maker.hold),
        wheels=checks.all(tables["wheels"], maker.wheel),
        goals=maker.goals(tables["goals"]),
        **ShockMaker(checks, tables).made(),
        **MeasuredMaker(checks, tables, fields).made(),
    )


class _Maker:
    """Makes one thing of each entry; None where a key is missing or unfit."""

    def __init__(self, checks: Checks, loads: Loads) -> None:
        self._checks = checks
        self._loads = loads

    def point(self, entry: Entry, fields: Any) -> Point | None:  # noqa: ANN401  what a reader returned for its key
        sketched = "sketch" in entry.places
        if sketched:
            reason = "either at, which is measured, or sketch, a rough place from which the tapes start"
            single = self._checks.exclude(entry, ("at", "error"), "sketch", reason)
            whole = self._checks.require(entry, ("sketch",)) and single
        else:
            whole = self._checks.require(entry, ("at",))
        if not whole:
            return None
        at: At = fields["sketch" if sketched else "at"]
        error = fields.get("error")
        return Point(
            name=entry.name,
            at=at.at,
            error=error,
            errors=at.errors_or(error),
            alone=fields.get("alone", False),
            line=self._checks.line(entry),
            twin_of=entry.twin_of,
            sketched=sketched,
        )

    def body(self, entry: Entry, fields: Any) -> Body | None:  # noqa: ANN401
        if not self._checks.require(entry, ("points",)):
            return None
        return Body(entry.name, fields["points"], self._checks.line(entry), entry.twin_of)

    def bar(self, entry: Entry, fields: Any) -> Bar | None:  # noqa: ANN401
        if not self._checks.require(entry, ("ends",)):
            return None
        return Bar(
            name=entry.name,
            ends=fields["ends"],
            length=fields.get("length"),
            adjust=fields.get("adjust"),
            pitch=fields.get("pitch"),
            line=self._checks.line(entry),
            twin_of=entry.twin_of,
        )

    def spring(self, entry: Entry, fields: Any) -> Spring | None:  # noqa: ANN401
        form = "either ends and shock, or hinge, rate and twist"
        if "hinge" in entry.places:
            single = self._checks.exclude(entry, ("ends", "shock"), "hinge", form)
            whole = self._checks.require(entry, ("hinge", "rate", "twist"), form)
        else:
            single = self._is_no_coil(entry, ("rate", "twist"))
            whole = self._checks.require(entry, ("ends", "shock"), form)
        if not (single and whole):
            return None
        return Spring(
            name=entry.name,
            ends=fields.get("ends"),
            shock=fields.get("shock"),
            hinge=fields.get("hinge"),
            rate=fields.get("rate"),
            twist=fields.get("twist"),
            line=self._checks.line(entry),
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
            self._checks.report(entry, key, said)
        return not stated

    def strap(self, entry: Entry, fields: Any) -> Strap | None:  # noqa: ANN401
        if not self._checks.require(entry, ("ends", "length")):
            return None
        line = self._checks.line(entry)
        return Strap(entry.name, fields["ends"], fields["length"], fields.get("rate"), line, entry.twin_of)

    def hold(self, entry: Entry, fields: Any) -> Held | None:  # noqa: ANN401
        form = "either point, along and range, or bodies and range"
        if "bodies" in entry.places:
            single = self._checks.exclude(entry, ("point", "along"), "bodies", form)
            whole = self._checks.require(entry, ("bodies", "range"), form)
        else:
            single = True
            whole = self._checks.require(entry, ("point", "along", "range"), form)
        if not (single and whole):
            return None
        return Held(
            name=entry.name,
            point=fields.get("point"),
            along=None if "along" not in fields else tuple(fields["along"]),
            bodies=fields.get("bodies"),
            range=fields["range"],
            line=self._checks.line(entry),
            twin_of=entry.twin_of,
        )

    def wheel(self, entry: Entry, fields: Any) -> Wheel | None:  # noqa: ANN401
        whole = self._checks.require(entry, ("body", "centre", "radius"))
        weighed = self._loads.weighs(entry)
        tyre = fields.get("tyre")
        readings = tyre_readings_of(self._checks, entry, tyre) if isinstance(tyre, Entry) else None
        if not (whole and weighed):
            return None
        return Wheel(
            name=entry.name,
            body=fields["body"],
            centre=fields["centre"],
            axis=fields.get("axis"),
            radius=fields["radius"],
            load=fields.get("load"),
            unsprung=fields.get("unsprung"),
            tyre=tyre if isinstance(tyre, Quantity) else None,
            brake=fields.get("brake"),
            pressure=fields.get("pressure"),
            line=self._checks.line(entry),
            twin_of=entry.twin_of,
            tyre_readings=readings,
        )

    def goals(self, table: Mapping[str, Entry]) -> Goals:
        if not table:
            return Goals()
        fields: Any = table[""].fields
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
            single = self._checks.exclude(entry, ("speed", "every"), "hz", form)
            return fields.get("hz") if single else None
        if not self._checks.require(entry, ("speed", "every"), form):
            return None
        passed = fields["speed"] / fields["every"]
        return passed, passed
