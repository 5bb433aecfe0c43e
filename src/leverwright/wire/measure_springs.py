"""Shocks of the vehicle and of the pile → their part of the measuring document."""

from __future__ import annotations

import math
from collections.abc import Mapping

from leverwright.assemble.bench import spring_fits
from leverwright.assemble.spring_fit import SpringFit
from leverwright.measure.bench import BenchFit
from leverwright.project import Sketch
from leverwright.search.pile import PairAdvice, PileAdvice, Place, ShockAdvice, pile_alone, pile_of
from leverwright.search.spring_words import fit_words, unfit_words
from leverwright.springs.wire_route import WireRate
from leverwright.study import Study
from leverwright.wire.measure import (
    BenchSaid,
    LookFor,
    PairSaid,
    PileSaid,
    PileShockSaid,
    RoutesSaid,
    SlipSaid,
    SpringSaid,
    TrimSaid,
    UnfitSaid,
    WantSaid,
    WireSaid,
)
from leverwright.wire.measure_figures import figure_of, known, surface

__all__ = ["pile_alone_said", "pile_said", "springs_alone", "springs_of"]


def springs_of(study: Study) -> dict[str, SpringSaid]:
    """Every shock that was measured, those on the vehicle first."""
    return _springs(study.file, study.measured.springs)


def springs_alone(sketch: Sketch) -> dict[str, SpringSaid]:
    """The same where no vehicle is drawn yet."""
    return _springs(sketch, spring_fits(sketch))


def _springs(sketch: Sketch, fits: Mapping[str, SpringFit]) -> dict[str, SpringSaid]:
    return {name: _spring(sketch, name, fit) for name, fit in fits.items()}


def _spring(sketch: Sketch, name: str, fit: SpringFit) -> SpringSaid:
    routes = None
    if fit.routes is not None:
        bench, wire = (surface(each, "stiffness") for each in (fit.routes.bench, fit.routes.wire))
        routes = RoutesSaid(bench, wire, known(fit.routes.error, "stiffness"), fit.routes.agree)
    return SpringSaid(
        on="vehicle" if name in sketch.shocks else "pile",
        pile=sketch.shocks[name].pile if name in sketch.shocks else None,
        rate=figure_of(fit.rate),
        start=figure_of(fit.start),
        preload=None if fit.rows else figure_of(fit.preload),
        gas=figure_of(fit.gas) if fit.gas_known else None,
        gas_known=fit.gas_known,
        friction=figure_of(fit.friction),
        rows=[
            [surface(squash, "length"), known(going_in, "force"), known(coming_out, "force")]
            for squash, going_in, coming_out in fit.rows
        ],
        filled=sorted(fit.filled),
        bench=None if fit.bench is None else _bench(fit.bench),
        wire=None if fit.wire is None else _wire(fit.wire),
        routes=routes,
        unfit=[UnfitSaid(each.reason, each.reject, unfit_words(each)) for each in fit.unfit],
        rejected=fit.rejected,
        sentences=list(fit_words(fit)),
    )


def _bench(bench: BenchFit) -> BenchSaid:
    odd = bench.left_out
    first, last = bench.rates
    rates = None
    if math.isfinite(first) and math.isfinite(last):
        rates = surface(first, "stiffness"), surface(last, "stiffness")
    touch = None
    if bench.touch is not None:
        touch = surface(bench.touch[0], "length"), surface(bench.touch[1], "length")
    return BenchSaid(
        kind=bench.kind,
        stroke_mm=surface(bench.stroke, "length"),
        rates_n_per_mm=rates,
        touch_mm=touch,
        left_out=None if odd is None else odd.way,
        left_out_mark=None if odd is None else odd.mark + 1,
        left_out_reads_n=None if odd is None else known(odd.read, "force"),
        left_out_expected_n=None if odd is None else known(odd.expected, "force"),
    )


def _wire(wire: WireRate) -> WireSaid | None:
    rate = figure_of(wire.rate)
    if rate is None:
        return None
    slips = [
        SlipSaid(each.name, known(each.made, "stiffness"), known(each.undone, "stiffness"))
        for each in wire.slips
    ]
    return WireSaid(rate, list(wire.assumed), slips)


def pile_said(study: Study) -> PileSaid | None:
    """Which shocks belong together and where; None without a pile."""
    return _pile(pile_of(study))


def pile_alone_said(sketch: Sketch) -> PileSaid | None:
    """The same where no vehicle is drawn yet."""
    return _pile(pile_alone(sketch))


def _pile(advice: PileAdvice | None) -> PileSaid | None:
    if advice is None:
        return None
    return PileSaid(
        shocks={each.name: _owned(each) for each in advice.shocks},
        pairs=[_pair(each) for each in advice.pairs],
        best=None if advice.best is None else list(advice.best.pair.names),
        look_for=_look_for(advice),
        sentences=list(advice.sentences),
    )


def _look_for(advice: PileAdvice) -> list[LookFor]:
    return [
        LookFor(
            list(place.springs),
            surface(each.stroke, "length"),
            (surface(each.squash_force[0], "force"), surface(each.squash_force[1], "force")),
        )
        for place, each in advice.look_for
    ]


def _owned(advice: ShockAdvice) -> PileShockSaid:
    wants = [
        WantSaid(
            list(place.springs),
            surface(_usual_load(place), "mass"),
            [surface(ratio, "ratio") for ratio in want.ratio],
            surface(want.wheel_travel, "length"),
            surface(want.sag, "length"),
            known(want.frequency, "frequency"),
        )
        for place, want in advice.wants
    ]
    return PileShockSaid(advice.verdict, wants)


def _usual_load(place: Place) -> float:
    return place.loads[0][1]


def _pair(advice: PairAdvice) -> PairSaid:
    pair = advice.pair
    trim = None
    if pair.trim is not None:
        trim = TrimSaid(
            pair.trim.tighten,
            pair.trim.other,
            surface(pair.trim.by, "length"),
            known(pair.trim.loosen_most, "length"),
            pair.trim.may_loosen,
            pair.trim.has_room,
        )
    return PairSaid(
        shocks=list(pair.names),
        springs=list(advice.place.springs),
        verdict=pair.verdict,
        rates_apart_percent=surface(pair.rate_share, "percent"),
        rates_apart_error_percent=known(pair.rate_share_error, "percent"),
        forces_apart_percent=known(pair.force_share, "percent"),
        trim=trim,
        sentences=list(advice.sentences),
    )
