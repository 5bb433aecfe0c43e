"""Project → Measured: what the file's measurements say, taken up into the places, springs and loads of the vehicle."""

from __future__ import annotations

from dataclasses import dataclass

from leverwright.assemble.blocks import Block
from leverwright.project import Project

__all__ = ["Measured", "measured_of"]


@dataclass(frozen=True, slots=True)
class Measured:
    """The vehicle with every measurement taken up.

    project  the file's vehicle with places solved, shocks and wheel loads filled, each with its ±; its measuring
             tables are empty, so that a study of it measures nothing twice. The very file where it measures nothing.
    blocks   what errs together; every other number is independent and has its own ±
    """

    project: Project
    blocks: tuple[Block, ...] = ()


def measured_of(file: Project) -> Measured:
    """Every measurement of a file taken up; a file without any is its own vehicle, to the last bit."""
    return Measured(file)
