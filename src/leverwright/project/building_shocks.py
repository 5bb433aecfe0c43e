"""Entries made into shocks: those on the vehicle, those of the pile, and their readings on the bench."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from leverwright.project.building_measured import plank_of
from leverwright.project.checks import Checks, Tables
from leverwright.project.entries import Entry
from leverwright.project.measuring import Bench, PileShock, Returned, Wire
from leverwright.project.model import BumpStop, Shock
from leverwright.quantity import Quantity

__all__ = ["ShockMaker"]

_FROM_PILE = ("length_open", "length_closed", "rate", "preload", "gas", "friction", "wire")
_LAW = ("rate", "table", "wire")
_COIL = "outside or mean, the diameter of the coil over its wire or to the middle of it"


class ShockMaker:
    """Makes one thing of each entry; None where a key is missing or unfit."""

    def __init__(self, checks: Checks, tables: Tables) -> None:
        self._checks = checks
        self._tables = tables

    def made(self) -> dict[str, Any]:
        """The tables of a sketch that hold shocks."""
        return {
            "shocks": self._checks.all(self._tables["shocks"], self._shock),
            "pile": self._checks.all(self._tables["pile"], self._pile),
            "bench": self._checks.all(self._tables["bench"], self._bench),
        }

    def _shock(self, entry: Entry, _fields: Any) -> Shock | None:  # noqa: ANN401  what a reader returned for its key
        named = entry.fields.get("pile")
        pile = self._tables["pile"].get(named) if isinstance(named, str) else None
        if named is not None and pile is None:
            return None  # a name that leads nowhere; what the pile would say is not missing
        fields: Any = {**_taken(entry, pile), **entry.fields}
        broken = frozenset() if pile is None else pile.broken
        benched = self._is_benched(entry.name) or (pile is not None and self._is_benched(pile.name))
        lengths = tuple(
            key for key in ("length_open", "length_closed") if key not in fields and key not in broken
        )
        whole = self._checks.require(entry, lengths)
        if not benched and "preload" not in fields and "preload" not in broken:
            whole = self._checks.require(entry, ("preload",)) and whole
        law = self._law(entry, fields, benched=benched)
        if not (whole and law and {"length_open", "length_closed"} <= fields.keys()):
            return None
        wire, stop = fields.get("wire"), fields.get("stop")
        return Shock(
            name=entry.name,
            rate=fields.get("rate"),
            length_open=fields["length_open"],
            length_closed=fields["length_closed"],
            preload=fields.get("preload"),
            gas=fields.get("gas"),
            friction=fields.get("friction"),
            table=fields.get("table"),
            stop=None if stop is None else self._stop(stop, stop.fields),
            coils_touch=fields.get("coils_touch"),
            line=self._checks.line(entry),
            wire=None if wire is None else self._wire(wire, wire.fields, own="wire" in entry.fields),
            pile=fields.get("pile"),
        )

    def _is_benched(self, name: str) -> bool:
        """Has this shock readings? Readings of a name that leads nowhere may be meant for it."""
        bench = self._tables["bench"]
        known = self._tables["shocks"].keys() | self._tables["pile"].keys()
        return name in bench or any(other not in known for other in bench)

    def _law(self, entry: Entry, fields: Mapping[str, object], *, benched: bool) -> bool:
        """Something that says how hard it pushes: a rate or a table, a coil's wire, readings on the bench."""
        one = f"one of rate and table, wire, or readings in [bench.{entry.name}]"
        if "table" in entry.places:
            beside = next((key for key in ("rate", "wire") if key in entry.places), None)
            return self._checks.exclude(entry, ("table",), beside or "", one) and "table" in entry.fields
        if benched or any(key in fields for key in _LAW):
            return not entry.broken & {"rate", "wire"}
        return self._checks.require(entry, ("rate",), one)

    def _stop(self, entry: Entry, fields: Any) -> BumpStop | None:  # noqa: ANN401
        whole = self._checks.require(entry, ("touches",))
        law = self._checks.require_one(entry, ("rate", "table"), "one of rate and table")
        return BumpStop(fields["touches"], fields.get("rate"), fields.get("table")) if whole and law else None

    def _wire(self, entry: Entry, fields: Any, *, own: bool = True) -> Wire | None:  # noqa: ANN401
        """A coil's wire; what is wrong with it is said where it is written, not at each user of it."""
        if not own:
            whole = {"diameter", "active"} <= fields.keys() and bool({"outside", "mean"} & fields.keys())
        else:
            whole = self._checks.require(entry, ("diameter", "active"))
            whole = self._checks.require_one(entry, ("outside", "mean"), _COIL) and whole
        if not whole:
            return None
        return Wire(
            fields["diameter"],
            fields.get("outside"),
            fields.get("mean"),
            fields["active"],
            fields.get("modulus"),
        )

    def _pile(self, entry: Entry, fields: Any) -> PileShock:  # noqa: ANN401
        wire = fields.get("wire")
        return PileShock(
            name=entry.name,
            length_open=fields.get("length_open"),
            length_closed=fields.get("length_closed"),
            rate=fields.get("rate"),
            preload=fields.get("preload"),
            gas=fields.get("gas"),
            friction=fields.get("friction"),
            wire=None if wire is None else self._wire(wire, wire.fields),
            oil=fields.get("oil"),
            rod=fields.get("rod"),
            line=self._checks.line(entry),
        )

    def _bench(self, entry: Entry, fields: Any) -> Bench | None:  # noqa: ANN401
        form = "marks, how far it is squashed from fully open, or lengths, eye to eye"
        single = self._checks.require_one(entry, ("marks", "lengths"), form)
        whole = self._checks.require(entry, ("in",))
        if not (single and whole and self._counts_agree(entry, fields)):
            return None
        squash = self._squash(entry, fields)
        if squash is None:
            return None
        back = fields.get("returned")
        returned = None
        if back is not None and self._checks.require(back, ("by", "of", "in")):
            returned = Returned(back.fields["by"], back.fields["of"], back.fields["in"])
        return Bench(
            name=entry.name,
            squash=squash,
            going_in=fields["in"],
            coming_out=fields.get("out", (None,) * len(squash)),
            plank=plank_of(self._checks, fields.get("plank")),
            rod=fields.get("rod"),
            returned=returned,
            error=fields.get("error"),
            mark_error=fields.get("mark_error"),
            line=self._checks.line(entry),
        )

    def _counts_agree(self, entry: Entry, fields: Mapping[str, Any]) -> bool:
        """As many readings as marks."""
        marks = "marks" if "marks" in fields else "lengths"
        agree = True
        for key in ("in", "out"):
            if key in fields and len(fields[key]) != len(fields[marks]):
                found = f"{len(fields[key])} readings stand for {len(fields[marks])} {marks}"
                allowed = f"one reading for each of the {marks}"
                do = (
                    'write "-" where nothing was read' if key == "out" else f"read again, or take {marks} out"
                )
                self._checks.report(entry, key, (found, allowed, do))
                agree = False
        return agree

    def _squash(self, entry: Entry, fields: Mapping[str, Any]) -> tuple[Quantity, ...] | None:
        """How far from fully open each reading was [m]."""
        if "marks" in fields:
            marks: tuple[Quantity, ...] = fields["marks"]
            return marks
        owners = self._owners(entry.name)
        opened = next((one.fields["length_open"] for one in owners if "length_open" in one.fields), None)
        if opened is None:
            if not owners or any("length_open" in one.broken for one in owners):
                return None  # said where it stands
            said = (
                "'lengths' stands here, and the shock has no length_open",
                "lengths eye to eye only of a shock with length_open",
                "add length_open to the shock, or write marks",
            )
            self._checks.report(entry, "lengths", said)
            return None
        length_open: Any = opened
        lengths: tuple[Quantity, ...] = fields["lengths"]
        return tuple(Quantity(length_open.value - one.value, one.error, "length") for one in lengths)

    def _owners(self, name: str) -> tuple[Entry, ...]:
        """The shock on the vehicle and that of the pile that readings of a name are of, those that are there."""
        shock = self._tables["shocks"].get(name)
        pile = self._tables["pile"].get(str(shock.fields.get("pile", name)) if shock is not None else name)
        return tuple(one for one in (shock, pile) if one is not None)


def _taken(entry: Entry, pile: Entry | None) -> dict[str, object]:
    """What a shock has from the pile: all that it does not state itself, and no second law beside its own table."""
    if pile is None:
        return {}
    law = frozenset(("rate", "wire")) if "table" in entry.places else frozenset[str]()
    return {
        key: pile.fields[key]
        for key in _FROM_PILE
        if key in pile.fields and key not in entry.places and key not in law
    }
