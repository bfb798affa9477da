// Tea-sampler box, invented for this example: a shallow box for sachets, printed open and flat in
// one go, as it is here on a bed of 180 x 180 mm, without supports. Lengths in mm.
//
// The lid lies behind the box and folds over by 180 degrees. A loose divider lies in front of the
// box and snaps off. Hinge and webs come from the library; all else is drawn here.
//
// Why it closes: half a turn about an axis at height a carries the rim of the lid from lid_height
// to 2 * a - lid_height, which is box_height. So box_height + lid_height = 2 * a = 20. The walls
// of both stand equally far from the axis, so the rims meet all around, and not before.
//
// Each joint is merged in the same way: take its relief away from the body, then add its part. The
// lid stands under the call that draws its side of the hinge, so it turns with it.

use <../library/side_cones.scad>
use <../library/break_away_link.scad>

// 0 is how it prints, 180 is closed
lid_angle = 0;  // [0:5:180]
width = 100;  // [90:1:160]
depth = 66;  // [40:1:120]
box_height = 14;  // [10:1:16]
// Air in the hinge
clearance = 0.3;  // [0.25:0.05:0.5]

/* [Hidden] */
cone = 12;
socket = 4;  // wall around the hinge's sockets
axis = side_cones_size("axis_height", cone = cone, wall = socket);
lid_height = 2 * axis - box_height;
wall = 4;
base = 2.4;  // as thick as the hinge's leaves, which vanish in it
back = 9.5;  // from the axis to the walls; the relief, 11.55 in radius, leaves 1.95 of the wall
divider = 2;
loose = 0.3;  // air around the divider
gap = 1.5;  // from the box to the divider, spanned by the webs
eps = 0.01;

box();
hinge("moving", lid_angle) lid();

module box() {
  difference() {
    tray(box_height);
    hinge("fixed_relief");
    webs("fixed_relief");
  }
  hinge("fixed");
  for (side = [0, 1], rib = [-1, 1]) mirror([side, 0, 0]) rib(rib * (divider / 2 + loose + 1));
  difference() {
    divider();
    webs("moving_relief");
  }
  webs("both");
}

module lid() {
  difference() {
    mirror([0, 1, 0]) tray(lid_height);
    hinge("moving_relief");
  }
  translate([-12, back + depth - eps, 0]) cube([24, 8, base]);  // thumb tab
}

module hinge(part, angle = 0) {
  side_cones(
    part = part, angle = angle, swing = 180, length = 60, knuckles = 2, cone = cone, tip = 3,
    wall = socket, clearance = clearance, leaf_length = 0, leaf_thickness = base, facets = 32
  ) children();
}

module webs(part) {
  translate([0, -back - depth - gap / 2, 0]) rotate(180)
    break_away_link(part = part, edge = 80, thickness = divider, gap = gap, border = 8, webs = 4);
}

module tray(height) {
  difference() {
    translate([-width / 2, -back - depth, 0]) cube([width, depth, height]);
    translate([wall - width / 2, wall - back - depth, base])
      cube([width - 2 * wall, depth - 2 * wall, height]);
  }
}

// Rib on a side wall, off the middle: the divider stands between two of them.
module rib(off) {
  translate([width / 2 - wall - 2, off - 1 - back - depth / 2, 0]) cube([2 + eps, 2, box_height]);
}

// As wide and as high as the closed box is inside, less the air.
module divider() {
  long = width - 2 * (wall + loose);
  high = 2 * (axis - base - loose);
  translate([-long / 2, -back - depth - gap - high, 0]) cube([long, high, divider]);
}
