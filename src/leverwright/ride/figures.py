"""What a builder asks of each wheel, as numbers: sag, ratios, rates, frequencies, distance to dead centre."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from leverwright.geometry import Array
from leverwright.linkage import Posed, Stop, fold, pose_at
from leverwright.ride.cycle import LOOK, Cycle, Travels
from leverwright.ride.frequency import hop_frequency, natural_frequency, series_rate
from leverwright.ride.sprung import SpringState, SprungAssembly, spring_state
from leverwright.ride.standing import Standing

__all__ = ["FIGURES", "RATIO", "Figures", "figures_of", "rate_figures"]

# Every figure a wheel has, in the order of the contract; the first group hangs on the standing position.
FIGURES = (
    "standing_travel",
    "sag",
    "sag_percent",
    "bump_left",
    "wheel_rate",
    "heave_rate",
    "ride_frequency",
    "ride_frequency_without_tyre",
    "hop_frequency",
    "dead_centre_bump",
    "dead_centre_droop",
    "dead_centre_angle",
    "transmission_angle_least",
)

ON_DEAD_CENTRE = "it stands on its dead centre, where ratio and rate have no bound"
_NO_RATE = 1e8  # N/m; a thousand times a hard tyre: nothing but a dead centre gives so much
_NO_RATIO = 50.0  # spring per wheel; no lever that one can drill has it away from dead centre
RATIO = "motion_ratio"
# Figures that can be told at the set-up pose too, said so, when nothing says where the vehicle stands.
_AT_ANY_POSE = (
    "wheel_rate",
    "heave_rate",
    "dead_centre_bump",
    "dead_centre_droop",
    "dead_centre_angle",
    "transmission_angle_least",
)


@dataclass(frozen=True, slots=True)
class Figures:
    """One assembly's figures, SI.

    value        name -> (W,); NaN where it cannot be said, with `because`[name]
    ratio        (S, W) one wheel moving; heave (S,) all alike; NaN where a freedom is shared and the wheel not driven
    posed        the pose they are taken at, and the springs there
    """

    value: dict[str, Array]
    because: dict[str, str]
    ratio: Array
    heave: Array
    posed: Posed | None
    springs: SpringState | None


def figures_of(sprung: SprungAssembly, travels: Travels | None, heave: Cycle, standing: Standing) -> Figures:
    """All figures of an assembly at its standing position, or at the set-up pose where it cannot be told."""
    count = len(sprung.load)
    value = {name: np.full(count, np.nan) for name in FIGURES}
    because: dict[str, str] = {}
    posed, springs = standing.posed, standing.springs
    if posed is None:
        reason = standing.because or "there is no standing position"
        because = dict.fromkeys((*FIGURES, RATIO), reason)
        if travels is not None and travels.range is not None:
            at = np.clip(0.0, travels.range.droop.travel, travels.range.bump.travel)
            posed = pose_at(sprung.assembly, travels.track, travels.driving, np.array([at]))
            springs = spring_state(sprung, posed)
            where = f"taken at {1e3 * at:+.1f} mm from the set-up pose, because {reason}"
            because |= dict.fromkeys((*_AT_ANY_POSE, RATIO), where)
    springs_count = len(sprung.laws)
    if posed is None or springs is None or travels is None or travels.range is None:
        because = {name: because.get(name, "the linkage cannot move") for name in FIGURES}
        return Figures(
            value,
            because,
            np.full((springs_count, count), np.nan),
            np.full(springs_count, np.nan),
            None,
            None,
        )
    if standing.posed is not None:
        _travel_figures(travels, standing, value, because)
    ratio, heave_ratio = _ratios(posed, travels)
    if np.nanmax(np.abs(heave_ratio), initial=0.0) > _NO_RATIO:
        ratio, heave_ratio = np.full_like(ratio, np.nan), np.full_like(heave_ratio, np.nan)
        because[RATIO] = ON_DEAD_CENTRE
    _rates(sprung, travels, springs, value, because)
    _frequencies(sprung, standing, value, because)
    _dead_centres(travels, posed, heave, value, because)
    return Figures(value, because, ratio, heave_ratio, posed, springs)


def _travel_figures(
    travels: Travels, standing: Standing, value: dict[str, Array], because: dict[str, str]
) -> None:
    """Standing travel, sag and bump left; only what really ends the travel counts as an end of it."""
    ends = travels.range
    if ends is None:
        return
    value["standing_travel"] = standing.heights
    droop, bump = (
        None if stop.why == "asked" and stop.by is None else stop for stop in (ends.droop, ends.bump)
    )
    nothing = "nothing ends its {}: state goals.travel, a strap, or a shock with its two lengths"
    if droop is None:
        because |= dict.fromkeys(("sag", "sag_percent"), nothing.format("droop"))
    else:
        value["sag"] = standing.heights - droop.travel * travels.weights
    if bump is None:
        because |= dict.fromkeys(("bump_left", "sag_percent"), nothing.format("bump"))
    else:
        value["bump_left"] = bump.travel * travels.weights - standing.heights
    if droop is not None and bump is not None:
        value["sag_percent"] = value["sag"] / (bump.travel - droop.travel)


def _ratios(posed: Posed, travels: Travels) -> tuple[Array, Array]:
    ds_dz = posed.rates.ds_dz[0]
    if travels.driving.each:
        return ds_dz, ds_dz.sum(axis=1)
    shared = np.full((ds_dz.shape[0], len(travels.weights)), np.nan)
    shared[:, int(np.argmax(travels.weights))] = ds_dz[:, 0]
    return shared, ds_dz[:, 0]


def rate_figures(wheel_rate: Array, each: bool, wheels: int) -> tuple[Array, Array]:
    """Wheel rate (…, W) and heave rate (…, W) from the rate matrix (…, K, K); a shared freedom is shared alike."""
    if each:
        return np.einsum("...kk->...k", wheel_rate), wheel_rate.sum(axis=-1)
    alike = np.repeat(wheel_rate[..., 0, :] / wheels, wheels, axis=-1)
    return alike, alike


def _rates(
    sprung: SprungAssembly,
    travels: Travels,
    springs: SpringState,
    value: dict[str, Array],
    because: dict[str, str],
) -> None:
    if not sprung.has_spring:
        because["wheel_rate"] = because["heave_rate"] = "no spring carries this wheel"
        return
    if not np.all(np.abs(springs.wheel_rate[0]) < _NO_RATE):
        because["wheel_rate"] = because["heave_rate"] = ON_DEAD_CENTRE
        return
    each, heave = rate_figures(springs.wheel_rate[0], travels.driving.each, len(sprung.load))
    value["wheel_rate"], value["heave_rate"] = each, heave


def _frequencies(
    sprung: SprungAssembly, standing: Standing, value: dict[str, Array], because: dict[str, str]
) -> None:
    names = ("ride_frequency", "ride_frequency_without_tyre")
    if standing.posed is None:
        return
    if standing.on != "springs":
        where = "on its preload, fully drooped" if standing.on == "preload" else "on its stops, fully bumped"
        for name in names:
            because[name] = f"the wheel stands {where}: the spring does not work"
    else:
        mass, rate = sprung.sprung, value["heave_rate"]
        value["ride_frequency_without_tyre"] = np.asarray(natural_frequency(rate, mass))
        value["ride_frequency"] = np.asarray(natural_frequency(series_rate(rate, sprung.tyre), mass))
        if np.any(rate <= 0.0):
            because[names[0]] = because[names[1]] = (
                "the rate at the wheel is not above zero: it falls through"
            )
    if np.any(np.isnan(sprung.tyre)):
        if standing.on == "springs":
            because["ride_frequency"] = "tyre is not stated"
        because["hop_frequency"] = "tyre is not stated"
    elif np.any(sprung.unsprung <= 0.0):
        because["hop_frequency"] = "unsprung is 0 kg: nothing can hop"
    else:
        value["hop_frequency"] = np.asarray(hop_frequency(value["wheel_rate"], sprung.tyre, sprung.unsprung))


def _dead_centres(
    travels: Travels, posed: Posed, heave: Cycle, value: dict[str, Array], because: dict[str, str]
) -> None:
    count = len(travels.weights)
    at = float(posed.travel[0])
    for name, stop, way in (
        ("dead_centre_bump", travels.track.bump, 1.0),
        ("dead_centre_droop", travels.track.droop, -1.0),
    ):
        looked = float(way * travels.track.nodes.travel[0 if way < 0 else -1])
        if stop is not None and abs(stop.travel) > LOOK and not _ends_travel(travels, stop):
            because[name] = _no_dead_centre(None, LOOK)  # how far a step leads beyond it is chance
        elif stop is not None and stop.why == "dead centre":
            value[name] = np.full(count, way * (stop.travel - at))
        else:
            because[name] = _no_dead_centre(stop, min(looked, LOOK))
    if posed.transmission.shape[1] == 0:
        because["dead_centre_angle"] = because["transmission_angle_least"] = "no bar drives a lever here"
        return
    value["dead_centre_angle"] = np.full(count, fold(posed.transmission).min())
    if heave.posed is not None:
        value["transmission_angle_least"] = np.full(count, fold(heave.posed.transmission).min())


def _ends_travel(travels: Travels, stop: Stop) -> bool:
    ends = travels.range
    return ends is not None and stop.travel in (ends.droop.travel, ends.bump.travel)


def _no_dead_centre(stop: Stop | None, looked: float) -> str:
    if stop is None:
        return (
            f"no dead centre within {10 * int(100 * looked + 1e-6)} mm of wheel travel from the set-up pose"
        )
    return "no dead centre: the links are stretched before"
