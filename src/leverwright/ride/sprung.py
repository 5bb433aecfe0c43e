"""An assembly with its springs and loads, and what springs do at its poses."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from leverwright.geometry import Array
from leverwright.linkage import Assembly, LineLimit, Posed
from leverwright.springs import Cord, Law, ShockLaw, TwistLaw, law_push, law_rate

__all__ = ["SpringState", "SprungAssembly", "line_force", "spring_state"]


@dataclass(frozen=True, slots=True)
class SprungAssembly:
    """A linkage with one law a spring or strap (S) and, for each wheel (W), kg and N/m; NaN where nothing is stated."""

    assembly: Assembly
    laws: tuple[Law, ...]
    limits: tuple[LineLimit, ...]
    load: Array  # (W,) kg on a scale
    unsprung: Array  # (W,) kg
    tyre: Array  # (W,) N/m

    @property
    def sprung(self) -> Array:
        """Mass [kg] that the springs carry at each wheel, (W,)."""
        return self.load - self.unsprung

    @property
    def has_spring(self) -> bool:
        """Whether any spring (not only a strap) acts in this assembly."""
        return any(isinstance(law, ShockLaw | TwistLaw) for law in self.laws)


@dataclass(frozen=True, slots=True)
class SpringState:
    """Springs at each pose.

    compression  (P, S) m from fully open (from touching for a strap: negative slack), rad for a hinge spring
    push         (P, S) N, + presses the ends apart; N·m against bump for a hinge spring
    rate         (P, S) N/m or N·m/rad
    wheel_push   (P, K) N    push at the wheels by virtual work, K drivers as in Rates
    wheel_rate   (P, K, K) N/m   with the geometric term
    spring_part  (P, K, K) N/m   without it: rate × ratio × ratio
    """

    compression: Array
    push: Array
    rate: Array
    wheel_push: Array
    wheel_rate: Array
    spring_part: Array


def spring_state(sprung: SprungAssembly, posed: Posed) -> SpringState:
    """Forces and rates of the springs at exact poses.

    wheel push = Σ push × ds/dz; wheel rate = Σ (rate × ds/dz_i × ds/dz_j + push × d²s/dz_i dz_j).
    Source: virtual work at the wheels, differentiated.
    """
    lines = len(sprung.assembly.layout.lines)
    turned = posed.length[:, lines:] * sprung.assembly.turn_sign
    size = np.concatenate([posed.length[:, :lines], turned], axis=1)
    shape = size.shape
    push, rate, compression = np.zeros(shape), np.zeros(shape), np.zeros(shape)
    for s, law in enumerate(sprung.laws):
        push[:, s] = law_push(law, size[:, s])
        rate[:, s] = law_rate(law, size[:, s])
        compression[:, s] = size[:, s] + law.twist if isinstance(law, TwistLaw) else _open(law) - size[:, s]
    ds_dz, d2s = posed.rates.ds_dz, posed.rates.d2s_dz2
    spring_part = np.einsum("psk,psm->pkm", rate[:, :, None] * ds_dz, ds_dz)
    return SpringState(
        compression,
        push,
        rate,
        np.einsum("ps,psk->pk", push, ds_dz),
        spring_part + np.einsum("ps,pskm->pkm", push, d2s),
        spring_part,
    )


def _open(law: Law) -> float:
    if isinstance(law, TwistLaw):
        raise TypeError("a hinge spring has no length")
    return law.length if isinstance(law, Cord) else law.length_open


def line_force(sprung: SprungAssembly, push: Array) -> Array:
    """Forces as statics wants them: N along lines, torque towards larger angle about hinges, (P, S)."""
    lines = len(sprung.assembly.layout.lines)
    return np.concatenate([push[:, :lines], -push[:, lines:] * sprung.assembly.turn_sign], axis=1)
