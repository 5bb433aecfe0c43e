"""The stages of a study side by side, one row an assembly, for findings to walk over."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from leverwright.ride import Cycle, Errors, Figures, SprungAssembly, Standing, Travels
from leverwright.ride.figures import ON_DEAD_CENTRE, RATIO
from leverwright.study import Study

__all__ = ["Row", "rows", "together"]


@dataclass(frozen=True, slots=True)
class Row:
    """One assembly with everything computed of it."""

    sprung: SprungAssembly
    travels: Travels | None
    heave: Cycle
    standing: Standing
    figures: Figures
    errors: Errors | None

    @property
    def wheels(self) -> tuple[str, ...]:
        """Names of its wheels."""
        return self.sprung.assembly.layout.wheel_names

    @property
    def on_dead_centre(self) -> bool:
        """Does it stand just where ratio and rate have no bound? Then what follows from them is no figure to tell."""
        return self.figures.because.get(RATIO) == ON_DEAD_CENTRE


def rows(study: Study) -> Iterator[Row]:
    """Every assembly in turn."""
    stages = zip(
        study.assemblies, study.travels, study.heave, study.standing, study.figures, study.errors, strict=True
    )
    for stage in stages:
        yield Row(*stage)


def together(
    found: list[tuple[tuple[str, ...], float]], share: float = 0.02
) -> list[tuple[tuple[str, ...], float]]:
    """Wheels with a trouble of about the same size told once: (wheels, number), the least number first."""
    merged: list[tuple[tuple[str, ...], float]] = []
    for wheels, number in sorted(found, key=lambda row: row[1]):
        for index, (known, size) in enumerate(merged):
            if abs(number - size) <= share * max(abs(size), abs(number), 1e-12):
                merged[index] = (tuple(dict.fromkeys((*known, *wheels))), size)
                break
        else:
            merged.append((wheels, number))
    return merged
