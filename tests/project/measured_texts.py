"""Vehicles of our own invention with what was measured of them, that the tests of this folder read and spoil.

MEASURED uses every key of the measuring tables; its numbers are legal, and need not agree with one another.
"""

MEASURED = """\
leverwright = 1
title = "Measured cart"
pose = { standing = "usual" }
mirror = true
tape_error = 1.5                     # mm

[points]
pivot-front-left = [412, 210, 265]
pivot-rear-left  = [312, 210, 265]
hole-left        = { sketch = [398, 250, 318] }
eye-left         = [398, 300, 565]
hub-left         = { at = [398, 500, 205], error = 2 }
mark-left        = { sketch = [398, 500, 0] }
dot              = { sketch = [100, 0, 300] }

[bodies]
chassis     = ["pivot-front-left", "pivot-rear-left", "eye-left"]
rocker-left = ["pivot-front-left", "pivot-rear-left", "hole-left", "hub-left"]

[shocks.salvaged]                    # rate and preload from the bench
length_open = 318
length_closed = 246

[shocks.spare]
pile = "A"
friction = 12
wire = { diameter = 6, outside = 52, active = 7.5, modulus = "78.5 GPa ± 3.5 %" }

[springs.spring-left]
ends = ["hole-left", "eye-left"]
shock = "salvaged"

[springs.spring-right]
shock = "spare"

[wheels.front-left]
body = "rocker-left"
centre = "hub-left"
radius = 205
unsprung = 6
tyre = { loads = [20, "40 ± 0.2 kg", "66 lb"], heights = [205, "200 ± 0.5 mm", 202.5] }
pressure = "1.8 bar"

[tape.hole]
between = ["pivot-front-left", "hole-left"]
reads = ["412 ± 1 mm", 413, "16 1/4 in"]

[tape.across]
between = ["hub-left", "hub-right"]
reads = 1001
error = 2

[tape.hub-height]
height = "hub-left"
reads = 205

[tape.hub-offset]
offset = "hub-left"
reads = 500.5

[tape.hub-ahead]
ahead = ["dot", "hub-left"]
reads = 298

[tape.hub-plumb]
plumb = ["mark-left", "hub-left"]

[tape.pivots-level]
level = ["pivot-front-left", "pivot-rear-left", "pivot-front-right"]
error = 1

[tape.on-the-tube]
along = ["pivot-rear-left", "pivot-front-left"]
point = "dot"
reads = -210

[tape.which-side]
side = "hole-left"
of = ["pivot-front-left", "pivot-rear-left", "dot"]
is = "above"

[masses.frame]
mass = 45
at = [200, 0, "300 ± 20 mm"]

[masses.driver]
mass = "80 ± 1 kg"
at = [120, 0, 560]
error = 15

[loads.empty]
scale = { front-left = 22, front-right = 23.5 }

[loads.usual]
carries = ["frame", "driver"]

[loads.bare]                         # weighed below

[coupling]
at = [1700, 0, 380]
height = 400

[scale]
error = 0.5
known = { mass = 20, reads = "20.4 kg" }
total = 126

[weighed.front-left]
reads = [61.5, 62, 62.5]
raised = 38

[weighed.front-right]
reads = "64 ± 0.5 kg"
plank = { load = 400, scale = 1000, alone = 5.1 }

[weighed.bare-left]
wheel = "front-left"
set = "bare"
reads = 15

[weighed.bare-right]
wheel = "front-right"
set = "bare"
reads = 16

[tilt]
lifted = "front"
by = 250
level = 60
tilted = 65
blocked = true
set = "usual"
total = 126

[bench.salvaged]
marks = [0, 10, "20 ± 0.5 mm", 30, 40]
in = [10.5, "290 N", 47.5, "148 lb", 84.5]
out = [6.5, 24.5, 43.0, 61.5, "-"]
plank = { load = 400, scale = 1000, alone = 2.1 }
rod = 13.7
returned = { by = 3, of = 30, in = 10 }
error = 0.5
mark_error = 1

[bench.A]
lengths = [330, 320, 310]
in = ["105 N", "200 N", "310 N"]

[pile.A]
length_open = 330
length_closed = 260
rate = 16
preload = 5
gas = 40
friction = 30
wire = { diameter = 7, mean = 46, active = 6.5 }
oil = "film"
rod = "straight"

[pile.B]

[photos.side]
picture = "side-0f3a.png"
view = "side"
depth = 210
corners = [[120, 80], [520, 100], [560, 430], [90, 400]]
rectangle = [400, 300]
camera = 3000
lens = -0.08
error = 1.5
size = [640, 480]
second_corners = [[300, 80], [420, 85], [425, 190], [295, 185]]
second_rectangle = [100, 90]
straight = [[[10, 20], [300, 22], [620, 27]]]
picks = { hub-left = [301.2, 250], dot = [99, 120] }

[travels.front]
wheel = "front-left"
spring = "spring-left"
wheel_moved = [0, 20, 40]
spring_moved = [0, 31, 62]
"""

MEASURED_FLAT = """\
leverwright = 1
plane = "xz"
pose = "standing"

[points]
pivot = [0, 300]
hub = [350, 210]
hole = { sketch = [200, 255] }
eye = [120, 560]

[bodies]
chassis = ["pivot", "eye"]
arm = ["pivot", "hub", "hole"]

[shocks.coil]
wire = { diameter = 8, mean = 60, active = 6 }
length_open = 330
length_closed = 250
preload = 0

[springs.main]
ends = ["hole", "eye"]
shock = "coil"

[wheels.rear]
body = "arm"
centre = "hub"
radius = 200
unsprung = 9

[tape.first]
between = ["pivot", "hole"]
reads = 205

[tape.second]
between = ["hub", "hole"]
reads = 156

[tape.which]
side = "hole"
of = ["pivot", "hub"]
is = "below"

[masses.all]
mass = 50
at = [300, 400]

[loads.usual]
scale = { rear = 50 }

[photos.side]
picture = "a.jpg"
view = "side"
depth = 0
corners = [[0, 0], [0, 300], [400, 300], [400, 0]]
rectangle = [300, 400]
"""
