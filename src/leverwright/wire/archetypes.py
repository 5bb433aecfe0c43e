"""Vehicles to start from, each by a handful of measurements."""

from __future__ import annotations

from leverwright.wire.strict import Document, Wire

__all__ = ["ArchetypeList", "ArchetypeRequest", "ArchetypeText", "ShownArchetype", "ShownMeasurement"]


class ShownMeasurement(Wire, frozen=True):
    """One measurement; `default` is text such as `312 mm`; `shows` the two points it lies between."""

    key: str
    label: str
    kind: str
    unit: str
    default: str
    help: str
    shows: tuple[str, str] | None


class ShownArchetype(Wire, frozen=True):
    """One kind of vehicle."""

    id: str
    title: str
    sentence: str
    measurements: list[ShownMeasurement]


class ArchetypeList(Document, frozen=True, kw_only=True):
    """All kinds."""

    archetypes: list[ShownArchetype]


class ArchetypeRequest(Wire, frozen=True):
    """A kind with its measurements as typed."""

    id: str
    measurements: dict[str, str]


class ArchetypeText(Document, frozen=True, kw_only=True):
    """The project file made of them."""

    text: str
