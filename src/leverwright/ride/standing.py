"""Where each assembly stands: wheel loads against spring laws, all wheels of an assembly together."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from leverwright.geometry import Array
from leverwright.linkage import Posed, posed_from, poses_of
from leverwright.linkage.events import hermite_share
from leverwright.ride.cycle import Cycle, Travels
from leverwright.ride.frequency import STANDARD_GRAVITY
from leverwright.ride.sprung import SpringState, SprungAssembly, spring_state
from leverwright.springs import ShockLaw

__all__ = ["Standing", "stand", "stand_all"]

_MOST_STEPS = 60  # a bracket halved so often is far below rounding
_NARROW = 1e-13  # m of travel; below it rounding decides
_PATIENCE = 8  # Newton steps without getting nearer: the wheels find no common height
_FOUND = 1e-12  # share of the load left over at equilibrium; the solver's rounding is smaller


@dataclass(frozen=True, slots=True)
class Standing:
    """The equilibrium of one assembly; `posed` has one pose, or is None with the reason in `because`.

    heights  (W,) m wheel travel from the set-up pose
    on       "springs", "preload" (the springs do not move: fully drooped) or "stops" (fully bumped)
    """

    posed: Posed | None
    springs: SpringState | None
    heights: Array
    on: str
    because: str | None = None


def stand(sprung: SprungAssembly, travels: Travels | None, heave: Cycle) -> Standing:
    """The first equilibrium from full droop under the wheels' loads less what is unsprung; `heave` is its sweep."""
    return stand_all([sprung], [travels], [heave])[0]


def stand_all(
    settings: Sequence[SprungAssembly], travels: Sequence[Travels | None], heaves: Sequence[Cycle]
) -> tuple[Standing, ...]:
    """The same for several settings of one assembly, sought side by side."""
    found = [_sought(*row) for row in zip(settings, travels, heaves, strict=True)]
    sought = [each for each in found if isinstance(each, _Sought)]
    stood = iter(_along_the_way(sought))
    return tuple(next(stood) if isinstance(each, _Sought) else each for each in found)


@dataclass(frozen=True, slots=True)
class _Sought:
    """An equilibrium in heave still to be found between two travels [m], or known to stand at an end of travel.

    fit  N by which the push is short at both ends, then its change a metre there times the bracket
    """

    sprung: SprungAssembly
    travels: Travels
    load: Array  # (W,) N
    on: str
    bracket: tuple[float, float]
    fit: tuple[float, float, float, float]


def _sought(sprung: SprungAssembly, travels: Travels | None, heave: Cycle) -> Standing | _Sought:
    """What is to be sought, or why nothing is."""
    count = len(sprung.load)

    def cannot(because: str) -> Standing:
        return Standing(None, None, np.full(count, np.nan), "nothing", because)

    if not sprung.assembly.layout.moving:
        return cannot("this wheel sits on the chassis: nothing springs it")
    if travels is None or heave.posed is None or heave.springs is None:
        return cannot("the linkage cannot move within the limits of its shocks")
    if not sprung.has_spring:
        return cannot("no spring carries this wheel")
    if any(isinstance(law, ShockLaw) and np.isnan(law.preload) for law in sprung.laws):
        return cannot(
            "how hard its spring pushes is not known: squash it on a scale, or state rate and preload"
        )
    if np.any(np.isnan(sprung.load)):
        return cannot("the load on the wheel is not stated")
    if np.any(np.isnan(sprung.unsprung)):
        return cannot("unsprung is not stated: what the springs carry is the load less the unsprung mass")
    if np.isnan(heave.posed.rates.ds_dz).any():
        return cannot("nothing holds a motion that moves its spring (see not-held)")
    load = sprung.sprung * STANDARD_GRAVITY
    grid = heave.posed.travel
    missing = heave.springs.wheel_push.sum(axis=1) - float(load.sum())
    above = np.flatnonzero(missing >= 0.0)  # NaN, beyond the end of a spring's table, is not
    if np.isnan(missing[0]) or (np.isnan(missing).any() and not len(above)):
        return cannot("a spring's table does not reach to where it would carry this load")
    k = int(above[0]) if len(above) else len(grid) - 1
    if k == 0 or not len(above):
        on = "preload" if k == 0 else "stops"
        return _Sought(sprung, travels, load, on, (float(grid[k]),) * 2, (0.0,) * 4)
    rate = heave.springs.wheel_rate.sum(axis=(1, 2)) * (grid[k] - grid[k - 1])
    fit = float(missing[k - 1]), float(missing[k]), float(rate[k - 1]), float(rate[k])
    return _Sought(sprung, travels, load, "springs", (float(grid[k - 1]), float(grid[k])), fit)


