// rod_loops.scad - Lying hinge: loops of both links take turns on a rod that is printed in place.
// Print it lying: axis parallel to the bed, both leaves flat on it. No supports. Lengths in mm,
//   angles in degrees.
// Good: strong in every direction square to the rod, whose lines run along it.
// Weak: the rod bridges from loop to loop; pulled across its layers a loop or the rod splits.
// Turning leaves can pinch fingers; small or broken-off parts can be swallowed.
// Not for loads that can hurt someone: follow local codes and ask a licensed professional.
// SPDX-License-Identifier: MIT; written by scadgen 0.1.0.
//
//   use <rod_loops.scad>
//   rod_loops(part = "fixed");
//
// Opened directly, this file draws the hinge, and its values appear in the Customizer.
// Resize it by its parameters, never with scale(): that would scale the gaps too.

/* [Part] */
// What to draw
rod_loops_part = "both";  // [both, fixed, moving, fixed_relief, moving_relief]
// Angle drawn; 0 is how it prints (deg)
rod_loops_angle = 1;  // [-180:1:180]
// Turn that the hinge must be free for (deg)
rod_loops_swing = 115;  // [10:5:180]
/* [Size] */
// Length of the hinge along its axis (mm)
rod_loops_length = 40.5;  // [10:0.5:200]
// Loops of the moving link; the fixed one has one more
rod_loops_loops = 3;  // [1:1:12]
// Diameter of the rod (mm)
rod_loops_rod = 5.5;  // [3:0.5:16]
// Wall of a loop above the roof of its bore (mm)
rod_loops_wall = 2.5;  // [0.8:0.1:8]
/* [Fit] */
// Air gap, square to the walls (mm)
rod_loops_clearance = 0.35;  // [0.15:0.05:0.8]
// Chamfer along the bed, for the first layer's spread (mm)
rod_loops_foot = 0.5;  // [0:0.1:1]
// Air gap between the sides of neighbours (mm)
rod_loops_side_gap = 0.45;  // [0.15:0.05:1]
/* [Leaves] */
// Length of a leaf; 0 leaves a plain stub (mm)
rod_loops_leaf_length = 15.5;  // [0:0.5:100]
// Thickness of a leaf (mm)
rod_loops_leaf_thickness = 4.2;  // [1.2:0.2:12]
/* [Quality] */
// Facets per full turn
rod_loops_facets = 68;  // [16:4:256]
// Width of a printed line (mm)
rod_loops_line_width = 0.5;  // [0.2:0.05:1.2]
// Longest bridge that the printers manage (mm)
rod_loops_bridge = 11;  // [4:1:25]
/* [Hidden] */
rod_loops_version = "0.1.0";

