// waisted_spindle.scad - Upright hinge: rings turn around the waists of a shaft held at both ends.
// Print it standing: axis upright, both leaves on their lower edges. No supports. Lengths in mm,
//   angles in degrees.
// Good: stands without supports, turns freely, is held at both ends.
// Weak: tall: each ring needs a shaft about three times as long as the knuckle is wide.
// Turning leaves can pinch fingers; small or broken-off parts can be swallowed.
// Not for loads that can hurt someone: follow local codes and ask a licensed professional.
// SPDX-License-Identifier: MIT; written by scadgen 0.1.0.
//
//   use <waisted_spindle.scad>
//   waisted_spindle(part = "fixed");
//
// Opened directly, this file draws the hinge, and its values appear in the Customizer.
// Resize it by its parameters, never with scale(): that would scale the gaps too.

/* [Part] */
// What to draw
waisted_spindle_part = "both";  // [both, fixed, moving, fixed_relief, moving_relief]
// Angle drawn; 0 is how it prints (deg)
waisted_spindle_angle = 1;  // [-180:1:180]
// Turn that the hinge must be free for (deg)
waisted_spindle_swing = 115;  // [10:5:180]
/* [Size] */
// Height of the hinge (mm)
waisted_spindle_height = 40.5;  // [10:0.5:200]
// Rings of the moving link, one above the other
waisted_spindle_rings = 1;  // [1:1:6]
// Diameter of the shaft (mm)
waisted_spindle_shaft = 8.5;  // [4:0.5:30]
// Depth of the waist in the shaft (mm)
waisted_spindle_waist = 1.9;  // [0.8:0.1:8]
// Wall of a ring around the shaft (mm)
waisted_spindle_wall = 2.5;  // [0.8:0.1:8]
// Height of the straight part of a knuckle (mm)
waisted_spindle_knuckle = 4.5;  // [1:0.5:30]
/* [Fit] */
// Air gap, square to the walls (mm)
waisted_spindle_clearance = 0.35;  // [0.15:0.05:0.8]
// Chamfer along the bed, for the first layer's spread (mm)
waisted_spindle_foot = 0.5;  // [0:0.1:1]
// Grip of the waist that is left after all play (mm)
waisted_spindle_hold = 1;  // [0.4:0.1:4]
/* [Leaves] */
// Length of a leaf; 0 leaves a plain stub (mm)
waisted_spindle_leaf_length = 15.5;  // [0:0.5:100]
// Thickness of a leaf (mm)
waisted_spindle_leaf_thickness = 4.2;  // [1.2:0.2:12]
/* [Quality] */
// Facets per full turn
waisted_spindle_facets = 68;  // [16:4:256]
// Width of a printed line (mm)
waisted_spindle_line_width = 0.5;  // [0.2:0.05:1.2]
/* [Hidden] */
waisted_spindle_version = "0.1.0";

