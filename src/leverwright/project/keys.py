"""Every key that a project file may have: how it is read, whether it must be there, what its names lead to."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from leverwright.project import values as v
from leverwright.project.values import Reader

__all__ = ["HELD_RANGE", "KEYS", "LATER_KEYS", "LATER_TABLES", "MIRRORED", "TABLES", "TOP", "Key"]


@dataclass(frozen=True, slots=True)
class Key:
    """One key of a table.

    read      reads its value
    required  a table without it is refused
    of        table whose names the value holds: "points", "bodies" or "shocks"
    """

    read: Reader
    required: bool = False
    of: str | None = None


def _keys(**keys: Key) -> Mapping[str, Key]:
    return MappingProxyType(keys)


_LENGTH = v.quantity("length", "positive")

TOP = _keys(
    leverwright=Key(v.version, required=True),
    title=Key(v.title),
    pose=Key(v.one_of("hanging", "on blocks", "standing")),
    error=Key(v.number("length", "not negative")),
    plane=Key(v.one_of("xz", "yz")),
    mirror=Key(v.flag),
)
"""Keys above the first table. `pose` may also be a table, `{ standing = NAME }`."""

KEYS: Mapping[str, Mapping[str, Key]] = MappingProxyType(
    {
        "points": _keys(
            at=Key(v.place, required=True),
            error=Key(v.number("length", "not negative")),
            alone=Key(v.flag),
        ),
        "bodies": _keys(points=Key(v.names, required=True, of="points")),
        "bars": _keys(
            ends=Key(v.pair_of_names, required=True, of="points"),
            length=Key(_LENGTH),
            adjust=Key(v.rising("length", zero_inside=True)),
            pitch=Key(v.number("length", "positive")),
        ),
        "shocks": _keys(
            rate=Key(v.quantity("stiffness", "positive")),
            length_open=Key(_LENGTH, required=True),
            length_closed=Key(_LENGTH, required=True),
            preload=Key(v.quantity("length"), required=True),
            gas=Key(v.quantity("force", "not negative")),
            friction=Key(v.quantity("force", "not negative")),
            table=Key(v.rows("length", "force", "force")),
            coils_touch=Key(_LENGTH),
        ),
        "springs": _keys(
            ends=Key(v.pair_of_names, of="points"),
            shock=Key(v.name, of="shocks"),
            hinge=Key(v.pair_of_names, of="bodies"),
            rate=Key(v.quantity("torsion", "positive")),
            twist=Key(v.quantity("angle")),
        ),
        "straps": _keys(
            ends=Key(v.pair_of_names, required=True, of="points"),
            length=Key(_LENGTH, required=True),
            rate=Key(v.quantity("stiffness", "positive")),
        ),
        "held": _keys(
            point=Key(v.name, of="points"),
            along=Key(v.direction),
            bodies=Key(v.pair_of_names, of="bodies"),
        ),
        "wheels": _keys(
            body=Key(v.name, required=True, of="bodies"),
            centre=Key(v.name, required=True, of="points"),
            axis=Key(v.pair_of_names, of="points"),
            radius=Key(_LENGTH, required=True),
            load=Key(v.quantity("mass", "positive"), required=True),
            unsprung=Key(v.quantity("mass", "positive")),
            tyre=Key(v.quantity("stiffness", "positive")),
            brake=Key(v.name, of="bodies"),
        ),
        "stop": _keys(
            touches=Key(_LENGTH, required=True),
            rate=Key(v.quantity("stiffness", "positive")),
            table=Key(v.rows("length", "force")),
        ),
        "goals": _keys(
            sag=Key(v.rising("percent", "not negative")),
            frequency=Key(v.rising("frequency", "positive")),
        ),
        "travel": _keys(
            bump=Key(v.number("length", "not negative")),
            droop=Key(v.number("length", "not negative")),
        ),
        "excitation": _keys(
            speed=Key(v.number("speed", "positive")),
            every=Key(v.number("length", "positive")),
            hz=Key(v.rising("frequency", "positive", equal=True)),
        ),
    }
)
"""Keys of each kind of table. Not here because they are tables themselves or depend on another key:
`stop` of a shock, `travel` and `excitation` of the goals, `range` of what is held."""

HELD_RANGE: Mapping[str, Reader] = MappingProxyType(
    {"point": v.rising("length", zero_inside=True), "bodies": v.rising("angle", zero_inside=True)}
)
"""`range` of what is held is a length along the line, or an angle about the hinge."""

TABLES = ("points", "bodies", "bars", "shocks", "springs", "straps", "held", "goals", "wheels")
"""Tables of a file, in the order of the reference."""

MIRRORED = ("points", "bodies", "bars", "springs", "straps", "held", "wheels")
"""Tables whose `-left` names gain a `-right` twin; a kind of shock has no side."""

LATER_TABLES = frozenset(
    ("tape", "loads", "bench", "pile", "parts", "holes", "keepouts", "materials", "cases", "readings")
)
"""Tables that the format has and this version does not read."""

LATER_KEYS: Mapping[str, frozenset[str]] = MappingProxyType(
    {"shocks": frozenset(("bench", "readings", "wire", "coils")), "wheels": frozenset(("drive",))}
)
"""Keys, likewise."""
