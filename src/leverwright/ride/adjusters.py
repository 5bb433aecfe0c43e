"""What turning an adjustable bar to its ends does to height, ratio, bump travel and dead centre."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from leverwright.geometry import Array
from leverwright.linkage import Geometry
from leverwright.linkage.kinematics import basis_of
from leverwright.ride.cycle import Travels, cycle_assembly, find_travels
from leverwright.ride.figures import Figures, figures_of
from leverwright.ride.sprung import SprungAssembly
from leverwright.ride.standing import stand

__all__ = ["Adjuster", "Setting", "adjuster_of", "set_bar"]


@dataclass(frozen=True, slots=True)
class Setting:
    """One assembly with a bar set longer (+) or shorter (-) by `change` m; `figures` as everywhere, travels too."""

    change: float
    travels: Travels | None
    figures: Figures
    least_angle: float  # rad from line of any driven lever over the whole travel; NaN where none is driven


@dataclass(frozen=True, slots=True)
class Adjuster:
    """A bar whose threads allow a range: as it is, at its shortest and at its longest; `pitch` m a turn or None.

    per_turn  change of each figure for one turn longer, by name, (W,); empty without a pitch
    """

    bar: str
    now: Setting
    shortest: Setting
    longest: Setting
    pitch: float | None
    per_turn: dict[str, Array]


def set_bar(sprung: SprungAssembly, bar: int, change: float) -> SprungAssembly:
    """The same assembly with one bar longer by `change` m than it is now."""
    assembly = sprung.assembly
    length = assembly.geometry.bar_length.copy()
    length[:, bar] += change
    geometry = Geometry(assembly.geometry.points, length, assembly.geometry.hold)
    return replace(sprung, assembly=replace(assembly, geometry=geometry, basis=basis_of(assembly.layout, geometry)))


def _setting(sprung: SprungAssembly, bar: int, change: float, default: tuple[float, float]) -> Setting:
    changed = set_bar(sprung, bar, change)
    travels = find_travels(changed, "heave", (None, None), default)
    heave = cycle_assembly(changed, "heave", travels, 17)
    figures = figures_of(changed, travels, heave, stand(changed, travels, heave))
    least = figures.value["transmission_angle_least"]
    return Setting(change, travels, figures, float(least[0]) if len(least) else np.nan)


def adjuster_of(
    sprung: SprungAssembly, bar: str, adjust: tuple[float, float], pitch: float | None, default: tuple[float, float]
) -> Adjuster:
    """Solve the assembly again at both ends of a bar's thread; `adjust` m from the set-up length."""
    mechanism = sprung.assembly.layout.mechanism
    index = [b.name for b in mechanism.bars].index(bar)
    ends = mechanism.bars[index].ends
    measured = float(np.linalg.norm(mechanism.points[ends[0]] - mechanism.points[ends[1]]))
    off = float(sprung.assembly.geometry.bar_length[0, index]) - measured
    now, short, long = (_setting(sprung, index, change, default) for change in (0.0, adjust[0] - off, adjust[1] - off))
    per_turn: dict[str, Array] = {}
    if pitch is not None:
        up, down = (_setting(sprung, index, sign * 0.5 * pitch, default) for sign in (1.0, -1.0))
        per_turn = {name: up.figures.value[name] - down.figures.value[name] for name in now.figures.value}
        per_turn["heave_ratio"] = up.figures.heave - down.figures.heave
    return Adjuster(bar, now, short, long, pitch, per_turn)
