"""Invented vehicles with lengths that a reader can check: every lever is made of 3-4-5 triangles."""

from leverwright.project import Project

# Rocker: pivot to link hole (60, 80) = 100 mm, pivot to spring hole (-120, -50) = 130 mm,
# link hole to spring hole (180, 130) = 222.036 mm. Link: 330 mm upright. Arm tab to pivot 240 mm.
FLAT = """
leverwright = 1
title = "Side of a cart (invented)"
pose = "on blocks"
plane = "xz"

[points]
arm-pivot = [300, 150]
hub = [-100, 150]
arm-tab = [60, 150]
rocker-pivot = [0, 400]
link-hole = [60, 480]
spring-hole = [-120, 350]
spring-eye = [-150, 60]

[bodies]
chassis = ["arm-pivot", "rocker-pivot", "spring-eye"]
arm = ["arm-pivot", "hub", "arm-tab"]
rocker = ["rocker-pivot", "link-hole", "spring-hole"]

[bars.link]
ends = ["arm-tab", "link-hole"]

[shocks.found]
rate = 20
length_open = 318
length_closed = 246
preload = 4

[springs.spring]
ends = ["spring-hole", "spring-eye"]
shock = "found"

[wheels.wheel]
body = "arm"
centre = "hub"
radius = 205
load = 62
unsprung = 11
"""

# The rocker of each side turns about a line along x; its plate stands in the plane x = 380.
# Pivot (y 210, z 265), link hole (150, 345): 100 mm; spring hole (330, 315): 130 mm.
SPACE = """
leverwright = 1
title = "Beam axle cart (invented)"
pose = "on blocks"
mirror = true

[points]
pivot-front-left = [410, 210, 265]
pivot-rear-left = [350, 210, 265]
link-hole-left = [380, 150, 345]
spring-hole-left = [380, 330, 315]
spring-eye-left = [380, 330, 600]
tab-left = [380, 150, 100]
hub-left = [380, 400, 100]
arm-rear-left = [0, 200, 120]
tab-high = [380, 0, 200]
arm-high = [0, 0, 210]

[bodies]
chassis = ["pivot-front-left", "pivot-rear-left", "spring-eye-left", "arm-rear-left", "arm-high"]
rocker-left = ["pivot-front-left", "pivot-rear-left", "link-hole-left", "spring-hole-left"]
axle = ["tab-left", "hub-left", "tab-high"]

[bars.link-left]
ends = ["tab-left", "link-hole-left"]
adjust = [-10, 15]

[bars.arm-left]
ends = ["hub-left", "arm-rear-left"]

[bars.arm-top]
ends = ["tab-high", "arm-high"]

[shocks.found]
rate = 20
length_open = 318
length_closed = 246
preload = 4

[springs.spring-left]
ends = ["spring-hole-left", "spring-eye-left"]
shock = "found"

[wheels.front-left]
body = "axle"
centre = "hub-left"
radius = 205
load = 62
unsprung = 11
"""


def flat(**changes: str) -> Project:
    """The flat drawing, with some of its lines replaced: `changes` maps old text to new by pairs."""
    return read(FLAT, **changes)


def space(**changes: str) -> Project:
    """The vehicle in space."""
    return read(SPACE, **changes)


def read(text: str, **changes: str) -> Project:
    """`text` with `name_1=old, name_2=new` pairs replaced; each old text must be there."""
    old_new = list(changes.values())
    for old, new in zip(old_new[::2], old_new[1::2], strict=True):
        assert old in text, old
        text = text.replace(old, new)
    return Project.from_text(text, "cart.toml")
