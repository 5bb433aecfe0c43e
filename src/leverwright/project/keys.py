"""Every key that a project file may have: how it is read, whether it must be there, what its names lead to."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from leverwright.project import measured_values as m
from leverwright.project import values as v
from leverwright.project.limits import LIMITS
from leverwright.project.values import Reader

__all__ = [
    "HELD_RANGE",
    "INSIDE",
    "KEYS",
    "LATER_KEYS",
    "LATER_TABLES",
    "MIRRORED",
    "MOST",
    "READ",
    "SINGLE",
    "TABLES",
    "TAPE_READS",
    "TOP",
    "Key",
]


@dataclass(frozen=True, slots=True)
class Key:
    """One key of a table.

    read      reads its value
    required  a table without it is refused, unless another table says it (`elsewhere`)
    of        table whose names the value holds, such as "points"
    by_name   the value is a table, its keys names of `of`; `read` reads each value in it
    """

    read: Reader
    required: bool = False
    of: str | None = None
    by_name: bool = False
    elsewhere: bool = False


def _keys(**keys: Key) -> Mapping[str, Key]:
    return MappingProxyType(keys)


_LENGTH = v.quantity("length", "positive")
_ERROR = v.number("length", "not negative")
_MASS = v.quantity("mass", "positive")
_RATE = v.quantity("stiffness", "positive")
_FORCE = v.quantity("force", "not negative")

TOP = _keys(
    leverwright=Key(v.version, required=True),
    title=Key(v.title),
    pose=Key(v.one_of("hanging", "on blocks", "standing")),
    error=Key(_ERROR),
    tape_error=Key(_ERROR),
    plane=Key(v.one_of("xz", "yz")),
    mirror=Key(v.flag),
)
"""Keys above the first table. `pose` may also be a table, `{ standing = NAME }`."""

KEYS: Mapping[str, Mapping[str, Key]] = MappingProxyType(
    {
        "points": _keys(
            at=Key(v.place, required=True, elsewhere=True),
            sketch=Key(m.rough_place),
            error=Key(_ERROR),
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
            rate=Key(_RATE),
            length_open=Key(_LENGTH, required=True, elsewhere=True),
            length_closed=Key(_LENGTH, required=True, elsewhere=True),
            preload=Key(v.quantity("length"), required=True, elsewhere=True),
            gas=Key(_FORCE),
            friction=Key(_FORCE),
            table=Key(v.rows("length", "force", "force")),
            coils_touch=Key(_LENGTH),
            pile=Key(v.name, of="pile"),
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
            rate=Key(_RATE),
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
            load=Key(_MASS, required=True, elsewhere=True),
            unsprung=Key(_MASS),
            tyre=Key(_RATE),
            pressure=Key(v.quantity("pressure", "positive")),
            brake=Key(v.name, of="bodies"),
        ),
        "tyre": _keys(
            loads=Key(m.read_together("mass", "not negative"), required=True),
            heights=Key(m.read_together("length", "positive"), required=True),
        ),
        "stop": _keys(
            touches=Key(_LENGTH, required=True),
            rate=Key(_RATE),
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
        "tape": _keys(
            between=Key(v.pair_of_names, of="points"),
            height=Key(v.name, of="points"),
            offset=Key(v.name, of="points"),
            ahead=Key(v.pair_of_names, of="points"),
            plumb=Key(v.pair_of_names, of="points"),
            level=Key(v.names, of="points"),
            along=Key(v.pair_of_names, of="points"),
            point=Key(v.name, of="points"),
            side=Key(v.name, of="points"),
            of=Key(v.names, of="points"),
            **{"is": Key(v.one_of("above", "below", "left", "right", "ahead", "behind"))},
            error=Key(_ERROR),
        ),
        "masses": _keys(
            mass=Key(_MASS, required=True),
            at=Key(v.place, required=True),
            error=Key(_ERROR),
        ),
        "loads": _keys(
            carries=Key(v.names, of="masses"),
            scale=Key(_MASS, of="wheels", by_name=True),
        ),
        "coupling": _keys(at=Key(v.place, required=True), height=Key(v.quantity("length", "not negative"))),
        "scale": _keys(error=Key(v.number("mass", "not negative")), total=Key(_MASS)),
        "known": _keys(mass=Key(_MASS, required=True), reads=Key(_MASS, required=True)),
        "weighed": _keys(
            wheel=Key(v.name, of="wheels"),
            set=Key(v.name, of="loads"),
            reads=Key(m.readings("mass", "positive"), required=True),
            raised=Key(v.quantity("length")),
        ),
        "plank": _keys(
            load=Key(_LENGTH, required=True),
            scale=Key(_LENGTH, required=True),
            alone=Key(v.quantity("mass", "not negative"), required=True),
        ),
        "tilt": _keys(
            lifted=Key(v.one_of("front", "rear"), required=True),
            by=Key(_LENGTH, required=True),
            level=Key(_MASS, required=True),
            tilted=Key(_MASS, required=True),
            blocked=Key(v.flag),
            set=Key(v.name, of="loads"),
            total=Key(_MASS),
        ),
        "bench": _keys(
            marks=Key(m.marks("not negative")),
            lengths=Key(m.marks("positive", falling=True)),
            **{"in": Key(m.scale_forces(), required=True)},
            out=Key(m.scale_forces(gaps=True)),
            rod=Key(m.scale_force),
            error=Key(m.scale_error),
            mark_error=Key(_ERROR),
        ),
        "returned": _keys(
            by=Key(v.quantity("length", "not negative"), required=True),
            of=Key(_LENGTH, required=True),
            **{"in": Key(v.quantity("time", "positive"), required=True)},
        ),
        "wire": _keys(
            diameter=Key(_LENGTH, required=True),
            outside=Key(_LENGTH),
            mean=Key(_LENGTH),
            active=Key(v.quantity("ratio", "positive"), required=True),
            modulus=Key(v.quantity("modulus", "positive")),
        ),
        "pile": _keys(
            length_open=Key(_LENGTH),
            length_closed=Key(_LENGTH),
            rate=Key(_RATE),
            preload=Key(v.quantity("length")),
            gas=Key(_FORCE),
            friction=Key(_FORCE),
            oil=Key(v.one_of("none", "film", "running")),
            rod=Key(v.one_of("straight", "pitted", "bent")),
        ),
        "photos": _keys(
            picture=Key(m.picture, required=True),
            view=Key(v.one_of("side", "front"), required=True),
            depth=Key(v.number("length"), required=True),
            corners=Key(m.corners, required=True),
            rectangle=Key(m.width_and_height, required=True),
            camera=Key(v.number("length", "positive")),
            lens=Key(m.lens),
            error=Key(m.pick_error),
            size=Key(m.picture_size),
            second_corners=Key(m.corners),
            second_rectangle=Key(m.width_and_height),
            straight=Key(m.straight_edges),
            picks=Key(m.pixel, of="points", by_name=True),
        ),
        "travels": _keys(
            wheel=Key(v.name, required=True, of="wheels"),
            spring=Key(v.name, required=True, of="springs"),
            wheel_moved=Key(m.steps(rising=True), required=True),
            spring_moved=Key(m.steps(), required=True),
        ),
    }
)
"""Keys of each kind of table. Not here because they are tables themselves or depend on another key:
those of `INSIDE`, `range` of what is held, `reads` of a tape. `tyre` of a wheel is a number, or a table of `READ`."""

INSIDE = (
    ("shocks", "stop"),
    ("shocks", "wire"),
    ("goals", "travel"),
    ("goals", "excitation"),
    ("scale", "known"),
    ("weighed", "plank"),
    ("bench", "plank"),
    ("bench", "returned"),
    ("pile", "wire"),
)
"""Tables inside a thing: its table and the key, which is the kind of the table inside too."""

READ = (("wheels", "tyre"),)
"""Keys whose value is either one number, or a table of what it is read from; of that kind as in `INSIDE`."""

HELD_RANGE: Mapping[str, Reader] = MappingProxyType(
    {"point": v.rising("length", zero_inside=True), "bodies": v.rising("angle", zero_inside=True)}
)
"""`range` of what is held is a length along the line, or an angle about the hinge."""

TAPE_READS: Mapping[str, Reader] = MappingProxyType(
    {
        "between": m.readings("length", "positive"),
        "height": m.readings("length", "not negative"),
        "offset": m.readings("length"),
        "ahead": m.readings("length"),
        "along": m.readings("length"),
    }
)
"""`reads` of each kind of tape that has a reading: a distance is over 0, and nothing is below the floor."""

TABLES = (
    *("points", "bodies", "bars", "shocks", "springs", "straps", "held", "goals", "wheels"),
    *(
        "tape",
        "masses",
        "loads",
        "coupling",
        "scale",
        "weighed",
        "tilt",
        "bench",
        "pile",
        "photos",
        "travels",
    ),
)
"""Tables of a file, in the order of the reference."""

SINGLE = ("goals", "coupling", "scale", "tilt")
"""Tables that are one thing, without a name; they are kept under the name ""."""

MOST: Mapping[str, tuple[int, str]] = MappingProxyType(
    {
        "tape": (LIMITS.tapes, "tapes"),
        "masses": (LIMITS.masses, "masses"),
        "loads": (LIMITS.load_sets, "load sets"),
        "weighed": (LIMITS.weighings, "weighings"),
        "bench": (LIMITS.benches, "shocks on the bench"),
        "pile": (LIMITS.pile, "shocks in the pile"),
        "photos": (LIMITS.photos, "photographs"),
        "travels": (LIMITS.travels, "travels"),
    }
)
"""How many things a table may hold, and their word; others hold `LIMITS.things` of their own name."""

MIRRORED = ("points", "bodies", "bars", "springs", "straps", "held", "wheels")
"""Tables whose `-left` names gain a `-right` twin; a kind of shock has no side."""

LATER_TABLES = frozenset(("parts", "holes", "keepouts", "materials", "cases", "readings"))
"""Tables that the format has and this version does not read."""

LATER_KEYS: Mapping[str, frozenset[str]] = MappingProxyType({"wheels": frozenset(("drive",))})
"""Keys, likewise."""