def _along_the_way(sought: Sequence[_Sought]) -> list[Standing]:
    """Equilibrium of the sum of the wheels in heave; then, with a freedom each, every wheel by itself."""
    out: list[Standing] = []
    for each, (posed, springs) in zip(sought, _equilibria(sought), strict=True):
        standing = Standing(posed, springs, posed.pose.wheel_height[0], each.on)
        if each.travels.driving.each and len(each.load) > 1:
            standing = _each_wheel(each.sprung, each.travels, each.load, standing)
        out.append(standing)
    return out


def _equilibria(sought: Sequence[_Sought]) -> list[tuple[Posed, SpringState]]:
    """Where the push of the springs equals what is wanted: Newton inside a closing bracket, all side by side."""
    if not sought:
        return []
    low, high = np.array([each.bracket for each in sought]).T
    fit = np.array([each.fit for each in sought]).T
    at = low + (high - low) * hermite_share(np.zeros(len(sought)), (fit[0], fit[1], fit[2], fit[3]))
    found: list[tuple[Posed, SpringState] | None] = [None] * len(sought)
    on = list(range(len(sought)))
    for _ in range(_MOST_STEPS):
        parts = [sought[k] for k in on]
        posed = poses_of(
            [each.sprung.assembly for each in parts],
            [each.travels.track for each in parts],
            parts[0].travels.driving,
            [at[k : k + 1] for k in on],
        )
        going = []
        for k, each, here in zip(on, parts, posed, strict=True):
            springs = spring_state(each.sprung, here)
            found[k] = here, springs
            wanted = float(each.load.sum())
            miss, rate = float(springs.wheel_push.sum()) - wanted, float(springs.wheel_rate.sum())
            if each.on != "springs" or abs(miss) <= _FOUND * wanted or high[k] - low[k] < _NARROW:
                continue
            low[k], high[k] = (low[k], at[k]) if miss > 0.0 else (at[k], high[k])
            step = miss / rate if rate > 0.0 else np.inf
            at[k] = at[k] - step if low[k] < at[k] - step < high[k] else 0.5 * (low[k] + high[k])
            going.append(k)
        on = going
        if not on:
            break
    return [pair for pair in found if pair is not None]


def _each_wheel(sprung: SprungAssembly, travels: Travels, load: Array, together: Standing) -> Standing:
    """Newton on the wheels' heights from the heave equilibrium; kept there when every wheel agrees already."""
    posed, springs, on = together.posed, together.springs, together.on
    assert posed is not None
    assert springs is not None
    heights = posed.pose.wheel_height[0].copy()
    scale = float(np.abs(load).max())
    if (
        on != "springs"
        and np.abs(springs.wheel_push[0] / max(springs.wheel_push[0].sum(), 1e-9) - load / load.sum()).max()
        < 1e-6
    ):
        return Standing(posed, springs, heights, on)
    best, least, since = posed, np.inf, 0
    for _ in range(60):
        miss = springs.wheel_push[0] - load
        since = 0 if np.abs(miss).max() < 0.9 * least else since + 1
        least = min(least, float(np.abs(miss).max()))
        if since > _PATIENCE:
            break
        if np.abs(miss).max() <= 1e3 * _FOUND * scale:
            return Standing(best, springs, heights, "springs" if _within(sprung, best) else on)
        try:
            step = np.linalg.solve(springs.wheel_rate[0], -miss)
        except np.linalg.LinAlgError:
            break
        longest = float(np.abs(step).max())
        step *= min(1.0, 0.01 / max(longest, 0.01))
        tried = posed_from(
            sprung.assembly, travels.track, travels.driving, (heights + step)[None], best.state
        )
        if tried is None:
            break
        heights, best = heights + step, tried
        springs = spring_state(sprung, best)
        if not np.all(np.isfinite(springs.wheel_push)):
            break
    return Standing(
        None,
        None,
        np.full(len(load), np.nan),
        "nothing",
        "the wheels of this axle find no common standing position within their springs",
    )


def _within(sprung: SprungAssembly, posed: Posed) -> bool:
    """Whether every shock is within its length, to a hundredth of a millimetre."""
    for limit in sprung.limits:
        length = float(posed.length[0, limit.line])
        room = limit.length - length if limit.longest else length - limit.length
        if room < -1e-5:
            return False
    return True
