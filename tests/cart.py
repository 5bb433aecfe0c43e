"""One vehicle of our own invention, for the server's tests and the page's."""

CART = """\
leverwright = 1
title = "Cart of the tests, invented"
pose = "on blocks"
error = 1.0
mirror = true

[points]
arm-pivot-in-left = [0, 260, 210]
arm-pivot-out-left = [0, 320, 210]
hub-left = [-380, 330, 205]
spindle-left = [-380, 400, 205]
tab-left = [-200, 290, 245]
rocker-pivot-in-left = [-180, 270, 480]   # the plate on the rail
rocker-pivot-out-left = [-180, 310, 480]
link-hole-left = [-245, 290, 480] # the comment stays
spring-hole-left = [-180, 290, 545]
spring-eye-left = [95, 290, 545]

[bodies]
chassis = [
  "arm-pivot-in-left", "arm-pivot-out-left", "rocker-pivot-in-left", "rocker-pivot-out-left", "spring-eye-left",
]
arm-left = ["arm-pivot-in-left", "arm-pivot-out-left", "hub-left", "spindle-left", "tab-left"]
rocker-left = ["rocker-pivot-in-left", "rocker-pivot-out-left", "link-hole-left", "spring-hole-left"]

[bars.link-left]
ends = ["tab-left", "link-hole-left"]
adjust = [-10, 15]

[shocks.salvaged]
rate = 17.5
length_open = 290
length_closed = 215
preload = 4

[springs.spring-left]
ends = ["spring-hole-left", "spring-eye-left"]
shock = "salvaged"

[wheels.rear-left]
body = "arm-left"
centre = "hub-left"
axis = ["hub-left", "spindle-left"]
radius = 205
load = 62
unsprung = 9
"""
