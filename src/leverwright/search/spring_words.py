"""What is known of a shock, in sentences: its rate and how it is known, what was left out, why not to use it."""

from __future__ import annotations

import math
from typing import Final

from leverwright.assemble.spring_fit import SpringFit
from leverwright.measure.bench import UNREAD_FRICTION, BenchFit
from leverwright.measure.bench_unfit import FRICTION_SHARES, RETURN_TIMES, Unfit
from leverwright.quantity import Quantity, System, say
from leverwright.springs.wire_route import SlipName, WireRate

__all__ = [
    "CAUTION",
    "GAS_CAUTION",
    "fit_words",
    "routes_words",
    "slip_words",
    "slips_that_explain",
    "unfit_words",
]

CAUTION: Final = (
    "A squashed coil can break a hand: 40 mm at 18 N/mm is 14 J, 80 mm at 40 N/mm 128 J. Guide it in a pipe, keep face "
    "and hands out of its line, never hold it by hand."
)
COIL_CAUTION: Final = (
    "A loaded coil that slips can maim: have it taken off, with a spring compressor, by a qualified person, and follow "
    "the local rules."
)
GAS_CAUTION: Final = "Never cut, heat, weld, drill or open a shock with gas in it."
_SPRINGS: Final = (
    1.0  # N/m; what gives less hardly grows with the squash, and no preload is to be told from it
)
_SLIPS: Final[dict[SlipName, str]] = {
    "paint": "the wire was measured over paint, 0.2 mm too thick",
    "outside": "the outside was taken for the mean diameter",
    "end-coils": "the two flat end coils were counted",
    "modulus": "the wire is of the softest of the makers' tables",
}
_MADE: Final[dict[SlipName, str]] = {
    "paint": "wire over paint, 0.2 mm more",
    "outside": "outside for mean diameter",
    "end-coils": "both flat end coils counted",
    "modulus": "the stiffest of the makers' tables of steel",
}


_SEEN: Final[dict[str, str]] = {
    "swapped": "It reads more coming out than going in: the two columns are the wrong way round.",
    "oil": "Oil runs down the rod: it leaks. A film is normal, a drip is not. Do not use it.",
    "bent": "The rod is bent: it will bind and wear out its seal. Do not use it.",
    "pitted": "The rod is pitted: it will tear its seal. Do not use it.",
}


def _pushes(fit: SpringFit) -> bool:
    return fit.rate is not None and fit.rate.value > _SPRINGS


def _said(quantity: Quantity | None, units: System) -> str:
    return "" if quantity is None else say(quantity.value, quantity.kind, system=units, error=quantity.error)


def fit_words(fit: SpringFit, units: System = "metric") -> tuple[str, ...]:
    """Sentences about one shock, what matters most first."""
    words = [unfit_words(each, units) for each in fit.unfit]
    if fit.rejected and not _pushes(fit):
        return tuple(words)
    if fit.rate is None:
        words.append("Its rate is not known: squash it on a scale. " + CAUTION)
        return tuple(words)
    words.append(_numbers(fit, units))
    if fit.bench is not None:
        words += _bench_words(fit.bench, units)
        if not fit.gas_known and fit.preload is not None and not fit.rows and _pushes(fit):
            words.append(
                f"How the start force splits into preload and gas is not known; called preload it is "
                f"{say(fit.preload.value, 'length', system=units)}. Push the rod alone, without its coil, to half its "
                f"stroke to know. {COIL_CAUTION} {GAS_CAUTION}"
            )
    if fit.gas_known and fit.gas is not None and fit.preload is not None and fit.gas.value > 0.0:
        words.append(
            f"Of the start force {say(fit.gas.value, 'force', system=units)} is gas, which no collar turns back, and "
            f"{say(fit.preload.value, 'length', system=units)} of coil is preload. {GAS_CAUTION}"
        )
    return (*words, *routes_words(fit, units))


def _numbers(fit: SpringFit, units: System) -> str:
    bench = fit.bench
    if bench is not None and len(bench.rows):
        first, last = (say(rate, "stiffness", system=units) for rate in bench.rates)
        kind = (
            "It has two rates"
            if bench.kind == "two rates"
            else "It grows stiffer"
            if bench.rates[1] > bench.rates[0]
            else "It grows softer"
        )
        knee = "" if bench.knee is None else f", the second from {say(bench.knee, 'length', system=units)} on"
        lead = f"{kind}: {first} at first, {last} at the last mark{knee}"
    else:
        lead = f"Rate {_said(fit.rate, units)}"
    start = "" if fit.start is None else f", starts to move at {_said(fit.start, units)}"
    friction = (
        ""
        if fit.friction is None
        else f", friction {say(fit.friction.value, 'force', system=units)} either way"
    )
    return f"{lead}{start}{friction}."


