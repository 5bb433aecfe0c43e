"""Stiffness and slope from the rigid engine's own statics, by differences of the fourth order.

The wheel rate is the change of the static ground force: the engine's linearised stiffness is not
used, for it drops the curvature of the constraints, the very term to be proved.
"""

from __future__ import annotations

from tests.reference.rigid_engine import RigidEngine

Travel = dict[str, float]


def rate_matrix(
    engine: RigidEngine, travel: Travel, led: dict[str, float] | None = None
) -> dict[str, dict[str, float]]:
    """dF_i/dz_j [N/m] by differences of the static ground force, fourth order."""
    step = 5e-4  # m: truncation below 1e-8 relative, rounding of 1e-9 N below 1e-8 too
    found: dict[str, dict[str, float]] = {wheel: {} for wheel in travel}
    for moved, middle in travel.items():
        force = {
            n: engine.pose(travel | {moved: middle + n * step}, led).wheel_forces for n in (-2, -1, 1, 2)
        }
        for wheel in travel:
            by_step = {n: f[wheel] for n, f in force.items()}
            found[wheel][moved] = _fourth_order(by_step, step)
    return found


def ratio_slopes(
    engine: RigidEngine, travel: Travel, led: dict[str, float] | None = None
) -> dict[str, dict[str, dict[str, float]]]:
    """d²s/dz_i dz_j [1/m] by differences of the static ratio, fourth order."""
    step = 5e-4  # m, as in `rate_matrix`
    found: dict[str, dict[str, dict[str, float]]] = {
        s: {w: {} for w in travel} for s in engine.vehicle.springs
    }
    for moved, middle in travel.items():
        ratio = {n: engine.ratios(travel | {moved: middle + n * step}, led) for n in (-2, -1, 1, 2)}
        for spring in found:
            for wheel in travel:
                by_step = {n: r[spring][wheel] for n, r in ratio.items()}
                found[spring][wheel][moved] = _fourth_order(by_step, step)
    return found


def _fourth_order(value: dict[int, float], step: float) -> float:
    near, far = value[1] - value[-1], value[2] - value[-2]
    return (8 * near - far) / (12 * step)
