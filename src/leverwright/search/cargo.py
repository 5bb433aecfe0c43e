"""Moving what a trailer carries, so that its coupling has the share that keeps it straight."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from leverwright.quantity import say, to_surface
from leverwright.search.edits import set_value
from leverwright.search.remedy import Candidate, Effort
from leverwright.study import Study

__all__ = ["cargo_moved", "coupling_outcome"]

_MOVED = Effort(15.0, "the load moved and tied down")
_WANTED = (0.10, 0.12)  # of the weight on the coupling, level; 10 to 15 % is usual (CP)


def cargo_moved(study: Study) -> Iterator[Candidate]:
    """For each load set, its heaviest thing that is not always aboard, moved along for a tenth and for an eighth."""
    from leverwright.ride.coupling import place_for_share

    coupling = study.file.coupling
    if coupling is None or not study.project.wheels:
        return
    every = [set(chosen.carries) for chosen in study.file.loads.values() if chosen.carries]
    always = set.intersection(*every) if len(every) > 1 else set()
    axle = float(np.mean([study.project.points[w.centre].at[0] for w in study.project.wheels.values()]))
    for chosen in study.file.loads.values():
        loose = [k for k, name in enumerate(chosen.carries) if name not in always]
        if not loose:
            continue
        masses = [study.file.masses[name] for name in chosen.carries]
        weight, at = (
            np.array([m.mass.value for m in masses]),
            np.array([m.at[0] for m in masses]),
        )
        moved = max(loose, key=lambda k, weight=weight: float(weight[k]))  # type: ignore[misc]  # bound now
        mass = masses[moved]
        for wanted in _WANTED:
            x = place_for_share(wanted, (weight, at), moved, (axle, coupling.at[0]))
            place = [round(to_surface(value, "length"), 0) for value in (x, *mass.at[1:])]
            far = say(abs(x - mass.at[0]), "length", system=study.units)
            way = "towards the coupling" if (x - mass.at[0]) * (coupling.at[0] - axle) > 0 else "away from it"
            yield Candidate(
                f"Move {mass.name} {far} {way}", _MOVED, (set_value(["masses", mass.name, "at"], place),)
            )


def coupling_outcome(study: Study) -> str:
    """The share on the coupling under each load set, in one line."""
    told = [
        f"{100 * share.pitched_share:.1f} % with '{name}'"
        for name, of in study.sets.items()
        if of.loading is not None
        and (share := of.loading.coupling) is not None
        and not isinstance(share, str)
    ]
    return f"on the coupling {', '.join(told)}" if told else "the coupling's load cannot be told"