def _bench_words(bench: BenchFit, units: System) -> list[str]:
    """What a reader of the numbers must know of how they were read."""
    words: list[str] = []
    odd = bench.left_out
    if odd is not None:
        words.append(
            f"The reading going {odd.way} at mark {odd.mark + 1} is left out: it says "
            f"{say(odd.read, 'force', system=units)} where the others foretell "
            f"{say(odd.expected, 'force', system=units)}. Read it again."
        )
    if bench.touch is not None:
        first, last = (say(squash, "length", system=units) for squash in bench.touch)
        words.append(
            f"Between {first} and {last} of squash it goes hard: the coils or a stop touch there, or the last "
            "reading is wrong; it is left out of the rate."
        )
    if bench.resting:
        words.append(
            "At fully open it lay on its own end and had not begun to move: that reading is left out."
        )
    if math.isnan(bench.friction):
        words.append(
            "Nothing was read coming out, so friction is not known: it is in the start force, and in the rate if it "
            f"grows with the load; the range said allows for {100 * UNREAD_FRICTION:.0f} % of the force. Read the same "
            "marks coming out, after ten seconds."
        )
    if bench.excess > 1.0:
        words.append(
            f"The readings scatter {bench.excess:.1f} times more than stated; the range said is widened by that."
        )
    if not math.isfinite(bench.error[0]):
        words.append("How far the rate may be wrong cannot be told from so few readings: read more marks.")
    return words


def routes_words(fit: SpringFit, units: System) -> tuple[str, ...]:
    """Bench and wire side by side, and which slip would explain a difference; or the wire alone with its ±."""
    if fit.wire is None:
        return ()
    said = _said(fit.wire.rate, units)
    if fit.routes is None:
        return (f"By wire and coils alone: {said}. {slip_words(fit.wire, units)}",)
    share = fit.routes.difference / fit.routes.bench
    way = "less" if share < 0 else "more"
    wire = say(fit.wire.rate.value, "stiffness", system=units)
    beside = f"Wire and coils say {wire}, {100 * abs(share):.1f} % {way} than the bench"
    if fit.routes.agree:
        return (
            f"{beside}: they agree, and are taken together by their weights. {slip_words(fit.wire, units)}",
        )
    return (f"{beside}: they do not agree, and the bench alone is taken. {slips_that_explain(fit, units)}",)


def slips_that_explain(fit: SpringFit, units: System) -> str:
    """The slips that would bring the wire to what the bench says; else that none does."""
    assert fit.wire is not None
    assert fit.routes is not None
    found = [
        f"if {_SLIPS[slip.name]}, it is {say(slip.undone, 'stiffness', system=units)}"
        for slip in fit.wire.slips
        if abs(slip.undone - fit.routes.bench) <= 2.0 * fit.routes.error
    ]
    if not found:
        return (
            "None of the usual slips alone explains it: measure the wire, the coil and the squash once more."
        )
    return f"{'; '.join(found)[0].upper()}{'; '.join(found)[1:]}: then they agree."


def slip_words(wire: WireRate, units: System) -> str:
    """What the usual slips would have shown."""
    each = [
        f"{_MADE[slip.name]} {say(slip.made, 'stiffness', system=units)}"
        for slip in wire.slips
        if math.isfinite(slip.made)
    ]
    return f"If you did this, it would show: {', '.join(each)}."


def unfit_words(unfit: Unfit, units: System = "metric") -> str:
    """Why not to use a shock, with the reading that shows it."""
    if unfit.back is not None:
        return _came_back(unfit, units)
    if unfit.reason == "sticks":
        limit = f"{100 * FRICTION_SHARES[1 if unfit.reject else 0]:.0f} %"
        cure = "Do not use it." if unfit.reject else "Clean it, pump it upright, look for a bent rod."
        at = say(unfit.squash, "length", system=units)
        return f"Friction is {100 * unfit.number:.0f} % of the spring's force at {at}, over {limit}. {cure}"
    if unfit.reason == "no-push":
        at = say(unfit.squash, "length", system=units)
        return f"Coming out it pushed nothing at {at}: it is stuck. Do not use it."
    return _SEEN[unfit.reason]


def _came_back(unfit: Unfit, units: System) -> str:
    back = unfit.back
    assert back is not None
    way = f"{say(back.by, 'length', system=units)} of {say(back.of, 'length', system=units)}"
    seconds = say(back.seconds, "time", system=units)
    if unfit.reason == "stops-short":
        return f"Let go, it came back {way} in {seconds}: it is seized. Do not use it."
    limit = f"over {RETURN_TIMES[1]:.0f} s" if unfit.reject else f"over {RETURN_TIMES[0]:.0f} s"
    cure = "Do not use it." if unfit.reject else "Pump it five times upright and try again, warm."
    return f"Let go, it took {seconds} to come back, {limit}. {cure}"