// Upright hinge: rings turn around the waists of a shaft held at both ends.
//   part            what to draw: both, fixed, moving, fixed_relief, moving_relief
//   angle           angle drawn; 0 is how it prints (deg)
//   swing           turn that the hinge must be free for (deg)
//   height          height of the hinge (mm)
//   rings           rings of the moving link, one above the other
//   shaft           diameter of the shaft (mm)
//   waist           depth of the waist in the shaft (mm)
//   wall            wall of a ring around the shaft (mm)
//   knuckle         height of the straight part of a knuckle (mm)
//   clearance       air gap, square to the walls (mm)
//   foot            chamfer along the bed, for the first layer's spread (mm)
//   hold            grip of the waist that is left after all play (mm)
//   leaf_length     length of a leaf; 0 leaves a plain stub (mm)
//   leaf_thickness  thickness of a leaf (mm)
//   facets          facets per full turn
//   line_width      width of a printed line (mm)
module waisted_spindle(
  part = waisted_spindle_part,
  angle = waisted_spindle_angle,
  swing = waisted_spindle_swing,
  height = waisted_spindle_height,
  rings = waisted_spindle_rings,
  shaft = waisted_spindle_shaft,
  waist = waisted_spindle_waist,
  wall = waisted_spindle_wall,
  knuckle = waisted_spindle_knuckle,
  clearance = waisted_spindle_clearance,
  foot = waisted_spindle_foot,
  hold = waisted_spindle_hold,
  leaf_length = waisted_spindle_leaf_length,
  leaf_thickness = waisted_spindle_leaf_thickness,
  facets = waisted_spindle_facets,
  line_width = waisted_spindle_line_width
) {
  parts = ["both", "fixed", "moving", "fixed_relief", "moving_relief"];
  assert([for (p = parts) if (p == part) p] == [part],
    str("waisted_spindle(): part = ", part, "; it must be one of ", parts, "."));
  ranges = [  // name, value, what it must be, least, most, step of a whole number
    ["angle", angle, " deg; it must be -180 to 180 deg.", -180, 180, 0],
    ["swing", swing, " deg; it must be 10 to 180 deg.", 10, 180, 0],
    ["height", height, " mm; it must be 10 to 200 mm.", 10, 200, 0],
    ["rings", rings, "; it must be 1 to 6 in steps of 1.", 1, 6, 1],
    ["shaft", shaft, " mm; it must be 4 to 30 mm.", 4, 30, 0],
    ["waist", waist, " mm; it must be 0.8 to 8 mm.", 0.8, 8, 0],
    ["wall", wall, " mm; it must be 0.8 to 8 mm.", 0.8, 8, 0],
    ["knuckle", knuckle, " mm; it must be 1 to 30 mm.", 1, 30, 0],
    ["clearance", clearance, " mm; it must be 0.15 to 0.8 mm.", 0.15, 0.8, 0],
    ["foot", foot, " mm; it must be 0 to 1 mm.", 0, 1, 0],
    ["hold", hold, " mm; it must be 0.4 to 4 mm.", 0.4, 4, 0],
    ["leaf_length", leaf_length, " mm; it must be 0 to 100 mm.", 0, 100, 0],
    ["leaf_thickness", leaf_thickness, " mm; it must be 1.2 to 12 mm.", 1.2, 12, 0],
    ["facets", facets, "; it must be 16 to 256 in steps of 4.", 16, 256, 4],
    ["line_width", line_width, " mm; it must be 0.2 to 1.2 mm.", 0.2, 1.2, 0]
  ];
  for (r = ranges) {
    whole = r[5] == 0 || r[1] % r[5] == 0;
    assert(is_num(r[1]) && r[1] >= r[3] && r[1] <= r[4] && whole,
      str("waisted_spindle(): ", r[0], " = ", r[1], r[2]));
  }

  least_waist = 2 * clearance + hold;
  grain = 1e-06;  // a limit missed by less is met: three lines of 0.4 make 1.2
  least_shaft = 2 * waist + 4 * line_width;
  least_wall = 3 * line_width;
  radius = shaft / 2 + clearance + wall;  // outer radius of knuckles and rings
  rim = 1 / cos(180 / facets);  // bores are drawn around their circle, so that facets take no gap
  lip = wall / 2;  // flat rim on top of a ring
  most_leaf_thickness = 2 * sqrt(max(radius / rim * radius / rim - (radius - lip) * (radius - lip), 0));
  play = clearance / cos(45);  // way along the axis until two 45-degree walls touch
  lead = play - clearance;  // shift of a corner of 45 degrees between walls that keep the gap
  throat = 1 + 2 * lead;  // length of the waist at its narrowest, for a land of 1 mm in the ring
  neck = shaft / 2 - waist;  // radius of the waist at its narrowest
  flare = radius - neck;  // height in which the waist widens to the next knuckle
  corbel = 2 * play;  // height at which a ring starts to grow from its leaf
  bore = shaft / 2 + clearance;  // radius of the straight bore in a ring
  // height at which the ring has closed around the shaft
  closed = corbel + 2 * radius + max(bore - leaf_thickness / 2, 0) + bore;
  least_height = knuckle + rings * (knuckle + waist + throat + flare + closed - lead);
  least_angle = -swing;
  reach = radius + 2 * clearance;  // from the axis to the leaves, clear of all knuckles
  // turn at which the leaves would meet, less the gap
  stop = 180 - 2 * atan((leaf_thickness / 2 + clearance) / reach);
  storey = (height - knuckle) / rings;  // height from one root of the shaft to the next
  join = 0.01;  // parts that are one body reach this far into each other
  pinch = storey - knuckle - flare - throat;  // height at which the waist is down to the neck
  leaf_span = leaf_length > 0 ? leaf_length : leaf_thickness;  // a stub is as long as it is thick
  leaf_end = reach + leaf_span;  // from the axis to the far end of a leaf
  // reach of an arm into its faceted knuckle, so that the arm's corners are inside
  bite = radius - sqrt(radius / rim * radius / rim - leaf_thickness / 2 * leaf_thickness / 2) + join;
  ring_top = storey - knuckle - lip - play;  // height of the flat rim
  sweeps = ceil(swing / 2);  // steps in which a relief follows the moving side

  assert(waist >= least_waist - grain, str(
    "waisted_spindle(): waist = ", waist,
    " mm; it must be at least ", ceil((least_waist - grain) / 0.1) * 0.1,
    " mm, or a ring slips off its waist."));
  assert(shaft >= least_shaft - grain, str(
    "waisted_spindle(): shaft = ", shaft,
    " mm; it must be at least ", ceil((least_shaft - grain) / 0.5) * 0.5,
    " mm, or the neck is too thin."));
  assert(wall >= least_wall - grain, str(
    "waisted_spindle(): wall = ", wall,
    " mm; it must be at least ", ceil((least_wall - grain) / 0.1) * 0.1,
    " mm, or the ring is too thin to print solid."));
  assert(knuckle >= wall - grain, str(
    "waisted_spindle(): knuckle = ", knuckle,
    " mm; it must be at least ", ceil((wall - grain) / 0.5) * 0.5,
    " mm, or the arms of the leaf have nothing to hold."));
  assert(leaf_thickness <= most_leaf_thickness + grain, str(
    "waisted_spindle(): leaf_thickness = ", leaf_thickness,
    " mm; it must be at most ", floor((most_leaf_thickness + grain) / 0.2) * 0.2,
    " mm, or the arms cut into the bore of the ring."));
  assert(height >= least_height - grain, str(
    "waisted_spindle(): height = ", height,
    " mm; it must be at least ", ceil((least_height - grain) / 0.5) * 0.5,
    " mm, or the waist starts before the rings have closed around the shaft."));
  assert(angle <= swing + grain, str(
    "waisted_spindle(): angle = ", angle,
    " deg; it must be at most ", floor(swing + grain),
    " deg, or it is drawn further than it turns."));
  assert(angle >= least_angle - grain, str(
    "waisted_spindle(): angle = ", angle,
    " deg; it must be at least ", ceil(least_angle - grain),
    " deg, or it is drawn further than it turns."));
  assert(swing <= stop + grain, str(
    "waisted_spindle(): swing = ", swing,
    " deg; it must be at most ", floor((stop + grain) / 5) * 5,
    " deg, or the leaves meet before."));

  if (part == "both" || part == "fixed") {
    spindle();
    fixed_leaf();
  }
  if (part == "both" || part == "moving")
    rotate([0, 0, angle]) {
      for (i = [0 : rings - 1]) translate([0, 0, knuckle + i * storey]) ring();
      moving_leaf();
    }
  if (part == "fixed_relief") relief();
  if (part == "moving_relief") rotate([0, 0, angle]) mirror([1, 0, 0]) relief();

  // Knuckles and shaft, turned in one piece.
  module spindle() {
    rotate_extrude(convexity = 10, $fn = facets) {
      polygon([[0, 0], [radius - foot, 0], [radius, foot], [radius, knuckle], [0, knuckle]]);
      for (i = [0 : rings - 1]) translate([0, knuckle + i * storey]) storey_outline();
    }
  }

  // Half section of a storey: tapered root, shaft, waist, flare and the knuckle above.
  module storey_outline() {
    polygon([
      [0, -join],
      [radius, -join],
      [radius, 0],
      [shaft / 2, radius - shaft / 2],
      [shaft / 2, pinch - waist],
      [neck, pinch],
      [neck, pinch + throat],
      [radius, storey - knuckle],
      [radius, storey],
      [0, storey]
    ]);
  }

  // Leaf of the shaft, with an arm to each knuckle.
  module fixed_leaf() {
    standing(thickness = leaf_thickness) {
      translate([-leaf_end, 0]) square([leaf_span, height]);
      translate([-reach - join, 0]) square([bite - radius - (-reach - join), knuckle]);
      for (i = [0 : rings - 1])
        translate([0, (i + 1) * storey])
          polygon([
            [-reach - join, radius - reach],
            [-reach, radius - reach],
            [bite - radius, bite],
            [bite - radius, knuckle],
            [-reach - join, knuckle]
          ]);
    }
  }

  // An outline drawn in x and z, as thick in y as said, half to each side of y = 0.
  module standing(thickness) {
    rotate([90, 0, 0])
      linear_extrude(height = thickness, center = true, convexity = 10) children();
  }

  // Ring around the waist, cut off below where it has not yet grown out from its leaf.
  module ring() {
    difference() {
      rotate_extrude(convexity = 10, $fn = facets)
        polygon([
          [bore * rim, corbel],
          [radius, corbel],
          [radius, ring_top],
          [(radius - lip) * rim, ring_top],
          [(neck + clearance) * rim, pinch + throat - lead],
          [(neck + clearance) * rim, pinch + lead],
          [bore * rim, pinch - waist + lead]
        ]);
      translate([0, 0, corbel])
        corbel_below(radius = radius, bore = bore * rim, arm = leaf_thickness);
    }
  }

  // All below a corbel that climbs at 45 degrees from an arm at +x, around a bore, to -x.
  module corbel_below(radius, bore, arm) {
    far = 2 * radius;  // beyond the whole ring
    side = max(bore - arm / 2, 0);  // climb from the arm to the side of the bore
    translate([0, 0, radius]) {
      climbing(length = 3 * far)
        polygon([
          [-far, -far],
          [far, -far],
          [far, (far - arm / 2) / sqrt(2)],
          [arm / 2, 0],
          [-arm / 2, 0],
          [-far, (far - arm / 2) / sqrt(2)]
        ]);
      intersection() {
        climbing(length = 3 * far)
          polygon([
            [-bore, -far],
            [bore, -far],
            [bore, side / sqrt(2)],
            [0, (side + bore) / sqrt(2)],
            [-bore, side / sqrt(2)]
          ]);
        linear_extrude(height = 4 * far, center = true, convexity = 10)
          translate([-2 * far, -far]) square([2 * far, 2 * far]);
      }
    }
  }

  // An outline in y and across the climb, drawn out along a climb of 45 degrees towards -x.
  module climbing(length) {
    rotate([45, 0, -90])
      linear_extrude(height = length, center = true, convexity = 10) children();
  }

  // Leaf of the rings, with an arm to each ring that starts its 45-degree corbel.
  module moving_leaf() {
    standing(thickness = leaf_thickness) {
      polygon([
        [reach + foot, 0],
        [leaf_end, 0],
        [leaf_end, height],
        [reach, height],
        [reach, foot]
      ]);
      for (i = [0 : rings - 1])
        translate([0, knuckle + i * storey])
          polygon([
            [reach + join, corbel + radius - reach],
            [reach, corbel + radius - reach],
            [radius - bite, corbel + bite],
            [radius - bite, ring_top],
            [reach + join, ring_top]
          ]);
    }
  }

  // Room for one link on its way both ways: subtract it from the other side's body.
  module relief() {
    translate([0, 0, -1])
      linear_extrude(height = height + 2, convexity = 10) {
        circle(r = reach, $fn = facets);
        for (k = [0 : sweeps - 1])
          hull() {
            rotate(-swing + k * 2 * swing / sweeps) leaf_room();
            rotate(-swing + (k + 1) * 2 * swing / sweeps) leaf_room();
          }
      }
  }

  // Leaf seen from above, with room around it.
  module leaf_room() {
    translate([0, -(leaf_thickness + 2 * clearance) / 2])
      square([leaf_end + clearance, leaf_thickness + 2 * clearance]);
  }
}

waisted_spindle();  // demo: runs only when this file is opened directly
