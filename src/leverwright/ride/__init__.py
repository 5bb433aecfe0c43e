"""Springs under load: cycles with forces, standing, rates, frequencies, alignment, tipping."""

from leverwright.ride.alignment import Alignment, alignment_of
from leverwright.ride.cycle import LOOK, Cycle, Travels, cycle_assembly, find_travels, pose_cycle
from leverwright.ride.figures import FIGURES, Figures, figures_of
from leverwright.ride.sprung import SpringState, SprungAssembly, spring_state
from leverwright.ride.standing import Standing, stand

__all__ = [
    "FIGURES", "LOOK", "Alignment", "Cycle", "Figures", "SpringState", "SprungAssembly", "Standing", "Travels",
    "alignment_of", "cycle_assembly", "figures_of", "find_travels", "pose_cycle", "spring_state", "stand",
]  # fmt: skip
