"""What a trailer puts on the vehicle that tows it. All SI."""

from __future__ import annotations

from dataclasses import dataclass

from leverwright.geometry import Array

__all__ = ["CouplingShare", "coupling_share", "place_for_share"]


@dataclass(frozen=True, slots=True)
class CouplingShare:
    """Load on the coupling [kg] and its share of the whole, level as drawn and pitched as it stands."""

    level: float
    pitched: float
    total: float

    @property
    def level_share(self) -> float:
        """Share of the weight when the trailer is level."""
        return self.level / self.total

    @property
    def pitched_share(self) -> float:
        """Share of the weight as it stands on its springs."""
        return self.pitched / self.total


def coupling_share(
    total: float, centre: float, axle: float, coupling: float, pitched: float
) -> CouplingShare:
    """Shares from the places along the trailer [m]: of the centre of gravity, the axle, the coupling.

    pitched  kg on the coupling as it stands, from the chassis' equilibrium
    """
    return CouplingShare(total * (centre - axle) / (coupling - axle), pitched, total)


def place_for_share(
    wanted: float, masses: tuple[Array, Array], moved: int, ends: tuple[float, float]
) -> float:
    """Where along the trailer [m] mass number `moved` must lie for a share `wanted` on the coupling, level.

    masses  (K,) kg and their places (K,) m; ends: axle and coupling, m
    """
    mass, at = masses
    axle, coupling = ends
    moment = wanted * float(mass.sum()) * (coupling - axle)  # about the axle
    others = float(mass @ (at - axle)) - float(mass[moved]) * (float(at[moved]) - axle)
    return axle + (moment - others) / float(mass[moved])
