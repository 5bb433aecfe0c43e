"""Springs under load: cycles with forces, standing, rates, frequencies, ±, alignment, tipping."""

from leverwright.ride.adjusters import Adjuster, Setting, Thread, adjusters_of, set_bar
from leverwright.ride.alignment import Alignment, alignment_of
from leverwright.ride.answers import (
    Answer,
    AxleAnswers,
    AxlePart,
    WheelAnswers,
    answer_axles,
    answer_wheels,
    opposite_wheels,
)
from leverwright.ride.back_check import ALLOWED, BackCheck, back_check
from leverwright.ride.cycle import (
    LOOK,
    NEAR,
    Cycle,
    Travels,
    cycle_assembly,
    find_all_travels,
    find_travels,
    pose_cycle,
    sweep_all,
)
from leverwright.ride.figures import FIGURES, Figures, figures_of
from leverwright.ride.frequency import STANDARD_GRAVITY
from leverwright.ride.loose import LooseMotion, loose_motions
from leverwright.ride.places import points_of
from leverwright.ride.sprung import SpringState, SprungAssembly, spring_state
from leverwright.ride.standing import Standing, stand, stand_all
from leverwright.ride.twins import find_twins, mirrored_travels, same_spread
from leverwright.ride.uncertainty import Errors, LawSpread, Spread, Stages, errors_of

__all__ = [
    "ALLOWED",
    "FIGURES",
    "LOOK",
    "NEAR",
    "STANDARD_GRAVITY",
    "Adjuster",
    "Alignment",
    "Answer",
    "AxleAnswers",
    "AxlePart",
    "BackCheck",
    "Cycle",
    "Errors",
    "Figures",
    "LawSpread",
    "LooseMotion",
    "Setting",
    "Spread",
    "SpringState",
    "SprungAssembly",
    "Stages",
    "Standing",
    "Thread",
    "Travels",
    "WheelAnswers",
    "adjusters_of",
    "alignment_of",
    "answer_axles",
    "answer_wheels",
    "back_check",
    "cycle_assembly",
    "errors_of",
    "figures_of",
    "find_all_travels",
    "find_travels",
    "find_twins",
    "loose_motions",
    "mirrored_travels",
    "opposite_wheels",
    "points_of",
    "pose_cycle",
    "same_spread",
    "set_bar",
    "spring_state",
    "stand",
    "stand_all",
    "sweep_all",
]
