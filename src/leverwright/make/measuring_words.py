"""What the measuring cards say: steps of each task, and how people get hurt at it."""

from __future__ import annotations

__all__ = [
    "PLANK_STEPS",
    "RIDE_CAUTIONS",
    "RIDE_STEPS",
    "SCALE_CAUTIONS",
    "SCALE_STEPS",
    "SQUASH_CAUTIONS",
    "SQUASH_STEPS",
    "TAPE_CAUTIONS",
    "TAPE_STEPS",
    "TILT_STEPS",
]

SCALE_STEPS = (
    "Tyres at their pressure, brakes off, rider seated still.",
    "One wheel on the scale, every other wheel on a block as high as the scale, to 2 mm.",
    "Bounce it once, let it settle, read. Roll off and on again for the second and third reading.",
    "No blocks? Write how much higher the wheel on the scale stood: diagonals are then not believed.",
)
PLANK_STEPS = (
    "Plank on a round bar, its end on the scale: read the plank alone, then with the wheel on it.",
    "The wheel weighs (reading - plank alone) x bar to scale / bar to wheel. The far side stands on blocks.",
)
TILT_STEPS = (
    "Block the springs solid with wood; cans of water strapped in the seat instead of the rider.",
    "Read the far end level; lift one end by more than a tenth of the wheelbase, the higher the better; read again.",
)
SCALE_CAUTIONS = (
    "It can roll off scale, block or plank: chock the wheels that stand, lift one wheel at a time.",
    "Nobody on it or under it while an end is lifted; stands under the frame, never a jack alone.",
)
RIDE_STEPS = (
    "Weigh each thing that rides: the rider on the bathroom scale, cargo in parts.",
    (
        "Its centre: a rider's is near the navel, a box's in its middle. Measure ahead, left and up from where "
        "all points are measured from."
    ),
    "Tick what rides together. Passenger, cargo and all at once is the case that nobody weighs.",
)
RIDE_CAUTIONS = (
    (
        "What tips a vehicle is how high its load sits: figures are arithmetic, never a permission. Try new "
        "loads at walking pace, and ask a qualified person before others ride."
    ),
)
SQUASH_STEPS = (
    "Upright, five full strokes first: one that lay down feels dead.",
    "Stand it on the scale in a pipe that guides it; press it with a plank hinged to the wall.",
    "Read at each mark going in, wait ten seconds at the last, then read at the same marks coming out.",
    "Mean of in and out is the spring, half their difference is friction.",
)
SQUASH_CAUTIONS = (
    (
        "40 mm at 18 N/mm is 14 J, 80 mm at 40 N/mm is 128 J: enough to break a hand. Guide tube, face out of its "
        "line, never held by hand; glasses on."
    ),
    "Gas shocks: never open, cut, heat, drill or weld. A coil comes off only with a compressor, in qualified hands.",
    "Skips, grunts, sticks, oil that runs, a bent or pitted rod: do not use it.",
)
TAPE_STEPS = (
    "Blocked up as it shall stand, wood between axle and frame, spring out. Write the wood's length down.",
    "Four witness dots on the frame, punched; tape all six distances between them.",
    "Four tapes to each hole: three place it, the fourth catches a slip. Best where they meet at 30 to 150 degrees.",
    "Start at the tape's 100 mm mark (its hook is loose) and take 100 off. Pull straight, read square.",
    "Floors are not flat: heights from a level line or a water hose.",
)
TAPE_CAUTIONS = (
    "Stands under it, wheels chocked, nobody under it. A steel tape whips back and its edge cuts.",
    "Measure both sides: what mirrors on paper often does not in steel.",
)
