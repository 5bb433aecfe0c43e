"""A network of tapes solved: places with their covariance, what disagrees, what is unchecked, what is left open."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from leverwright.geometry import Array, Mask
from leverwright.measure.datum import Datum, Loose, datum_of, laid_on_sketch
from leverwright.measure.far_off import far_off
from leverwright.measure.mirror_images import (
    MirrorImage,
    Search,
    keeps_sides,
    mirror_images,
    side_start,
    without_sides,
)
from leverwright.measure.network_rows import Row, Rows, rows_of, start_of
from leverwright.measure.network_solve import (
    NOT_PLACED,
    Fit,
    Split,
    fit_from,
    fit_near,
    robust_misfit,
    rough_from,
    split_of,
)
from leverwright.measure.observations import Network
from leverwright.measure.snooping import (
    Checks,
    checks_from,
    checks_of,
    cover_of,
    global_limit,
    reweighted,
    suspects_of,
)

__all__ = ["NetworkResult", "Observed", "Suspect", "solve_network"]

_STARTS = 4  # more sketches tried when the first does not fit; each about as long as a solve
_RIGHT_SHAPE, _FITS = 0.6, 3.0  # so large a part of the readings within 3 σ: the shape is right, slips apart
_THROWN = 0.4  # of the network's extent, by which they are thrown about
_SURELY = 4.0  # standardized: chance goes so far once in 16 000 readings, beyond 3 in 370: that may be no slip at all
_MOST_DOUBTED = 0.3  # of the readings; when more seem bad, it is not the readings
_MOST_SEARCHES = 4  # for slips, each from where the last one left the places
_AGREES_AGAIN = 2.0  # standardized: a reading left out that is closer than this was not the bad one


@dataclass(frozen=True, slots=True)
class Observed:
    """One reading against the solved places; lengths in m.

    part          of a statement with several: coordinate "x" "y" "z", "off the line", …
    redundancy    0: nothing checks it … 1: the others fix it wholly
    standardized  residual over its own standard deviation; beyond 3 it is named; NaN where nothing checks it
    gap           reading less what the others say; NaN as before
    detectable    least slip that the test would find four times in five
    left_out      taken to be bad: the places are solved without it
    """

    row: Row
    adjusted: float
    residual: float
    redundancy: float
    standardized: float
    gap: float
    detectable: float
    left_out: bool


@dataclass(frozen=True, slots=True)
class Suspect:
    """Readings (indices into `observed`) that disagree with the others, the worst first.

    gap           m, reading less what the others say, as it was before anything was done about it
    standardized  the same over its own standard deviation
    left_out      the places are solved without it; else nothing tells the bad one of several, and all were widened
    """

    observed: tuple[int, ...]
    gap: float
    standardized: float
    left_out: bool


@dataclass(frozen=True, slots=True)
class _Found:
    rows: tuple[int, ...]
    gap: float
    standardized: float
    left_out: bool


@dataclass(frozen=True, slots=True)
class NetworkResult:
    """Everything that a network's readings say.

    places      (N, 3) m
    covariance  (N, 3, N, 3) m², a priori, of what is determined; a twin goes with its original
    floor_with  (N, 3) m², covariance of the floor's level with the places; floor_variance its own
    open        points (indices) that the readings do not place: their covariance is not to be used
    spare       readings more than needed; misfit is the sum of squares over ±, s0 its root per spare reading
    agrees      the sum of squares is no larger than chance makes it once in a thousand times
    wrong_side  side statements that the places cannot keep
    """

    network: Network
    places: Array
    covariance: Array
    floor_with: Array
    floor_variance: float
    floor: float | None
    observed: tuple[Observed, ...]
    suspects: tuple[Suspect, ...]
    loose: tuple[Loose, ...]
    mirrors: tuple[MirrorImage, ...]
    open: tuple[int, ...]
    datum: tuple[str, ...]
    wrong_side: tuple[str, ...]
    spare: int
    misfit: float
    s0: float | None
    agrees: bool
    settled: bool


def solve_network(network: Network) -> NetworkResult:
    """The network solved from its sketch; never raises for what was measured."""
    rows = rows_of(network)
    loosest = _loosest(rows)
    fit, use, found = _sketched(rows, loosest)
    fit, mirrors = _with_images(rows, fit, use, loosest)
    rows, fit, use, found = _snooped(rows, fit, (use, found))
    loosest = _loosest(rows)
    if found:
        fit, mirrors = _with_images(rows, fit, use, loosest)
    split = split_of(rows, fit.slope, use, loosest)
    names = datum_of(rows, rows.places(fit.unknowns), fit.slope, split, loosest).names
    laid = laid_on_sketch(rows, fit.unknowns, names)
    miss, slope = rows.evaluate(laid)
    split = split_of(rows, slope, use, loosest)
    datum = datum_of(rows, rows.places(laid), slope, split, loosest)
    checks = checks_of(miss, slope, split, use)
    return _result(rows, Fit(laid, miss, slope, fit.settled), (split, datum, checks), (use, found, mirrors))


def _loosest(rows: Rows) -> float:
    """How loose [m] a place may be and still count as placed; what was widened may leave it so much looser."""
    stated = np.array([row.sigma for row in rows.rows if row.kind != "picture"])
    wider = rows.sigma[[row.kind != "picture" for row in rows.rows]] / stated
    return max(NOT_PLACED, 3.0 * float(stated.max(initial=0.0))) * float(wider.max(initial=1.0))


def _sketched(rows: Rows, loosest: float) -> tuple[Fit, Mask, list[_Found]]:
    """The first fit, without readings that are so far off that they would drag it away, if they are that."""
    # The sketch itself, not as a statement of a side would have it: that statement may be the slip.
    use = ~far_off(rows, start_of(rows, rows.network.sketch))
    fit = _first_fit(rows, use, loosest)
    if use.all():
        return fit, use, []
    checks = checks_of(fit.miss, fit.slope, split_of(rows, fit.slope, use, loosest), use)
    bad = ~use & (np.abs(checks.standardized) > _SURELY)
    if (bad != ~use).any():
        use = ~bad
        fit = _first_fit(rows, use, loosest)
        checks = checks_of(fit.miss, fit.slope, split_of(rows, fit.slope, use, loosest), use)
    found = [
        _Found((int(k),), _gap(rows, checks, int(k)), -float(checks.standardized[k]), True)
        for k in np.flatnonzero(bad)
    ]
    return fit, use, found


def _first_fit(rows: Rows, use: Mask, loosest: float) -> Fit:
    """From the sketch; where that does not fit, from sketches thrown about, the best of them."""
    sketch = side_start(rows, rows.network.sketch)
    best = fit_from(rows, start_of(rows, sketch), use, loosest)
    split = split_of(rows, best.slope, use, loosest)
    size = np.abs(checks_of(best.miss, best.slope, split, use).standardized)
    # Slips explain a misfit of few readings better than another shape of the whole does.
    if float(np.nanquantile(np.append(size, 0.0), _RIGHT_SHAPE)) < _FITS and keeps_sides(
        rows, rows.places(best.unknowns)
    ):
        return best
    extent = float(np.ptp(sketch, axis=0).max(initial=0.0))
    chosen, before = best.unknowns, best.miss
    for seed in range(_STARTS):
        thrown = np.random.default_rng(seed).normal(0.0, _THROWN * extent / (_STARTS - seed), sketch.shape)
        start = side_start(rows, sketch + np.where(rows.network.known, 0.0, thrown))
        other = rough_from(rows, start_of(rows, start), use)
        miss = rows.evaluate(other)[0]
        kept = [keeps_sides(rows, rows.places(each)) for each in (chosen, other)]
        less = robust_misfit(miss, use) < robust_misfit(before, use) - 9.0
        if (kept[1] and not kept[0]) or (less and kept[1] >= kept[0]):
            chosen, before = other, miss
    return best if chosen is best.unknowns else fit_near(rows, chosen, use, loosest)


def _with_images(rows: Rows, fit: Fit, use: Mask, loosest: float) -> tuple[Fit, tuple[MirrorImage, ...]]:
    split = split_of(rows, fit.slope, use, loosest)
    datum = datum_of(rows, rows.places(fit.unknowns), fit.slope, split, loosest)
    laid = laid_on_sketch(rows, fit.unknowns, datum.names)
    on_sketch = Fit(laid, *rows.evaluate(laid), fit.settled)
    search = Search(rows, on_sketch, use, loosest, datum.open, split.free)
    mirrors, best = mirror_images(search)
    return best, mirrors


def _snooped(rows: Rows, fit: Fit, known: tuple[Mask, list[_Found]]) -> tuple[Rows, Fit, Mask, list[_Found]]:
    """Deals with the worst reading, one after the other, until all agree.

    One that is surely bad is left out. One that may be chance, and several that nothing tells apart, count as so much
    less exact that they agree: the ± of what hangs on them stays true until they are measured again. The search
    itself is linear, and is made again where the places have settled anew.
    """
    use, found = known
    for _ in range(_MOST_SEARCHES):
        before, loosest = len(found), _loosest(rows)
        cover = cover_of(fit.slope, split_of(rows, fit.slope, use, loosest))
        rows, use = _searched(rows, (fit.miss, cover), use, found)
        if len(found) == before:
            break
        fit = fit_near(rows, fit.unknowns, use, _loosest(rows))
    return (rows, *_taken_back(rows, fit, use, _loosest(rows)), found)


def _searched(rows: Rows, now: tuple[Array, Array], use: Mask, found: list[_Found]) -> tuple[Rows, Mask]:
    """One linear search; what is found is added to `found`."""
    (miss, cover), use = now, use.copy()
    most = max(1, int(_MOST_DOUBTED * len(use)))
    while sum(len(each.rows) for each in found) < most:
        checks = checks_from(miss, cover, use)
        several = suspects_of(checks, use)
        if not several:
            break
        worst = several[0]
        out = _together(rows, worst)
        size = float(checks.standardized[worst])
        tellable = set(several) <= set(out) and abs(size) > _SURELY
        found.append(_Found(out if tellable else several, _gap(rows, checks, worst), -size, tellable))
        share = 0.0 if tellable else 1.0 / size**2
        for k in out if tellable else several:
            miss, cover = reweighted(miss, cover, k, share)
        if tellable:
            use[list(out)] = False
        else:
            rows = _widened(rows, several, abs(size))
    return rows, use


def _taken_back(rows: Rows, fit: Fit, use: Mask, loosest: float) -> tuple[Fit, Mask]:
    """Readings left out that agree well with what the rest has become are used again."""
    checks = checks_of(fit.miss, fit.slope, split_of(rows, fit.slope, use, loosest), use)
    size = np.abs(checks.standardized)
    again = [k for k in np.flatnonzero(~use) if size[list(_together(rows, int(k)))].max() < _AGREES_AGAIN]
    if not again:
        return fit, use
    use = use.copy()
    use[again] = True
    return fit_near(rows, fit.unknowns, use, loosest), use


def _gap(rows: Rows, checks: Checks, at: int) -> float:
    return float(-checks.gap[at] * _sizes(rows)[at])


def _sizes(rows: Rows) -> Array:
    """The ± [m] with which each row was weighed."""
    return np.array(
        [row.sigma if row.kind == "picture" else s for row, s in zip(rows.rows, rows.sigma, strict=True)]
    )


def _widened(rows: Rows, several: tuple[int, ...], by: float) -> Rows:
    sigma = rows.sigma.copy()
    sigma[[k for k in several if rows.rows[k].kind != "picture"]] *= by
    first = dict(rows.whiten)
    for k in several:
        for at, root in rows.whiten:
            if at <= k < at + len(root):
                first[at] = first[at].copy()
                first[at][k - at] /= by
    return replace(rows, sigma=sigma, whiten=tuple(first.items()))


def _together(rows: Rows, at: int) -> tuple[int, ...]:
    """Rows that are one reading: an along-statement has three, a pick two."""
    row = rows.rows[at]
    if row.kind not in ("along", "picture"):
        return (at,)
    return tuple(
        k
        for k, other in enumerate(rows.rows)
        if (other.kind, other.name, other.points) == (row.kind, row.name, row.points)
    )


def _result(
    rows: Rows,
    fit: Fit,
    parts: tuple[Split, Datum, Checks],
    judged: tuple[Mask, list[_Found], tuple[MirrorImage, ...]],
) -> NetworkResult:
    (split, datum, checks), (use, found, mirrors) = parts, judged
    places, size = rows.places(fit.unknowns), _sizes(rows)
    observed = tuple(
        Observed(
            row,
            row.reads + float(fit.miss[k] * size[k]),
            float(fit.miss[k] * size[k]),
            float(checks.redundancy[k]),
            float(checks.standardized[k]),
            _gap(rows, checks, k),
            float(checks.detectable[k] * size[k]),
            not bool(use[k]),
        )
        for k, row in enumerate(rows.rows)
    )
    spare = int(use.sum()) - split.held.shape[1]
    misfit = float(fit.miss[use] @ fit.miss[use])
    return NetworkResult(
        rows.network,
        places,
        *_covariance(rows, split, datum),
        None if rows.floor < 0 else float(fit.unknowns[rows.floor]),
        observed,
        tuple(Suspect(each.rows, each.gap, each.standardized, not use[each.rows[0]]) for each in found),
        datum.loose,
        mirrors,
        datum.open,
        datum.names,
        without_sides(rows, places),
        spare,
        misfit,
        float(np.sqrt(misfit / spare)) if spare > 0 else None,
        misfit <= global_limit(spare) + 1e-9,
        fit.settled,
    )


def _covariance(rows: Rows, split: Split, datum: Datum) -> tuple[Array, Array, float]:
    """Covariance m² of places (N, 3, N, 3), of the floor with them (N, 3), and variance of the floor's level.

    About the datum, which makes the trace over the places least.
    """
    known = [*range(rows.count), *([rows.floor] if rows.floor >= 0 else [])]
    part = split.covariance[np.ix_(known, known)]
    if datum.gauge.shape[1]:
        moved = np.zeros((len(known), datum.gauge.shape[1]))
        moved[: rows.count] = datum.gauge
        if rows.floor >= 0:
            moved[-1] = [1.0 if name == "up" else 0.0 for name in datum.names]
        shift = np.eye(len(known))
        shift[:, : rows.count] -= moved @ np.linalg.pinv(datum.gauge)
        part = shift @ part @ shift.T
    padded = np.zeros((rows.count + 1, rows.count + 1))
    padded[:-1, :-1] = part[: rows.count, : rows.count]
    column, sign = rows.column, rows.sign
    spread = padded[column[:, :, None, None], column[None, None, :, :]]
    places: Array = spread * sign[:, :, None, None] * sign[None, None, :, :]
    if rows.floor < 0:
        return places, np.zeros(column.shape), 0.0
    with_floor = np.append(part[-1, : rows.count], 0.0)
    return places, with_floor[column] * sign, float(part[-1, -1])
