"""A cycle as tables of a terminal: a row a pose, the figures in the units that were asked for."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from msgspec import UnsetType

from leverwright.cli.terminal import Terminal
from leverwright.quantity import Kind, System, fixed, from_surface, in_inches, say_travel, shown_unit
from leverwright.wire.cycle import (
    CycleAssembly,
    CycleDocument,
    CycleSpring,
    CycleStop,
    CycleWheel,
    Loose,
    Tight,
)

__all__ = ["is_asked", "show_cycle"]

_UNSAID = "-"
_AS_GIVEN = "Figures of the numbers as they stand in the file; check says how sure they are."
_GAP = 2
_STILL = 1e-6  # mm over the whole cycle; a wheel that is held moves by rounding only
_DECIMALS: dict[Kind, int] = {
    "length": 1,
    "ratio": 3,
    "force": 0,
    "stiffness": 2,
    "angle": 2,
    "moment": 1,
}


@dataclass(frozen=True, slots=True)
class _Column:
    """A heading with its unit, and a cell for each pose."""

    what: str
    cells: tuple[str, ...]

    @property
    def width(self) -> int:
        return _GAP + max(map(len, (self.what, *self.cells)))


@dataclass(frozen=True, slots=True)
class _Group:
    """The columns of one spring or wheel, which stay together under its name."""

    name: str
    columns: tuple[_Column, ...]

    @property
    def width(self) -> int:
        return max(_GAP + len(self.name), sum(column.width for column in self.columns))

    @property
    def key(self) -> tuple[tuple[str, tuple[str, ...]], ...]:
        """What it says, its name left out."""
        return tuple((column.what, column.cells) for column in self.columns)


def is_asked(assembly: CycleAssembly, mode: str) -> bool:
    """Does the motion speak of its wheels: is there one off the chassis, and where a single one moves, that one?"""
    if any(tight.bodies == ["chassis"] for tight in assembly.bind):
        return False
    return bool(assembly.wheels) and (mode in ("heave", "roll") or mode in assembly.wheels)


def show_cycle(out: Terminal, document: CycleDocument, system: System, mode: str) -> None:
    """Each assembly: where it stops and why, what is loose or tight, and its poses."""
    for sentence in document.left_out or ():
        out.line(in_inches(sentence) if system == "inch" else sentence)
        out.line()
    for assembly in document.assemblies:
        _show_assembly(out, assembly, system, asked=is_asked(assembly, mode))


def _show_assembly(out: Terminal, assembly: CycleAssembly, system: System, *, asked: bool) -> None:
    wheels = ", ".join(assembly.wheels) or "no wheel"
    freedoms = "1 way to move" if assembly.freedoms == 1 else f"{assembly.freedoms} ways to move"
    out.line(f"{wheels}: {freedoms}", "title")
    motions: list[Loose | Tight] = [*assembly.play, *assembly.bind]
    for motion in motions:
        out.line(in_inches(motion.sentence) if system == "inch" else motion.sentence, "fix", indent=2)
    bump, droop = assembly.stops.bump, assembly.stops.droop
    if bump is None or droop is None:
        if asked:
            out.line("It cannot be moved through this motion.", "stop", indent=2)
    else:
        out.line(f"Down to {_stop(droop, system)}; up to {_stop(bump, system)}.", indent=2)
        _show_groups(out, _groups(assembly, system))
        out.line(
            "Figures of the numbers as they stand in the file; check says how sure they are.",
            "faint",
            indent=2,
        )
    out.line()


def _stop(stop: CycleStop, system: System) -> str:
    travel = say_travel(from_surface(stop.travel_mm, "length"), system=system)
    return f"{travel}: {'as asked' if stop.why == 'asked' else stop.why}"


def _groups(assembly: CycleAssembly, system: System) -> list[_Group]:
    """Travel, then each spring, then each wheel."""
    poses = assembly.poses
    ways = _ways(assembly)
    return [
        *(
            _group(name, system, ("travel", "length", [pose.travel_mm[name] for pose in poses]))
            for name in assembly.wheels
        ),
        *(_spring(name, [pose.springs[name] for pose in poses], ways, system) for name in poses[0].springs),
        *(_wheel(name, [pose.wheels[name] for pose in poses], system) for name in poses[0].wheels),
    ]


_Figures = tuple[str, Kind, Sequence[float | UnsetType | None]]
"""What, its kind, and its values pose by pose in the file's unit."""


