"""What turning an adjustable bar to its ends does to height, ratio, bump travel and dead centre."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from leverwright.geometry import Array
from leverwright.linkage import Geometry, Stop
from leverwright.linkage.kinematics import basis_of
from leverwright.ride.cycle import NEAR, Travels, cycle_assembly, find_travels
from leverwright.ride.figures import Figures, figures_of
from leverwright.ride.sprung import SprungAssembly
from leverwright.ride.standing import stand

__all__ = ["Adjuster", "Setting", "adjuster_of", "per_turn", "set_bar"]


@dataclass(frozen=True, slots=True)
class Setting:
    """One assembly with a bar set longer (+) or shorter (-) by `change` m; `figures` as everywhere, travels too."""

    change: float
    travels: Travels | None
    figures: Figures


@dataclass(frozen=True, slots=True)
class Adjuster:
    """A bar whose threads allow a range: as it is, at its shortest and at its longest."""

    bar: str
    now: Setting
    shortest: Setting
    longest: Setting


def set_bar(sprung: SprungAssembly, bar: int, change: float) -> SprungAssembly:
    """The same assembly with one bar longer by `change` m than it is now."""
    assembly = sprung.assembly
    length = assembly.geometry.bar_length.copy()
    length[:, bar] += change
    geometry = Geometry(assembly.geometry.points, length, assembly.geometry.hold)
    return replace(
        sprung, assembly=replace(assembly, geometry=geometry, basis=basis_of(assembly.layout, geometry))
    )


def _setting(sprung: SprungAssembly, bar: int, change: float, default: tuple[Stop, Stop]) -> Setting:
    changed = set_bar(sprung, bar, change)
    travels = find_travels(changed, "heave", (None, None), default, NEAR)
    heave = cycle_assembly(changed, "heave", travels, 17)
    return Setting(change, travels, figures_of(changed, travels, heave, stand(changed, travels, heave)))


def _bar_index(sprung: SprungAssembly, bar: str) -> int:
    return [b.name for b in sprung.assembly.layout.mechanism.bars].index(bar)


def adjuster_of(
    sprung: SprungAssembly, now: Setting, bar: str, adjust: tuple[float, float], default: tuple[Stop, Stop]
) -> Adjuster:
    """Solve the assembly again at both ends of a bar's thread; `adjust` m from the set-up length."""
    index = _bar_index(sprung, bar)
    mechanism = sprung.assembly.layout.mechanism
    ends = mechanism.bars[index].ends
    measured = float(np.linalg.norm(mechanism.points[ends[0]] - mechanism.points[ends[1]]))
    off = float(sprung.assembly.geometry.bar_length[0, index]) - measured
    short, long = (_setting(sprung, index, change - off, default) for change in adjust)
    return Adjuster(bar, now, short, long)


def per_turn(sprung: SprungAssembly, bar: str, pitch: float, default: tuple[Stop, Stop]) -> dict[str, Array]:
    """Change of each figure (W,), and of "heave_ratio" (S,), for one turn longer at a thread of `pitch` m."""
    index = _bar_index(sprung, bar)
    up, down = (_setting(sprung, index, sign * 0.5 * pitch, default) for sign in (1.0, -1.0))
    change = {name: up.figures.value[name] - down.figures.value[name] for name in up.figures.value}
    return change | {"heave_ratio": up.figures.heave - down.figures.heave}