// Lying hinge: loops of both links take turns on a rod that is printed in place.
//   part            what to draw: both, fixed, moving, fixed_relief, moving_relief
//   angle           angle drawn; 0 is how it prints (deg)
//   swing           turn that the hinge must be free for (deg)
//   length          length of the hinge along its axis (mm)
//   loops           loops of the moving link; the fixed one has one more
//   rod             diameter of the rod (mm)
//   wall            wall of a loop above the roof of its bore (mm)
//   clearance       air gap, square to the walls (mm)
//   foot            chamfer along the bed, for the first layer's spread (mm)
//   side_gap        air gap between the sides of neighbours (mm)
//   leaf_length     length of a leaf; 0 leaves a plain stub (mm)
//   leaf_thickness  thickness of a leaf (mm)
//   facets          facets per full turn
//   line_width      width of a printed line (mm)
//   bridge          longest bridge that the printers manage (mm)
module rod_loops(
  part = rod_loops_part,
  angle = rod_loops_angle,
  swing = rod_loops_swing,
  length = rod_loops_length,
  loops = rod_loops_loops,
  rod = rod_loops_rod,
  wall = rod_loops_wall,
  clearance = rod_loops_clearance,
  foot = rod_loops_foot,
  side_gap = rod_loops_side_gap,
  leaf_length = rod_loops_leaf_length,
  leaf_thickness = rod_loops_leaf_thickness,
  facets = rod_loops_facets,
  line_width = rod_loops_line_width,
  bridge = rod_loops_bridge
) {
  parts = ["both", "fixed", "moving", "fixed_relief", "moving_relief"];
  assert([for (p = parts) if (p == part) p] == [part],
    str("rod_loops(): part = ", part, "; it must be one of ", parts, "."));
  ranges = [  // name, value, what it must be, least, most, step of a whole number
    ["angle", angle, " deg; it must be -180 to 180 deg.", -180, 180, 0],
    ["swing", swing, " deg; it must be 10 to 180 deg.", 10, 180, 0],
    ["length", length, " mm; it must be 10 to 200 mm.", 10, 200, 0],
    ["loops", loops, "; it must be 1 to 12 in steps of 1.", 1, 12, 1],
    ["rod", rod, " mm; it must be 3 to 16 mm.", 3, 16, 0],
    ["wall", wall, " mm; it must be 0.8 to 8 mm.", 0.8, 8, 0],
    ["clearance", clearance, " mm; it must be 0.15 to 0.8 mm.", 0.15, 0.8, 0],
    ["foot", foot, " mm; it must be 0 to 1 mm.", 0, 1, 0],
    ["side_gap", side_gap, " mm; it must be 0.15 to 1 mm.", 0.15, 1, 0],
    ["leaf_length", leaf_length, " mm; it must be 0 to 100 mm.", 0, 100, 0],
    ["leaf_thickness", leaf_thickness, " mm; it must be 1.2 to 12 mm.", 1.2, 12, 0],
    ["facets", facets, "; it must be 16 to 256 in steps of 4.", 16, 256, 4],
    ["line_width", line_width, " mm; it must be 0.2 to 1.2 mm.", 0.2, 1.2, 0],
    ["bridge", bridge, " mm; it must be 4 to 25 mm.", 4, 25, 0]
  ];
  for (r = ranges) {
    whole = r[5] == 0 || r[1] % r[5] == 0;
    assert(is_num(r[1]) && r[1] >= r[3] && r[1] <= r[4] && whole,
      str("rod_loops(): ", r[0], " = ", r[1], r[2]));
  }

  least_wall = 3 * line_width;
  grain = 1e-06;  // a limit missed by less is met: three lines of 0.4 make 1.2
  least_length = (2 * loops + 1) * (rod / 2 + 2 * foot) + 2 * loops * side_gap;
  most_length = (2 * loops + 1) * (bridge - 2 * side_gap) + 2 * loops * side_gap;
  bore = rod / 2 + clearance;  // radius of the bore in a loop
  radius = sqrt(2) * bore + wall;  // outer radius of a loop
  most_leaf_thickness = 2 * radius;
  axis_height = radius;  // height of the axis above the bed
  play = clearance / cos(45);  // way along the axis until two 45-degree walls touch
  // from the axis to the leaves, clear of the corners of all knuckles
  reach = radius / cos(45 / 2) + clearance + play;
  // turn at which the leaves would meet, less the gap
  stop = 180 - 2 * atan((leaf_thickness + clearance - axis_height) / reach);
  join = 0.01;  // parts that are one body reach this far into each other
  leaf_span = leaf_length > 0 ? leaf_length : leaf_thickness;  // a stub is as long as it is thick
  leaf_end = reach + leaf_span;  // from the axis to the far end of a leaf
  loop = (length - 2 * loops * side_gap) / (2 * loops + 1);  // width of a loop
  pitch = loop + side_gap;  // from one loop to the next, of the other link
  rim = 1 / cos(180 / facets);  // bores are drawn around their circle, so that facets take no gap
  sweeps = ceil(swing / 2);  // steps in which a relief follows the moving side

  assert(wall >= least_wall - grain, str(
    "rod_loops(): wall = ", wall,
    " mm; it must be at least ", ceil((least_wall - grain) / 0.1) * 0.1,
    " mm, or the loop is too thin to print solid."));
  assert(length >= least_length - grain, str(
    "rod_loops(): length = ", length,
    " mm; it must be at least ", ceil((least_length - grain) / 0.5) * 0.5,
    " mm, or the loops are too slender beside the rod."));
  assert(length <= most_length + grain, str(
    "rod_loops(): length = ", length,
    " mm; it must be at most ", floor((most_length + grain) / 0.5) * 0.5,
    " mm, or the rod bridges too far: more loops help."));
  assert(leaf_thickness <= most_leaf_thickness + grain, str(
    "rod_loops(): leaf_thickness = ", leaf_thickness,
    " mm; it must be at most ", floor((most_leaf_thickness + grain) / 0.2) * 0.2,
    " mm, or the leaf is thicker than the knuckle is high."));
  assert(angle <= swing + grain, str(
    "rod_loops(): angle = ", angle,
    " deg; it must be at most ", floor(swing + grain),
    " deg, or it is drawn further than it turns."));
  assert(angle >= 0, str(
    "rod_loops(): angle = ", angle,
    " deg; it must be at least ", ceil(0),
    " deg, or it is drawn further than it turns."));
  assert(swing <= stop + grain, str(
    "rod_loops(): swing = ", swing,
    " deg; it must be at most ", floor((stop + grain) / 5) * 5,
    " deg, or the leaves meet before."));
  assert(side_gap >= clearance - grain, str(
    "rod_loops(): side_gap = ", side_gap,
    " mm; it must be at least ", ceil((clearance - grain) / 0.05) * 0.05,
    " mm, or the sides fuse before the bearing."));

  if (part == "both" || part == "fixed") {
    fixed_loops();
    rod_solid();
    mirror([0, 1, 0]) leaf();
  }
  if (part == "both" || part == "moving")
    translate([0, 0, axis_height])
      rotate([angle, 0, 0])
        translate([0, 0, -axis_height]) {
          moving_loops();
          leaf();
        }
  if (part == "fixed_relief") relief();
  if (part == "moving_relief")
    translate([0, 0, axis_height])
      rotate([angle, 0, 0]) translate([0, 0, -axis_height]) mirror([0, 1, 0]) relief();

  // Loops that hold the rod, with the feet that join them to the leaf.
  module fixed_loops() {
    intersection() {
      translate([0, 0, axis_height])
        along_x(length = length) {
          knuckle_outline(radius = radius);
          mirror([1, 0]) foot_outline();
        }
      translate([-length / 2, 0, 0])
        standing(thickness = 2 * leaf_end)
          for (i = [0 : loops]) translate([2 * i * pitch, 0]) window();
    }
  }

  // An outline drawn in y and z, as long in x as said, half to each side of x = 0.
  module along_x(length) {
    rotate([90, 0, 90])
      linear_extrude(height = length, center = true, convexity = 10) children();
  }

  // Knuckle around the origin: octagonal below, so that it stands, and round above.
  module knuckle_outline(radius) {
    flat = radius * tan(45 / 2);
    circle(r = radius, $fn = facets);
    polygon([
      [-flat, -radius],
      [flat, -radius],
      [radius, -flat],
      [radius, 0],
      [-radius, 0],
      [-radius, -flat]
    ]);
  }

  // Foot from below the knuckle to the leaf, around the axis.
  module foot_outline() {
    translate([0, -axis_height]) square([reach + join, leaf_thickness]);
  }

  // An outline drawn in x and z, as thick in y as said, half to each side of y = 0.
  module standing(thickness) {
    rotate([90, 0, 0])
      linear_extrude(height = thickness, center = true, convexity = 10) children();
  }

  // Window for one loop.
  module window() {
    tooth(width = loop, height = 2 * radius + 1, foot = foot);
  }

  // Window in x and z for one loop, narrower at the bed where a first layer spreads.
  module tooth(width, height, foot) {
    polygon([
      [foot, 0],
      [width - foot, 0],
      [width, foot],
      [width, height],
      [0, height],
      [0, foot]
    ]);
  }

  // Rod, solid with the loops of the fixed link.
  module rod_solid() {
    translate([0, 0, axis_height]) along_x(length = length) rod_outline(radius = rod / 2);
  }

  // Rod around the origin, octagonal below: only its narrow flat has to bridge.
  module rod_outline(radius) {
    flat = radius * sin(45 / 2);  // half the width that bridges
    low = radius * cos(45 / 2);
    side = flat + radius;
    intersection() {
      circle(r = radius, $fn = facets);
      polygon([
        [-flat, -low],
        [flat, -low],
        [side, radius - low],
        [side, radius],
        [-side, radius],
        [-side, radius - low]
      ]);
    }
  }

  // Leaf of the moving side, flat on the bed.
  module leaf() {
    along_x(length = length) translate([reach, 0]) square([leaf_span, leaf_thickness]);
  }

  // Loops that turn on the rod, with the feet that join them to the leaf.
  module moving_loops() {
    intersection() {
      translate([0, 0, axis_height])
        along_x(length = length)
          difference() {
            union() {
              knuckle_outline(radius = radius);
              foot_outline();
            }
            bore_outline(radius = bore, rim = rim);
          }
      translate([-length / 2, 0, 0])
        standing(thickness = 2 * leaf_end)
          for (i = [0 : loops - 1]) translate([(2 * i + 1) * pitch, 0]) window();
    }
  }

  // Bore around the origin under a 45-degree roof, so that nothing in it hangs.
  module bore_outline(radius, rim) {
    corner = radius * rim;
    circle(r = corner, $fn = facets);
    rotate(45) square([corner, corner]);
  }

  // Room for one link on its way up: subtract it from the other side's body.
  module relief() {
    translate([0, 0, axis_height])
      along_x(length = length + 2 * side_gap) {
        circle(r = reach, $fn = facets);
        for (k = [0 : sweeps - 1])
          hull() {
            rotate(k * swing / sweeps) leaf_room();
            rotate((k + 1) * swing / sweeps) leaf_room();
          }
      }
  }

  // Leaf seen along the axis, with room around it.
  module leaf_room() {
    translate([0, -axis_height - clearance])
      square([leaf_end + clearance, leaf_thickness + 2 * clearance]);
  }
}

rod_loops();  // demo: runs only when this file is opened directly