def _spring(name: str, springs: Sequence[CycleSpring], ways: Mapping[str, int], system: System) -> _Group:
    if springs[0].length_mm is None:
        return _group(
            name,
            system,
            ("twist", "angle", [spring.twist_deg for spring in springs]),
            ("moment", "moment", [spring.moment_n_m for spring in springs]),
        )
    return _group(
        name,
        system,
        ("ratio", "ratio", [_ratio(spring.ratio, ways) for spring in springs]),
        ("long", "length", [spring.length_mm for spring in springs]),
        ("push", "force", [spring.force_n for spring in springs]),
    )


def _wheel(name: str, wheels: Sequence[CycleWheel], system: System) -> _Group:
    figures: list[_Figures] = [
        ("rate", "stiffness", [wheel.rate_n_per_mm for wheel in wheels]),
        ("force", "force", [wheel.force_n for wheel in wheels]),
    ]
    if wheels[0].camber_deg is not None:
        figures.append(("camber", "angle", [wheel.camber_deg for wheel in wheels]))
        figures.append(("toe", "angle", [wheel.toe_deg for wheel in wheels]))
    return _group(name, system, *figures)


def _group(name: str, system: System, *figures: _Figures) -> _Group:
    return _Group(name, tuple(_column(what, kind, values, system) for what, kind, values in figures))


def _ways(assembly: CycleAssembly) -> dict[str, int]:
    """Which way each wheel goes when the first that moves goes up: 1, -1, or 0 for one that stays."""
    first, last = assembly.poses[0].travel_mm, assembly.poses[-1].travel_mm
    went = {name: last[name] - first[name] for name in assembly.wheels}
    lead = next((step for step in went.values() if abs(step) > _STILL), None)
    if lead is None:  # a range of one place
        return dict.fromkeys(went, 1)
    return {name: 0 if abs(step) <= _STILL else 1 if step * lead > 0 else -1 for name, step in went.items()}


def _ratio(ratios: Mapping[str, float | None], ways: Mapping[str, int]) -> float | None:
    """Spring compression for each millimetre of the first wheel: the sum over the wheels that go along."""
    known = [ways[name] * ratio for name, ratio in ratios.items() if ratio is not None]
    return sum(known) if known else None


def _column(what: str, kind: Kind, values: Sequence[float | UnsetType | None], system: System) -> _Column:
    """Values in the file's unit, in the unit that was asked for."""
    unit = shown_unit(kind, system)
    decimals = _DECIMALS[kind] + (2 if unit.symbol == "in" else 0)
    cells = tuple(
        fixed(unit.from_si(from_surface(value, kind)), decimals) if isinstance(value, float) else _UNSAID
        for value in values
    )
    return _Column(f"{what} {unit.symbol}".rstrip(), cells)


def _show_groups(out: Terminal, groups: list[_Group]) -> None:
    """Tables side by side as far as the width goes, the travel first in each; what reads alike stands once."""
    shown: dict[object, tuple[_Group, list[str]]] = {}
    for group in groups:
        shown.setdefault(group.key, (group, []))[1].append(group.name)
    (travel, _), *others = shown.values()
    side_by_side = [travel]
    for group, _ in others:
        if len(side_by_side) > 1 and sum(each.width for each in (*side_by_side, group)) > out.width:
            _show_table(out, side_by_side)
            side_by_side = [travel]
        side_by_side.append(group)
    _show_table(out, side_by_side)
    for group, names in shown.values():
        if len(names) > 1:
            what = ", ".join(column.what for column in group.columns)
            out.line(f"{', '.join(names[1:])}: {what} as {names[0]}.", "faint", indent=_GAP)


def _show_table(out: Terminal, groups: Sequence[_Group]) -> None:
    out.line()
    names = "".join(f"{'':{_GAP}}{group.name}".ljust(group.width) for group in groups)
    out.row(names.rstrip(), "title")
    columns = [column for group in groups for column in group.columns]
    out.row(_row(groups, [column.what for column in columns]), "title")
    for cells in zip(*(column.cells for column in columns), strict=True):
        out.row(_row(groups, cells))


def _row(groups: Sequence[_Group], cells: Sequence[str]) -> str:
    """Each cell to the right of its column; a group that is narrower than its name is filled up."""
    left = iter(cells)
    return "".join(
        "".join(f"{next(left):>{column.width}}" for column in group.columns).ljust(group.width)
        for group in groups
    ).rstrip()
