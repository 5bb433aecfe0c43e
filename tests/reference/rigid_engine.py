"""The reference mechanisms in Exudyn, an independent general-purpose multibody engine.

Every body is a free rigid body (six coordinates, three when flat); every shared point is a joint of
the engine, every bar one of its distance constraints, every spring one of its spring elements. The
wheels stand on constraints of their height, whose reactions are the ground forces. A pose is the
engine's static solution, so positions, bar forces, joint forces and ground forces all come from one
set of Lagrange multipliers that shares nothing with the product.

Two points shared by two bodies: the first holds all directions, the second only those square to the
hinge line, so that the force along the line is whole at the first.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import exudyn as exu
import numpy as np
from exudyn.itemInterface import (
    DistanceConstraint,
    GenericJoint,
    MarkerBodyPosition,
    MarkerBodyRigid,
    MassPoint,
    MassPoint2D,
    NodePoint,
    NodePoint2D,
    NodeRigidBody2D,
    NodeRigidBodyEP,
    ObjectGround,
    RigidBody,
    RigidBody2D,
    SphericalJoint,
    SpringDamper,
    TorsionalSpringDamper,
)

from tests.reference.vehicle import Array, Vehicle

# Continuation: the engine takes no step longer than this at a wheel [m]; one Newton solve from the
# last pose then stays on the branch of the set-up pose.
LONGEST_STEP = 0.01

OUTPUT = exu.OutputVariableType


@dataclass(frozen=True, slots=True)
class Pose:
    """One static pose, SI: positions [m], spring lengths [m], forces [N], tensions [N, + pulls]."""

    points: dict[str, Array]
    lengths: dict[str, float]
    pushes: dict[str, float]
    tensions: dict[str, float]
    joints: dict[str, Array]
    wheel_forces: dict[str, float]


def _frame_along(axis: Array) -> Array:
    """Right-handed rotation matrix whose first column is the direction of `axis`."""
    first = axis / np.linalg.norm(axis)
    spare = np.eye(3)[int(np.abs(first).argmin())]
    second = np.cross(first, spare)
    second /= np.linalg.norm(second)
    return np.column_stack([first, second, np.cross(first, second)])


class RigidEngine:
    """A vehicle built once in the engine; `pose` moves its wheels and returns what it finds."""

    def __init__(self, vehicle: Vehicle) -> None:
        self.vehicle = vehicle
        self._container = exu.SystemContainer()
        self._system: Any = self._container.AddSystem()
        self._body: dict[str, Any] = {"chassis": self._system.AddObject(ObjectGround())}
        self._origin: dict[str, Array] = {"chassis": np.zeros(3)}
        self._carrier: dict[str, str] = {}
        self._joints: list[tuple[str, Any, Array | None]] = []
        self._guide_on: dict[int, str] = {}
        self._add_bodies()
        self._add_joints()
        self._add_bars_and_springs()
        self._add_wheels()
        self._system.Assemble()
        self._settings = self._make_settings()
        self._height = dict.fromkeys(vehicle.wheels, 0.0)
        self._led = dict.fromkeys(vehicle.rails, 0.0)
        self._wind_up_the_twists()

    # -- building ---------------------------------------------------------------------------

    def _in_space(self, point: Array) -> Array:
        return np.append(point, 0.0) if self.vehicle.flat else point

    def _add_bodies(self) -> None:
        for name, carried in self.vehicle.bodies.items():
            for point in carried:
                self._carrier.setdefault(point, name)
            if name == "chassis":
                continue
            middle = self._in_space(np.mean([self.vehicle.points[p] for p in carried], axis=0))
            self._origin[name] = middle
            if self.vehicle.flat:
                node = self._system.AddNode(NodeRigidBody2D(referenceCoordinates=[*middle[:2], 0]))
                body: Any = RigidBody2D(mass=1, inertia=1, nodeNumber=node)
            else:
                node = self._system.AddNode(NodeRigidBodyEP(referenceCoordinates=[*middle, 1, 0, 0, 0]))
                body = RigidBody(mass=1, inertia=[1, 1, 1, 0, 0, 0], nodeNumber=node)
            self._body[name] = self._system.AddObject(body)
        for name, at in self.vehicle.points.items():
            if name in self._carrier:
                continue
            self._carrier[name] = name
            if name in {held for held, _ in self.vehicle.rails.values()}:
                self._body[name] = self._body["chassis"]
                self._origin[name] = np.zeros(3)
                continue
            self._origin[name] = self._in_space(at)
            if self.vehicle.flat:
                node = self._system.AddNode(NodePoint2D(referenceCoordinates=list(at)))
                self._body[name] = self._system.AddObject(MassPoint2D(mass=1, nodeNumber=node))
            else:
                node = self._system.AddNode(NodePoint(referenceCoordinates=list(at)))
                self._body[name] = self._system.AddObject(MassPoint(mass=1, nodeNumber=node))

    def _local(self, body: str, point: str) -> list[float]:
        return list(self._in_space(self.vehicle.points[point]) - self._origin[body])

    def _marker(self, body: str, point: str) -> Any:
        return self._system.AddMarker(
            MarkerBodyPosition(bodyNumber=self._body[body], localPosition=self._local(body, point))
        )

    def _frame_marker(self, body: str, point: str, frame: Array) -> Any:
        engine: Any = exu  # its type stubs do not know the names of HT's arguments
        place = engine.HT(rotation=frame, translation=self._local(body, point))
        return self._system.AddMarker(MarkerBodyRigid(bodyNumber=self._body[body], localHT=place))

    def _add_joints(self) -> None:
        seen: dict[tuple[str, str], str] = {}
        for point in self.vehicle.points:
            first, *others = self.vehicle.bodies_at(point) or [point]
            for other in others:
                pair = (first, other)
                if pair in seen:
                    self._add_guide(pair, seen[pair], point)
                    continue
                seen[pair] = point
                # The engine gives the force on the second marker: there sits the first body.
                markers = [self._marker(other, point), self._marker(first, point)]
                axes = [1, 1, 0] if self.vehicle.flat else [1, 1, 1]
                joint = SphericalJoint(markerNumbers=markers, constrainedAxes=axes)
                self._joints.append((point, self._system.AddObject(joint), None))

    def _add_guide(self, pair: tuple[str, str], start: str, point: str) -> None:
        """The second point of a hinge: held square to the hinge line only."""
        frame = _frame_along(self.vehicle.points[point] - self.vehicle.points[start])
        markers = [self._frame_marker(body, point, frame) for body in pair]
        guide = GenericJoint(markerNumbers=markers, constrainedAxes=[0, 1, 1, 0, 0, 0])
        self._joints.append((point, self._system.AddObject(guide), frame))
        self._guide_on[len(self._joints) - 1] = pair[0]

    def _add_bars_and_springs(self) -> None:
        self._rail_marker: dict[str, list[Any]] = {}
        self._bar = {}
        for name, ends in self.vehicle.bars.items():
            markers = [self._marker(self._carrier[end], end) for end in ends]
            for held, (point, _) in self.vehicle.rails.items():
                if point in ends:
                    self._rail_marker.setdefault(held, []).append(markers[ends.index(point)])
            bar = DistanceConstraint(markerNumbers=markers, distance=self.vehicle.bar_length[name])
            self._bar[name] = self._system.AddObject(bar)
        self._spring = {}
        for name, ends in self.vehicle.springs.items():
            markers = [self._marker(self._carrier[end], end) for end in ends]
            self._spring[name] = self._system.AddObject(SpringDamper(markerNumbers=markers))
            self._load_by_law(name)

        self._twist = {}
        for name, spring in self.vehicle.twists.items():
            one, two = (self.vehicle.bodies[body] for body in spring.bodies)
            shared = [point for point in self.vehicle.points if point in one and point in two]
            along = _frame_along(self.vehicle.points[shared[1]] - self.vehicle.points[shared[0]])
            frame = along[:, [1, 2, 0]]  # the engine turns about its third direction
            markers = [self._frame_marker(body, shared[0], frame) for body in spring.bodies]
            self._twist[name] = self._system.AddObject(TorsionalSpringDamper(markerNumbers=markers))

    def _wind_up_the_twists(self) -> None:
        """Rate and twist of hinge springs; bump says which way winds them up."""
        if not self._twist:
            return
        self._step(dict.fromkeys(self._height, 1e-4), self._led)
        for name, number in self._twist.items():
            turned = float(self._system.GetObjectOutput(number, OUTPUT.Rotation))
            spring = self.vehicle.twists[name]
            self._system.SetObjectParameter(number, "stiffness", spring.rate)
            self._system.SetObjectParameter(number, "offset", -spring.twist * np.sign(turned))
        self._step(dict.fromkeys(self._height, 0.0), self._led)

    def _add_wheels(self) -> None:
        self._ground = {}
        self._wheel = {}
        for name, (body, centre) in self.vehicle.wheels.items():
            below = self._marker("chassis", centre)
            self._ground[name] = below
            axes = [int(i == self.vehicle.up) for i in range(3)]
            height = SphericalJoint(markerNumbers=[below, self._marker(body, centre)], constrainedAxes=axes)
            self._wheel[name] = self._system.AddObject(height)

    @staticmethod
    def _make_settings() -> Any:
        settings = exu.SimulationSettings()
        settings.solution.file.write = False
        settings.staticSolver.verboseMode = 0
        settings.staticSolver.newton.relativeTolerance = 1e-11
        settings.staticSolver.newton.absoluteTolerance = 1e-12
        return settings

    # -- loading and moving -------------------------------------------------------------------

    def _load_by_law(self, spring: str) -> None:
        law = self.vehicle.laws[spring]
        number = self._spring[spring]
        self._system.SetObjectParameter(number, "stiffness", law.rate)
        self._system.SetObjectParameter(number, "referenceLength", law.length_open + law.preload)
        self._system.SetObjectParameter(number, "force", -law.gas)

    def _load_by_unit(self, spring: str, push: float) -> None:
        number = self._spring[spring]
        self._system.SetObjectParameter(number, "stiffness", 0.0)
        self._system.SetObjectParameter(number, "force", -push)

    def _place(self, marker: Any, at: Array) -> None:
        self._system.SetMarkerParameter(marker, "localPosition", list(self._in_space(at)))

    def _step(self, travel: dict[str, float], led: dict[str, float]) -> None:
        for wheel, (_, centre) in self.vehicle.wheels.items():
            at = self.vehicle.points[centre].copy()
            at[self.vehicle.up] += travel[wheel]
            self._place(self._ground[wheel], at)
        for held, (point, along) in self.vehicle.rails.items():
            for marker in self._rail_marker[held]:
                self._place(marker, self.vehicle.points[point] + led[held] * along)
        self._system.SolveStatic(self._settings, updateInitialValues=True)
        self._height, self._led = dict(travel), dict(led)

    def move(self, travel: dict[str, float], led: dict[str, float] | None = None) -> None:
        """Lead every wheel to its travel [m] and every held point along its line [m]."""
        led = led or dict.fromkeys(self.vehicle.rails, 0.0)
        far = [abs(travel[w] - z) for w, z in self._height.items()]
        far += [abs(led[h] - x) for h, x in self._led.items()]
        steps = max(1, int(np.ceil(max(far) / LONGEST_STEP)))
        start, start_led = self._height, self._led
        for share in np.linspace(0, 1, steps + 1)[1:]:
            self._step(
                {w: z + share * (travel[w] - z) for w, z in start.items()},
                {h: x + share * (led[h] - x) for h, x in start_led.items()},
            )

    # -- reading ------------------------------------------------------------------------------

    def _where(self, body: str, point: str) -> Array:
        if point in {held for held, _ in self.vehicle.rails.values()}:
            (held,) = [h for h, (p, _) in self.vehicle.rails.items() if p == point]
            return self.vehicle.points[point] + self._led[held] * self.vehicle.rails[held][1]
        at = self._system.GetObjectOutputBody(
            self._body[body], OUTPUT.Position, localPosition=self._local(body, point)
        )
        return np.array(at[:2] if self.vehicle.flat else at)

    def points(self) -> dict[str, Array]:
        """Where every point now is [m]."""
        return {name: self._where(self._carrier[name], name) for name in self.vehicle.points}

    def _chassis_R(self, body: str) -> Array:
        if body == "chassis":
            return np.eye(3)
        turned = self._system.GetObjectOutputBody(self._body[body], OUTPUT.RotationMatrix)
        return np.array(turned).reshape(3, 3)

    def _joint_forces(self) -> dict[str, Array]:
        forces = {point: np.zeros(3) for point, _, _ in self._joints}
        for index, (point, number, frame) in enumerate(self._joints):
            if frame is None:
                forces[point] += self._system.GetObjectOutput(number, OUTPUT.Force)
                continue
            in_joint = self._system.GetObjectOutput(number, OUTPUT.ForceLocal)
            first = self._guide_on[index]
            # The engine gives the force on the second marker, in the frame of the first.
            forces[point] -= self._chassis_R(first) @ frame @ in_joint
        return {p: f[:2] if self.vehicle.flat else f for p, f in forces.items()}

    def wheel_forces(self) -> dict[str, float]:
        """Vertical ground force [N] on each wheel, + up."""
        read = self._system.GetObjectOutput
        return {w: float(read(n, OUTPUT.Force)[self.vehicle.up]) for w, n in self._wheel.items()}

    def pose(self, travel: dict[str, float], led: dict[str, float] | None = None) -> Pose:
        """The static pose with the springs' own laws at `travel` [m]."""
        for spring in self.vehicle.springs:
            self._load_by_law(spring)
        self.move(travel, led)
        read = self._system.GetObjectOutput
        lengths = {s: float(read(n, OUTPUT.Distance)) for s, n in self._spring.items()}
        for spring, length in lengths.items():
            law = self.vehicle.laws[spring]
            if length > law.length_open + law.preload:
                raise ValueError(f"{spring} hangs loose at {travel}: outside the reference's law")
        return Pose(
            points=self.points(),
            lengths=lengths,
            pushes={s: -float(read(n, OUTPUT.ForceLocal)) for s, n in self._spring.items()},
            tensions={b: -float(read(n, OUTPUT.Force)) for b, n in self._bar.items()},
            joints=self._joint_forces(),
            wheel_forces=self.wheel_forces(),
        )

    def lengths(self, travel: dict[str, float]) -> dict[str, float]:
        """Spring lengths [m] alone at `travel` [m], however long: the springs push nothing."""
        for spring in self.vehicle.springs:
            self._load_by_unit(spring, 0.0)
        self.move(travel)
        read = self._system.GetObjectOutput
        return {s: float(read(n, OUTPUT.Distance)) for s, n in self._spring.items()}

    def ratios(
        self, travel: dict[str, float], led: dict[str, float] | None = None
    ) -> dict[str, dict[str, float]]:
        """Motion ratio of each spring by each wheel: the ground force that holds a push of 1 N."""
        found = {}
        for loaded in self.vehicle.springs:
            for spring in self.vehicle.springs:
                self._load_by_unit(spring, float(spring == loaded))
            self.move(travel, led)
            found[loaded] = self.wheel_forces()
        return found
