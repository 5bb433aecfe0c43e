"""Kinds of vehicle → their document."""

from __future__ import annotations

from collections.abc import Iterable

from leverwright.project.archetypes import Archetype
from leverwright.quantity import SURFACE_UNIT
from leverwright.wire.archetypes import ArchetypeList, ShownArchetype, ShownMeasurement

__all__ = ["archetype_list"]


def archetype_list(kinds: Iterable[Archetype]) -> ArchetypeList:
    """Each kind with what it asks for."""
    return ArchetypeList(archetypes=[_shown(kind) for kind in kinds])


def _shown(kind: Archetype) -> ShownArchetype:
    asked = [
        ShownMeasurement(m.key, m.label, m.kind, SURFACE_UNIT[m.kind], m.default, m.help, None)
        for m in kind.measurements
    ]
    return ShownArchetype(kind.id, kind.title, kind.sentence, asked)
