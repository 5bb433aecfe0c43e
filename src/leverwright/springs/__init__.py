"""Laws of springs: forces over length, and rates from wire."""

from leverwright.springs.laws import Cord, Law, ShockLaw, StopLaw, TwistLaw, law_friction, law_push, law_rate

__all__ = ["Cord", "Law", "ShockLaw", "StopLaw", "TwistLaw", "law_friction", "law_push", "law_rate"]
