"""Where each assembly stands: wheel loads against spring laws, all wheels of an assembly together."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from leverwright.geometry import Array
from leverwright.linkage import Posed, pose_at, posed_from
from leverwright.ride.cycle import Cycle, Travels
from leverwright.ride.frequency import STANDARD_GRAVITY
from leverwright.ride.sprung import SpringState, SprungAssembly, spring_state

__all__ = ["Standing", "stand"]

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
    count = len(sprung.load)
    nowhere = np.full(count, np.nan)

    def cannot(because: str) -> Standing:
        return Standing(None, None, nowhere, "nothing", because)

    if not sprung.assembly.layout.moving:
        return cannot("this wheel sits on the chassis: nothing springs it")
    if travels is None or heave.posed is None or heave.springs is None:
        return cannot("the linkage cannot move within the limits of its shocks")
    if not sprung.has_spring:
        return cannot("no spring carries this wheel")
    if np.any(np.isnan(sprung.load)):
        return cannot("the load on the wheel is not stated")
    if np.any(np.isnan(sprung.unsprung)):
        return cannot("unsprung is not stated: what the springs carry is the load less the unsprung mass")
    load = sprung.sprung * STANDARD_GRAVITY
    push = heave.springs.wheel_push
    if np.isnan(heave.posed.rates.ds_dz).any():
        return cannot("nothing holds a motion that moves its spring (see not-held)")
    return _along_the_way(sprung, travels, load, (heave.posed.travel, push))


def _along_the_way(
    sprung: SprungAssembly, travels: Travels, load: Array, sweep: tuple[Array, Array]
) -> Standing:
    """Equilibrium of the sum of the wheels in heave; then, with a freedom each, every wheel by itself."""
    grid, push = sweep
    wanted = float(load.sum())

    def state(at: Array) -> tuple[Posed, SpringState]:
        posed = pose_at(sprung.assembly, travels.track, travels.driving, at)
        return posed, spring_state(sprung, posed)

    missing = push.sum(axis=1) - wanted
    above = np.flatnonzero(missing >= 0.0)  # NaN, beyond the end of a spring's table, is not
    if np.isnan(missing[0]) or (np.isnan(missing).any() and not len(above)):
        because = "a spring's table does not reach to where it would carry this load"
        return Standing(None, None, np.full(len(load), np.nan), "nothing", because)
    if missing[0] >= 0.0:
        at, on = float(grid[0]), "preload"
    elif not len(above):
        at, on = float(grid[-1]), "stops"
    else:
        k = int(above[0])
        at, on = (
            _root(state, (float(grid[k - 1]), float(grid[k])), (missing[k - 1], missing[k]), wanted),
            "springs",
        )
    posed, springs = state(np.array([at]))
    heights = posed.pose.wheel_height[0]
    if travels.driving.each and len(load) > 1:
        return _each_wheel(sprung, travels, load, Standing(posed, springs, heights, on))
    return Standing(posed, springs, heights, on)


def _root(
    state: Callable[[Array], tuple[Posed, SpringState]],
    ends: tuple[float, float],
    missing: tuple[float, float],
    wanted: float,
) -> float:
    """Travel [m] where the push of the springs equals what is wanted: Newton inside a closing bracket."""
    low, high = ends
    at = low - missing[0] * (high - low) / (missing[1] - missing[0])
    for _ in range(60):
        _, springs = state(np.array([at]))
        miss = float(springs.wheel_push.sum()) - wanted
        if abs(miss) <= _FOUND * wanted or high - low < 1e-13:
            break
        low, high = (low, at) if miss > 0.0 else (at, high)
        step = miss / float(springs.wheel_rate.sum()) if springs.wheel_rate.sum() > 0.0 else np.inf
        at = at - step if low < at - step < high else 0.5 * (low + high)
    return at


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
