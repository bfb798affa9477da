"""The invented tea-sampler box of tea_sampler_box.scad, where its numbers are explained, in solid2.

    python tea_sampler_box.py > box.scad

The one file that it prints needs no other, and keeps the names of the values that makers change.
"""

from solid2 import CustomizerSliderVariable as Slider
from solid2 import cube

from scadgen import BreakAwayLink, SideCones, to_solid2

WALL, BASE, BACK = 4, 2.4, 9.5
DIVIDER, LOOSE, GAP, EPS = 2, 0.3, 1.5, 0.01

HINGE = SideCones(
    swing=180,
    length=60,
    knuckles=2,
    cone=12,
    tip=3,
    wall=4,
    leaf_length=0,
    leaf_thickness=BASE,
    facets=32,
)
AXIS = HINGE.axis_at
WEBS = BreakAwayLink(edge=80, thickness=DIVIDER, gap=GAP, border=8, webs=4)

# In quotes, because solid2 takes a plain 0 for no minimum.
lid_angle = Slider("lid_angle", 0, "0", 180, 5, "0 is how it prints, 180 is closed")
width = Slider("width", 100, 90, 160)
depth = Slider("depth", 66, 40, 120)
box_height = Slider("box_height", 14, 10, 16)
clearance = Slider("clearance", 0.3, 0.25, 0.5, 0.05, "Air in the hinge")


def hinge(part, **given):
    return to_solid2(HINGE, part, clearance=clearance, **given)


def webs(part):
    return to_solid2(WEBS, part).rotate(180).back(BACK + depth + GAP / 2)


def tray(height):
    inside = cube([width - 2 * WALL, depth - 2 * WALL, height])
    outside = cube([width, depth, height])
    return (outside - inside.translate([WALL, WALL, BASE])).translate(
        [-width / 2, -BACK - depth, 0]
    )


def rib(off):
    bar = cube([2 + EPS, 2, box_height])
    return bar.translate([width / 2 - WALL - 2, off - 1 - BACK - depth / 2, 0])


def divider():
    long, high = width - 2 * (WALL + LOOSE), 2 * (AXIS - BASE - LOOSE)
    return cube([long, high, DIVIDER]).translate([-long / 2, -BACK - depth - GAP - high, 0])


def box():
    off = DIVIDER / 2 + LOOSE + 1
    ribs = rib(off) + rib(-off)
    body = tray(box_height) - hinge("fixed_relief") - webs("fixed_relief")
    insert = divider() - webs("moving_relief") + webs("both")
    return body + hinge("fixed") + ribs + ribs.mirror([1, 0, 0]) + insert


def lid():
    tab = cube([24, 8, BASE]).translate([-12, BACK + depth - EPS, 0])
    body = tray(2 * AXIS - box_height).mirror([0, 1, 0]) - hinge("moving_relief")
    return body + tab


def scene():
    return box() + hinge("moving", angle=lid_angle)(lid())


if __name__ == "__main__":
    print(scene().as_scad())
