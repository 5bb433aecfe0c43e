"""Holes that repeat: one setting of fence or end stop drills them all, with no measuring between."""

from __future__ import annotations

from dataclasses import dataclass

from leverwright.make.parts import SAME_SETTING, Hole, Part

__all__ = ["Setting", "end_stops", "fences"]


@dataclass(frozen=True, slots=True)
class Setting:
    """One setting of the drill press and the holes drilled with it.

    distance  m from the datum edge to the drill's centre (fence), or from the datum end (stop)
    holes     (name of the first part, number of the hole)
    """

    distance: float
    holes: tuple[tuple[str, int], ...]


def fences(parts: tuple[Part, ...]) -> tuple[Setting, ...]:
    """Fence settings over all parts, those with most holes first."""
    return _grouped([(hole.up, part, hole) for part in parts for hole in part.holes])


def end_stops(parts: tuple[Part, ...]) -> tuple[Setting, ...]:
    """End-stop settings over all parts, those with most holes first."""
    return _grouped([(hole.along, part, hole) for part in parts for hole in part.holes])


def _grouped(measured: list[tuple[float, Part, Hole]]) -> tuple[Setting, ...]:
    """Neighbours that stay within one setting of the group's first."""
    groups: list[list[tuple[float, Part, Hole]]] = []
    for one in sorted(measured, key=lambda one: one[0]):
        if groups and one[0] - groups[-1][0][0] <= SAME_SETTING:
            groups[-1].append(one)
        else:
            groups.append([one])
    settings = [
        Setting(
            distance=sum(one[0] for one in group) / len(group),
            holes=tuple((part.names[0], hole.number) for _, part, hole in group),
        )
        for group in groups
    ]
    return tuple(sorted(settings, key=lambda setting: (-len(setting.holes), setting.distance)))
