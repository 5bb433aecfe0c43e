"""A study as a drawing with its findings, for a notebook: plain SVG and HTML, every name escaped, no script."""

from __future__ import annotations

from collections.abc import Iterable
from html import escape

import numpy as np

from leverwright.findings import judge
from leverwright.geometry import Array
from leverwright.quantity import say_ratio
from leverwright.study import Study

__all__ = ["study_html"]

_WIDTH, _HEIGHT, _EDGE = 640, 360, 24
_MARKS = {"stop": "&#9632; stop", "fix": "&#9650; fix", "watch": "&#9679; watch", "good": "&#10003; good"}
_INK = "currentColor"  # the notebook's own, light or dark
_SIDE, _FRONT = [0, 2], [1, 2]


def study_html(study: Study) -> str:
    """The vehicle from the side (or front, when drawn so) at its set-up pose, then each finding's sentence."""
    findings = "".join(
        f"<li><b>{_MARKS[found.severity]}</b> {escape(found.sentence)} <small>({escape(found.id)})</small></li>"
        for found in judge(study)
    )
    ratios = "".join(
        f"<li>{escape(wheel)}, {escape(spring)}: {escape(say_ratio(answer.value))}</li>"
        for wheel, answers in study.answers.items()
        for spring, answer in answers.heave_ratio.items()
        if answer.value is not None and not answer.per_metre
    )
    return (
        f"<div><h3>{escape(study.project.title)}</h3>{_drawing(study)}"
        f"<ul>{ratios}</ul><ul>{findings or '<li>Nothing to mend was found.</li>'}</ul>"
        "<p><small>Strength, clearance and welds are not checked by this version. A margin is never permission."
        "</small></p></div>"
    )


def _drawing(study: Study) -> str:
    project = study.project
    view = _view(study)
    places = {name: np.array(point.at)[view] for name, point in project.points.items()}
    rings = [(places[w.centre], w.radius.value) for w in project.wheels.values() if w.centre in places]
    to_px = _scale([*places.values(), *(c + r * s for c, r in rings for s in (-1.0, 1.0))])
    parts = [_circle(to_px(c), r * to_px.per_metre, 'fill="none" stroke-width="2"') for c, r in rings]
    for body in project.bodies.values():
        held = [to_px(places[p]) for p in body.points if p in places]
        dash = ' stroke-dasharray="4 3" opacity="0.5"' if body.name == "chassis" else ""
        parts.append(_polygon(held, f'fill-opacity="0.08" fill="{_INK}" stroke-width="1.5"{dash}'))
    bars = [to_px(places[p]) for bar in project.bars.values() for p in bar.ends]
    parts += [_line(a, b, 'stroke-width="4"') for a, b in zip(bars[::2], bars[1::2], strict=True)]
    for spring in project.springs.values():
        if spring.ends is not None:
            parts.append(_coil(*(to_px(places[p]) for p in spring.ends)))
    parts += [
        f"<g>{_circle(to_px(at), 3.5, '')}<title>{escape(name)}</title></g>" for name, at in places.items()
    ]
    return (
        f'<svg viewBox="0 0 {_WIDTH} {_HEIGHT}" width="{_WIDTH}" role="img" '
        f'stroke="{_INK}" stroke-width="1" fill="none">'
        f"<title>{escape(project.title)}, at its set-up pose</title>{''.join(parts)}</svg>"
    )


def _view(study: Study) -> list[int]:
    """From the side or from the front: as drawn, or where more of a vehicle in space can be seen."""
    if study.project.plane is not None:
        return _SIDE if study.project.plane == "xz" else _FRONT
    spread = np.ptp(study.mechanism.points, axis=0)
    return _SIDE if spread[0] > spread[1] else _FRONT


class _ToPixels:
    """Metres to pixels, up upward."""

    def __init__(self, low: Array, per_metre: float) -> None:
        self.low, self.per_metre = low, per_metre

    def __call__(self, place: Array) -> tuple[float, float]:
        at = (place - self.low) * self.per_metre
        return float(_EDGE + at[0]), float(_HEIGHT - _EDGE - at[1])


def _scale(places: Iterable[Array]) -> _ToPixels:
    corners = np.stack(list(places)) if places else np.zeros((1, 2))
    low, high = corners.min(axis=0), corners.max(axis=0)
    span = np.maximum(high - low, 1e-3)
    room = np.array([_WIDTH - 2 * _EDGE, _HEIGHT - 2 * _EDGE])
    return _ToPixels(low, float((room / span).min()))


def _circle(at: tuple[float, float], radius: float, style: str) -> str:
    return f'<circle cx="{at[0]:.1f}" cy="{at[1]:.1f}" r="{radius:.1f}" {style}/>'


def _line(a: tuple[float, float], b: tuple[float, float], style: str) -> str:
    return f'<line x1="{a[0]:.1f}" y1="{a[1]:.1f}" x2="{b[0]:.1f}" y2="{b[1]:.1f}" {style}/>'


def _polygon(corners: list[tuple[float, float]], style: str) -> str:
    return f'<polygon points="{" ".join(f"{x:.1f},{y:.1f}" for x, y in _round(corners))}" {style}/>'


def _round(corners: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """Corners in order round their middle, so that a plate does not cross itself."""
    if len(corners) < 3:
        return corners
    middle = np.mean(corners, axis=0)
    return sorted(corners, key=lambda c: float(np.arctan2(c[1] - middle[1], c[0] - middle[0])))


def _coil(a: tuple[float, float], b: tuple[float, float]) -> str:
    start, end = np.array(a), np.array(b)
    along = end - start
    across = np.array([-along[1], along[0]]) / max(float(np.hypot(*along)), 1e-9) * 7.0
    turns = [
        start + along * (0.15 + 0.7 * k / 12) + across * (0 if k in (0, 12) else (-1) ** k) for k in range(13)
    ]
    joined = " ".join(f"{x:.1f},{y:.1f}" for x, y in (start, *turns, end))
    return f'<polyline points="{joined}" stroke-width="1.5"/>'
