"""Project texts of PUBLISHED rows A5 to A8."""

BELL_CRANK = """
leverwright = 1
plane = "xz"
[points]
pivot = [0, 0]
effort = [500, 0]
spring-hole = [0, 200]
spring-eye = [-300, 200]
[bodies]
chassis = ["pivot", "spring-eye"]
crank = ["pivot", "effort", "spring-hole"]
[shocks.coil]
rate = 500
length_open = 310
length_closed = 200
preload = 0
[springs.spring]
ends = ["spring-hole", "spring-eye"]
shock = "coil"
[wheels.wheel]
body = "crank"
centre = "effort"
radius = 100
load = 200
"""

TRAILING_ARM = """
leverwright = 1
plane = "xz"
[points]
pivot = [0, 0]
hub = [400, 0]
spring-hole = [250, 0]
spring-eye = [150, 300]
[bodies]
chassis = ["pivot", "spring-eye"]
arm = ["pivot", "hub", "spring-hole"]
[shocks.coil]
rate = 20
length_open = 330
length_closed = 240
preload = 0
[springs.spring]
ends = ["spring-hole", "spring-eye"]
shock = "coil"
[wheels.wheel]
body = "arm"
centre = "hub"
radius = 200
load = 20
"""

ROCKER_TRAIN = """
leverwright = 1
plane = "xz"
[points]
arm-pivot = [0, 0]
hub = [420, 0]
arm-hole = [260, 20]
rocker-pivot = [120, 310]
rocker-hole = [215, 330]
spring-hole = [95, 395]
spring-eye = [-140, 372]
[bodies]
chassis = ["arm-pivot", "rocker-pivot", "spring-eye"]
arm = ["arm-pivot", "hub", "arm-hole"]
rocker = ["rocker-pivot", "rocker-hole", "spring-hole"]
[bars.link]
ends = ["arm-hole", "rocker-hole"]
[shocks.coil]
rate = 18
length_open = 270
length_closed = 200
preload = 0
[springs.spring]
ends = ["spring-hole", "spring-eye"]
shock = "coil"
[wheels.wheel]
body = "arm"
centre = "hub"
radius = 200
load = 40
"""
