"""Vehicles of our own invention, as texts, that the tests of this folder read and spoil.

WHOLE uses every key of the format that this version reads, but `coils_touch`; it is legal, not a good design.
"""

WHOLE = """\
leverwright = 1                      # version of this file format
title = "Garden cart"
pose = "on blocks"
error = 1.0                          # mm
mirror = true

[points]
pivot-front-left = [412, 210, 265]
pivot-rear-left  = [312, 210, 265]
link-hole-left   = { at = [398, 214, 318], error = 0.5 }
spring-hole-left = [398, 250, 265]
spring-eye-left  = [398, 300, 565]
gas-eye-left     = [380, 300, 560]
tab-left         = [400, 214, 100]
hub-left         = ["412 ± 2 mm", 600, 205]
spindle-left     = [412, 650, 205]
arm-front-left   = [300, 200, 100]
arm-rear-left    = [200, 200, 100]
strap-top-left   = [300, 220, 300]
strap-low-left   = [300, 230, 110]
tie-left         = [380, 560, 205]
rack-left        = [380, 200, 205]
head-top         = [500, 0, 600]
head-low         = [480, 0, 400]
panhard-frame    = { at = [200, 300, 150], alone = true }
panhard-arm      = [200, -300, 150]

[bodies]
chassis    = ["pivot-front-left", "pivot-rear-left", "spring-eye-left", "gas-eye-left",
              "arm-front-left", "arm-rear-left", "strap-top-left",   # the frame
              "head-top", "head-low", "panhard-frame"]
rocker-left = ["pivot-front-left", "pivot-rear-left", "link-hole-left", "spring-hole-left"]
arm-left    = ["arm-front-left", "arm-rear-left", "tab-left", "hub-left", "spindle-left", "strap-low-left", "tie-left"]
handlebar   = ["head-top", "head-low"]
beam        = ["panhard-arm", "tab-left"]

[bars.link-left]
ends = ["tab-left", "link-hole-left"]
length = 219                         # a little longer than drawn
adjust = [-10, 15]
pitch = 1.25

[bars.tie-left]
ends = ["tie-left", "rack-left"]

[bars.panhard]
ends = ["panhard-frame", "panhard-arm"]

[shocks.salvaged]                    # from the scrap pile
rate = "17.5 N/mm ± 5 %"
length_open = 318
length_closed = 246
preload = 4
gas = 60
friction = 25
stop = { touches = 20, rate = 120 }

[shocks.rubber]
length_open = 320
length_closed = 250
preload = -3
table = [[0, 84, 62], [20, 450, 410]]
stop = { touches = 10, table = [[0, 0], [10, 900]] }

[springs.spring-left]
ends = ["spring-hole-left", "spring-eye-left"]
shock = "salvaged"

[springs.gas-left]
ends = ["spring-hole-left", "gas-eye-left"]
shock = "rubber"

[springs.twist-left]
hinge = ["arm-left", "chassis"]
rate = "12 N·m/deg"
twist = 4

[straps.droop-left]
ends = ["strap-top-left", "strap-low-left"]
length = 340
rate = 800

[held.rack-left]
point = "rack-left"
along = [0, 2, 0]
range = [-40, 30]

[held.bars]
bodies = ["handlebar", "chassis"]
range = [-35, 35]

[goals]
sag = [30, 40]
frequency = [1.5, 2.2]
travel = { bump = 60, droop = 30 }
excitation = { speed = "1 m/s", every = "600 mm" }

[wheels.front-left]
body = "arm-left"
centre = "hub-left"
axis = ["hub-left", "spindle-left"]
radius = "8 in"
load = 62
unsprung = 11
tyre = 90
brake = "arm-left"

[wheels.front-right]
load = 64
"""

FLAT = """\
leverwright = 1
plane = "xz"
pose = "standing"

[points]
pivot = [0, 300]
hub = [350, 210]
hole = [200, 255]
eye = [120, 560]

[bodies]
chassis = ["pivot", "eye"]
arm = ["pivot", "hub", "hole"]

[shocks.coil]
rate = 20
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
load = 50
unsprung = 9
"""
