"""What every sheet says: what was not checked, and how people get hurt at this work."""

from __future__ import annotations

__all__ = ["CAUTIONS", "NOT_CHECKED", "SHORT_CAUTIONS"]

NOT_CHECKED = "Strength, clearance and welds are NOT checked by this version. A margin is never permission."

# On every sheet, below the drawing.
SHORT_CAUTIONS = (
    "Clamp the work before drilling; glasses on, gloves and sleeves away from the drill. Grind off zinc and paint "
    "before heat: their fumes are poisonous. A compressed spring breaks hands: let it out, in a guide, before a bolt "
    "comes out. Never cut, heat, weld or open a gas shock. Local rules come first; ask a qualified person."
)

# In full, on the cards.
CAUTIONS = (
    (
        "Drilling: clamp the work, never hold it by hand. Glasses on; gloves, sleeves and hair away from the drill. "
        "A drill grabs as it breaks through: ease off there."
    ),
    (
        "Grinding and cutting: glasses and face shield, guard in place. Sparks light fires. Zinc, plating and paint "
        "give poisonous fumes: take them off before grinding or welding, and air the room."
    ),
    (
        "Springs: a compressed spring can break a hand. Let it out fully before a bolt comes out, in a guide, with "
        "your face out of line. Never cut, heat, weld or open a gas shock."
    ),
    "Lifting: never get under a vehicle that only a jack holds. Chock the wheels.",
    "Local rules come first. Before anybody rides, ask a qualified person to look at it.",
)
