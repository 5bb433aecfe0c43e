"""Shocks of the vehicle and of the pile as `ride.pile` compares them."""

from __future__ import annotations

import numpy as np

from leverwright.assemble.spring_fit import SpringFit
from leverwright.assemble.springs import shock_law
from leverwright.project import Shock
from leverwright.project.measuring import PileShock
from leverwright.quantity import Quantity
from leverwright.ride.pile import Owned
from leverwright.springs import ShockLaw

__all__ = ["owned_in_pile", "owned_on_vehicle"]


def owned_on_vehicle(name: str, shock: Shock, fit: SpringFit | None) -> Owned | None:
    """A shock of the vehicle, measurements taken up; None where its rate or its preload is not known.

    name  what it is called when spoken of: its own, or that of the spring that it is in
    """
    law = shock_law(shock)
    if not len(law.rows) and (law.rate <= 0.0 or np.isnan(law.preload)):
        return None
    # With bench readings gas is known only from the rod alone; without them what the file leaves out is none.
    gas_known = fit is None or fit.bench is None or fit.gas_known
    gas = law.gas if gas_known else None
    return Owned(name, law, _error(shock.rate, fit), gas, _room(shock))


def owned_in_pile(shock: PileShock, fit: SpringFit) -> Owned | None:
    """A shock of the pile; None where its lengths, rate or start force are not known."""
    if shock.length_open is None or shock.length_closed is None:
        return None
    if fit.rate is None or (fit.preload is None and not fit.rows):
        return None
    law = ShockLaw(
        shock.length_open.value,
        shock.length_closed.value,
        fit.rate.value,
        0.0 if fit.preload is None else fit.preload.value,
        0.0 if fit.gas is None else fit.gas.value,
        0.0 if fit.friction is None else fit.friction.value,
        np.array(fit.rows).reshape(-1, 3),
    )
    return Owned(shock.name, law, fit.rate.error, law.gas if fit.gas_known else None, None)


def _error(rate: Quantity | None, fit: SpringFit | None) -> float | None:
    if rate is not None:
        return rate.error
    return None if fit is None or fit.rate is None else fit.rate.error


def _room(shock: Shock) -> float | None:
    """From fully closed to where the coils touch [m]; none left where they touch before."""
    if shock.coils_touch is None:
        return None
    return max(0.0, shock.length_closed.value - shock.coils_touch.value)
