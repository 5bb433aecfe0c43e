"""The solver: mechanisms as points, bodies and bars; exact poses, freedoms, derivatives and forces."""

from leverwright.linkage.carriers import Carriers, find_carriers
from leverwright.linkage.driving import Driving, mode_weights, pick_drive
from leverwright.linkage.ends import LineLimit, least_room, travel_ends
from leverwright.linkage.freedom import Freedom, find_freedom
from leverwright.linkage.kinematics import Basis, Pose, State
from leverwright.linkage.layout import Index, Layout, find_layouts
from leverwright.linkage.levers import Lever, levers
from leverwright.linkage.mechanism import Bar, Geometry, Guide, Line, Mechanism, Turn, WheelPlace, geometry_of
from leverwright.linkage.mirroring import is_mirror, mirrored_track
from leverwright.linkage.misfit import Misfit, misfit
from leverwright.linkage.path import Nodes
from leverwright.linkage.rates import Rates
from leverwright.linkage.statics import Forces, forces_of, joint_points
from leverwright.linkage.sweep import (
    Assembly,
    OpenPoseError,
    Posed,
    Range,
    assembly_of,
    pose_at,
    posed_from,
    poses_of,
    ranges_of,
    same_shape,
    tracks_of,
)
from leverwright.linkage.track import Stop, Track, Until
from leverwright.linkage.transmission import DrivenEnd, driven_ends, fold

__all__ = [
    "Assembly",
    "Bar",
    "Basis",
    "Carriers",
    "DrivenEnd",
    "Driving",
    "Forces",
    "Freedom",
    "Geometry",
    "Guide",
    "Index",
    "Layout",
    "Lever",
    "Line",
    "LineLimit",
    "Mechanism",
    "Misfit",
    "Nodes",
    "OpenPoseError",
    "Pose",
    "Posed",
    "Range",
    "Rates",
    "State",
    "Stop",
    "Track",
    "Turn",
    "Until",
    "WheelPlace",
    "assembly_of",
    "driven_ends",
    "find_carriers",
    "find_freedom",
    "find_layouts",
    "fold",
    "forces_of",
    "geometry_of",
    "is_mirror",
    "joint_points",
    "least_room",
    "levers",
    "mirrored_track",
    "misfit",
    "mode_weights",
    "pick_drive",
    "pose_at",
    "posed_from",
    "poses_of",
    "ranges_of",
    "same_shape",
    "tracks_of",
    "travel_ends",
]
