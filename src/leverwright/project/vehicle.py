"""A whole project: a vehicle, the text that it was read from, and what reading noticed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from leverwright.project.fault import Fault
from leverwright.project.model import (
    Bar,
    Body,
    Goals,
    Held,
    Point,
    Shock,
    Spring,
    Strap,
    Wheel,
)

__all__ = ["Project"]


@dataclass(frozen=True, slots=True)
class Project:
    """One vehicle as its file describes it, in SI units; every name in it leads somewhere.

    name           of the file, for messages
    text           TOML source
    pose           "hanging", "on blocks", "standing" or None
    pose_load_set  the load set that it stands under, when stated
    error          m, standard deviation of a coordinate that states none; None when absent
    plane          "xz", "yz" or None
    notices        what reading itself wants looked at; never a refusal
    """

    name: str
    text: str
    title: str
    pose: str | None
    pose_load_set: str | None
    error: float | None
    plane: str | None
    mirror: bool
    points: Mapping[str, Point]
    bodies: Mapping[str, Body]
    bars: Mapping[str, Bar]
    shocks: Mapping[str, Shock]
    springs: Mapping[str, Spring]
    straps: Mapping[str, Strap]
    held: Mapping[str, Held]
    wheels: Mapping[str, Wheel]
    goals: Goals
    notices: tuple[Fault, ...]
