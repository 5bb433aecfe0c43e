"""What the chassis stands on, whatever it carries: mechanism, assemblies, their travels and sweeps."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from leverwright.assemble.mechanism import mechanism_of
from leverwright.assemble.vehicle import sprung_assemblies, twin_names
from leverwright.linkage import Mechanism, Stop, same_shape
from leverwright.project import Goals, Project
from leverwright.ride import (
    Cycle,
    SprungAssembly,
    Travels,
    cycle_assembly,
    find_all_travels,
    find_travels,
    find_twins,
    mirrored_travels,
)

__all__ = ["POSES", "Footing", "default_ends", "footing_of", "footings_of", "ways_of"]

POSES = 41
_NO_LIMIT = 0.05  # m each way where neither a shock nor a goal says how far


@dataclass(frozen=True, slots=True)
class Footing:
    """The assemblies of a vehicle with their ways; nothing in it but `assemblies` knows of a load."""

    mechanism: Mechanism
    assemblies: tuple[SprungAssembly, ...]
    travels: tuple[Travels | None, ...]
    heave: tuple[Cycle, ...]

    def under(self, assemblies: Sequence[SprungAssembly]) -> Footing:
        """The same ways with the loads of these assemblies."""
        pairs = zip(self.heave, assemblies, strict=True)
        heave = tuple(replace(cycle, sprung=sprung) for cycle, sprung in pairs)
        return replace(self, assemblies=tuple(assemblies), heave=heave)


def default_ends(goals: Goals) -> tuple[Stop, Stop]:
    """Ends of travel (droop, bump) where no shock says: the goal's, else 50 mm each way, by nobody."""
    droop = (
        Stop(-_NO_LIMIT, "asked") if goals.travel_droop is None else Stop(-goals.travel_droop, "asked", _GOAL)
    )
    bump = Stop(_NO_LIMIT, "asked") if goals.travel_bump is None else Stop(goals.travel_bump, "asked", _GOAL)
    return droop, bump


_GOAL = "goals.travel"


def footings_of(projects: Sequence[Project], hold: Mapping[str, float] | None = None) -> tuple[Footing, ...]:
    """The footing of each project; assemblies that differ in numbers alone are walked and cycled side by side."""
    mechanisms = [mechanism_of(project) for project in projects]
    found = [sprung_assemblies(project, hold, m) for project, m in zip(projects, mechanisms, strict=True)]
    names = [twin_names(project) for project in projects]
    twins = [find_twins(assemblies, each) for assemblies, each in zip(found, names, strict=True)]
    ends = [default_ends(project.goals) for project in projects]
    mine = [(p, k) for p, each in enumerate(twins) for k, twin in enumerate(each) if twin is None]
    ways: dict[tuple[int, int], Travels | None] = {}
    for group in _alike(mine, found, ends):
        settings = [found[p][k] for p, k in group]
        ways |= zip(group, find_all_travels(settings, "heave", (None, None), ends[group[0][0]]), strict=True)
    out = []
    for p, (mechanism, assemblies) in enumerate(zip(mechanisms, found, strict=True)):
        travels: list[Travels | None] = []
        for k, twin in enumerate(twins[p]):
            own = ways[p, k] if twin is None else mirrored_travels(travels[twin], assemblies[k], names[p])
            travels.append(own)
        pairs = zip(assemblies, travels, strict=True)
        heave = tuple(cycle_assembly(sprung, "heave", way, POSES) for sprung, way in pairs)
        out.append(Footing(mechanism, assemblies, tuple(travels), heave))
    return tuple(out)


def _alike(
    rows: Sequence[tuple[int, int]],
    found: Sequence[Sequence[SprungAssembly]],
    ends: Sequence[tuple[Stop, Stop]],
) -> list[list[tuple[int, int]]]:
    """Rows (project, assembly) sorted into groups of one shape with the same limits and ends."""
    groups: list[list[tuple[int, int]]] = []
    for p, k in rows:
        for group in groups:
            q, m = group[0]
            one, two = found[q][m], found[p][k]
            limits = [[(x.line, x.longest, x.why) for x in a.limits] for a in (one, two)]
            if limits[0] == limits[1] and ends[p] == ends[q] and same_shape(one.assembly, two.assembly):
                group.append((p, k))
                break
        else:
            groups.append([(p, k)])
    return groups


def footing_of(project: Project) -> Footing:
    """Everything found anew, twins by their mirror."""
    mechanism = mechanism_of(project)
    assemblies = sprung_assemblies(project, None, mechanism)
    names, ends = twin_names(project), default_ends(project.goals)
    travels = ways_of(assemblies, find_twins(assemblies, names), names, ends)
    pairs = zip(assemblies, travels, strict=True)
    heave = tuple(cycle_assembly(sprung, "heave", way, POSES) for sprung, way in pairs)
    return Footing(mechanism, assemblies, travels, heave)


def ways_of(
    assemblies: Sequence[SprungAssembly],
    twins: Sequence[int | None],
    names: Mapping[str, str],
    ends: tuple[Stop, Stop],
) -> tuple[Travels | None, ...]:
    """The way of each assembly in heave; a twin's is its original's, mirrored by the `names` of its parts."""
    travels: list[Travels | None] = []
    for sprung, twin in zip(assemblies, twins, strict=True):
        if twin is None:
            travels.append(find_travels(sprung, "heave", (None, None), ends))
        else:
            travels.append(mirrored_travels(travels[twin], sprung, names))
    return tuple(travels)
