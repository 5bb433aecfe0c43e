"""What turning an adjustable bar to its ends does to height, ratio, bump travel and dead centre."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from leverwright.geometry import Array
from leverwright.linkage import Geometry, Stop
from leverwright.linkage.kinematics import basis_of
from leverwright.ride.cycle import NEAR, Travels, find_all_travels, sweep_all
from leverwright.ride.figures import Figures, figures_of
from leverwright.ride.sprung import SprungAssembly
from leverwright.ride.standing import stand_all

__all__ = ["Adjuster", "Setting", "Thread", "adjusters_of", "set_bar"]

_POSES = 17  # of a sweep that is only stood on


@dataclass(frozen=True, slots=True)
class Setting:
    """One assembly with a bar set longer (+) or shorter (-) by `change` m; `figures` as everywhere, travels too."""

    change: float
    travels: Travels | None
    figures: Figures


@dataclass(frozen=True, slots=True)
class Thread:
    """A bar that can be turned: `adjust` m from its set-up length, `pitch` m a turn where it is stated."""

    bar: str
    adjust: tuple[float, float]
    pitch: float | None = None


@dataclass(frozen=True, slots=True)
class Adjuster:
    """A bar whose threads allow a range: as it is, at its shortest and at its longest.

    turn  half a turn longer and half a turn shorter than now; None where no pitch is stated
    """

    bar: str
    now: Setting
    shortest: Setting
    longest: Setting
    turn: tuple[Setting, Setting] | None = None

    def per_turn(self, figure: str) -> Array | None:
        """Change (W,) of a figure for one turn longer."""
        if self.turn is None:
            return None
        return self.turn[0].figures.value[figure] - self.turn[1].figures.value[figure]


def set_bar(sprung: SprungAssembly, bar: int, change: float) -> SprungAssembly:
    """The same assembly with one bar longer by `change` m than it is now."""
    assembly = sprung.assembly
    length = assembly.geometry.bar_length.copy()
    length[:, bar] += change
    geometry = Geometry(assembly.geometry.points, length, assembly.geometry.hold)
    return replace(
        sprung, assembly=replace(assembly, geometry=geometry, basis=basis_of(assembly.layout, geometry))
    )


def adjusters_of(
    sprung: SprungAssembly, now: Setting, threads: Sequence[Thread], default: tuple[Stop, Stop]
) -> tuple[Adjuster, ...]:
    """Solve the assembly again at both ends of each bar's thread and half a turn from now, all side by side."""
    changes = [(index, by) for index, thread in enumerate(threads) for by in _changes(sprung, thread)]
    bars = [_bar_index(sprung, thread.bar) for thread in threads]
    changed = [set_bar(sprung, bars[index], by) for index, by in changes]
    if not changed:
        return ()
    travels = find_all_travels(changed, "heave", (None, None), default, NEAR)
    heaves = sweep_all(changed, travels, _POSES)
    stood = stand_all(changed, travels, heaves)
    settings: list[list[Setting]] = [[] for _ in threads]
    for k, (index, by) in enumerate(changes):
        settings[index].append(
            Setting(by, travels[k], figures_of(changed[k], travels[k], heaves[k], stood[k]))
        )
    return tuple(
        Adjuster(thread.bar, now, own[0], own[1], (own[2], own[3]) if thread.pitch is not None else None)
        for thread, own in zip(threads, settings, strict=True)
    )


def _bar_index(sprung: SprungAssembly, bar: str) -> int:
    return [b.name for b in sprung.assembly.layout.mechanism.bars].index(bar)


def _changes(sprung: SprungAssembly, thread: Thread) -> tuple[float, ...]:
    """From the length now [m]: to the shortest, the longest, half a turn longer and shorter."""
    mechanism, index = sprung.assembly.layout.mechanism, _bar_index(sprung, thread.bar)
    ends = mechanism.bars[index].ends
    measured = float(np.linalg.norm(mechanism.points[ends[0]] - mechanism.points[ends[1]]))
    off = float(sprung.assembly.geometry.bar_length[0, index]) - measured
    both = thread.adjust[0] - off, thread.adjust[1] - off
    return both if thread.pitch is None else (*both, 0.5 * thread.pitch, -0.5 * thread.pitch)
