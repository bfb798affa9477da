// rod_loops.scad - Lying hinge: loops of both links take turns on a rod that is printed in place.
// Print it lying: axis parallel to the bed, both leaves flat on it. No supports. Lengths in mm,
//   angles in degrees.
// Good: strong in every direction square to the rod, whose lines run along it.
// Weak: the rod bridges from loop to loop; pulled across its layers a loop or the rod splits.
// Turning leaves can pinch fingers; small or broken-off parts can be swallowed.
// Not for loads that can hurt someone: follow local codes and ask a licensed professional.
// SPDX-License-Identifier: MIT; written by scadgen 0.2.0.
//
//   use <rod_loops.scad>
//   rod_loops(part = "fixed");
//   rod_loops(part = "moving", angle = 10) lid();  // your lid() goes with it
//   echo(rod_loops_detent_end());  // and what else its functions tell, below
//
// By itself it draws nothing; to see it with its values in the Customizer, open
//   rod_loops_customizer.scad.
// Resize it by its parameters, never with scale(): that would scale the gaps too.
// Fingerprint of this text as written: 0b75ce9e607f546d

module rod_loops(
  part = "both",  // what to draw: both, fixed, moving, fixed_relief, moving_relief
  angle = 1,  // angle drawn; 0 is how it prints (deg)
  swing = 115,  // turn that the hinge must be free for (deg)
  stop_at = 0,  // turn that flat faces stop; 0 for no such stop (deg)
  detent_at = 0,  // turn at which a detent clicks; 0 for no detent (deg)
  detent_also = 0,  // second turn at which it clicks; 0 for none (deg)
  length = 40.5,  // length of the hinge along its axis (mm)
  knuckles = 3,  // knuckles that move; one more is fixed; 0: 2 or as needed
  axis_height = 0,  // height of the axis over the bed; 0: as low as it can be (mm)
  backing = 0,  // height of your wall that carries raised knuckles; 0: leaf alone (mm)
  rod = 5.5,  // diameter of the rod (mm)
  wall = 2.5,  // wall of a loop above the roof of its bore (mm)
  clearance = 0.35,  // air gap, square to the walls (mm)
  foot = 0.5,  // chamfer along the bed, for the first layer's spread (mm)
  gap = 0.45,  // air gap between neighbouring loops; 0: 0.4 or as needed (mm)
  leaf_length = 15.5,  // length of a leaf; 0 leaves a plain stub (mm)
  leaf_thickness = 4.2,  // thickness of a leaf (mm)
  leaf_corner = 2.5,  // radius of a leaf's free corners; 0: square (mm)
  screw = 1,  // screws that hold a leaf
  screws = 3,  // screws in a leaf, if any
  hole_series = 2,  // series of the clearance holes (ISO 273)
  head = 2,  // countersink for a flat head
  detent_height = 1.6,  // how far noses and bumps of a detent stand out (mm)
  detent_arm = 24.5,  // length of a detent's arms, from the axis (mm)
  detent_thickness = 1.5,  // thickness of a detent's arms (mm)
  facets = 68,  // facets per full turn
  layer = 0.32,  // thickest layer that prints it (mm)
  line_width = 0.5,  // width of a printed line (mm)
  bridge = 11  // longest bridge that the printers manage (mm)
) {
  check();
  if (part == "both" || part == "fixed") {
    fixed_knuckles() mirror([1, 0]) footed_outline();
    rod_solid();
    mirror([0, 1, 0]) leaf();
    if (stop_at > 0) translate([0, 0, axis_at]) along_x(length = length) stop_outline();
    if (detent_at > 0) {
      for (i = [0 : detents - 1]) bumps_beside(at = detent_at + i * (detent_also - detent_at));
      mirror([1, 0, 0])
        for (i = [0 : detents - 1]) bumps_beside(at = detent_at + i * (detent_also - detent_at));
    }
  }
  if (part == "both" || part == "moving") {
    translate([0, 0, axis_at]) rotate([angle, 0, 0]) translate([0, 0, -axis_at]) {
      moving_knuckles() difference() {
        footed_outline();
        union() {
          bore_outline(radius = bore, rim = rim);
          trough_below(radius = rod / 2, thread = thread, beside = clearance);
        }
      }
      leaf();
    }
    if (detent_at > 0) {
      translate([0, 0, axis_at]) rotate([angle, 0, 0]) translate([0, 0, -axis_at]) {
        detent_arms();
        noses();
      }
      mirror([1, 0, 0])
        translate([0, 0, axis_at]) rotate([angle, 0, 0]) translate([0, 0, -axis_at]) {
          detent_arms();
          noses();
        }
    }
  }
  if (part == "fixed_relief") {
    relief();
    if (detent_at > 0) translate([0, 0, axis_at])
      along_x(length = length + 2 * end_room) for (k = [0 : sweeps - 1]) hull() {
        rotate(k * stride) arm_room();
        rotate((k + 1) * stride) arm_room();
      }
  }
  if (part == "moving_relief")
    translate([0, 0, axis_at]) rotate([angle, 0, 0]) translate([0, 0, -axis_at]) {
      mirror([0, 1, 0]) relief();
      if (detent_at > 0) {
        arm_slot();
        mirror([1, 0, 0]) arm_slot();
      }
      if (stop_at > 0)
        translate([0, 0, axis_at]) along_x(length = length + 2 * end_room) stop_sweep();
    }
  if (part == "both" || part == "moving")
    translate([0, 0, axis_at]) rotate([angle, 0, 0]) translate([0, 0, -axis_at]) children();

  // Knuckles of the fixed link: the outline, with a foot to the leaf, where they stand.
  module fixed_knuckles() intersection() {
    translate([0, 0, axis_at]) along_x(length = length) children();
    translate([-length / 2, 0, 0]) standing(thickness = 2 * leaf_end)
      for (i = [0 : knuckles]) translate([2 * i * pitch, 0]) window();
  }
  // An outline drawn in y and z, as long in x as said, half to each side of x = 0.
  module along_x(length)
    rotate([90, 0, 90]) linear_extrude(height = length, center = true, convexity = 10) children();
  // An outline drawn in x and z, as thick in y as said, half to each side of y = 0.
  module standing(thickness)
    rotate([90, 0, 0]) linear_extrude(height = thickness, center = true, convexity = 10) children();
  // Window for one knuckle.
  module window() tooth(width = knuckle, height = axis_at + radius + 1, foot = foot);
  // Window in x and z for one loop, narrower at the bed where a first layer spreads.
  module tooth(width, height, foot)
    polygon([[foot, 0], [width - foot, 0], [width, foot], [width, height], [0, height], [0, foot]]);
  // Knuckle across the axis, with the foot that joins it to the moving leaf.
  module footed_outline() {
    knuckle_outline(radius = radius, top = top);
    if (axis_height > 0) translate([-radius, -axis_at]) square([2 * radius, axis_at]);
    translate([0, -axis_at]) square([reach + join, foot_height]);
  }
  // Knuckle around the origin: octagonal below, so that it stands, round above, flat on top.
  module knuckle_outline(radius, top) {
    flat = radius * tan(45 / 2);
    intersection() {
      circle(r = radius, $fn = facets);
      translate([-radius, -radius]) square([2 * radius, radius + top]);
    }
    polygon([
      [-flat, -radius], [flat, -radius], [radius, -flat], [radius, 0], [-radius, 0],
      [-radius, -flat]
    ]);
  }
  // Rod, solid with the loops of the fixed link.
  module rod_solid()
    translate([0, 0, axis_at]) along_x(length = length) rod_outline(radius = rod / 2);
  // Rod around the origin, octagonal below: only its narrow flat has to bridge.
  module rod_outline(radius) {
    flat = radius * sin(45 / 2);  // half the width that bridges
    low = radius * cos(45 / 2);
    side = flat + radius;
    intersection() {
      circle(r = radius, $fn = facets);
      polygon([
        [-flat, -low], [flat, -low], [side, radius - low], [side, radius], [-side, radius],
        [-side, radius - low]
      ]);
    }
  }
  // Leaf of the moving side, flat on the bed.
  module leaf() translate([length / 2, 0, 0]) rotate([0, 0, 90]) difference() {
    linear_extrude(height = leaf_thickness, convexity = 10)
      difference() { leaf_plan(); if (screw > 0) screw_holes(); }
    if (sink > hole) translate([0, 0, leaf_thickness]) countersinks();
  }
  // Leaf drawn flat, its free corners rounded: x from the axis, y along it.
  module leaf_plan() {
    translate([reach, 0]) square([leaf_span - corner, length]);
    if (corner > 0) hull() {
      translate([leaf_end - corner, corner]) circle(r = corner, $fn = facets);
      translate([leaf_end - corner, length - corner]) circle(r = corner, $fn = facets);
    }
  }
  // Holes in a leaf drawn flat: x from the axis, y along it.
  module screw_holes() translate([reach + leaf_span / 2, 0]) for (i = [0 : screws - 1])
    translate([0, (2 * i + 1) * screw_pitch / 2]) circle(r = hole / 2 * rim, $fn = facets);
  // Countersinks of 90 degrees in a leaf drawn flat, its inner face at z = 0.
  module countersinks() translate([reach + leaf_span / 2, 0, 0])
    for (i = [0 : screws - 1]) translate([0, (2 * i + 1) * screw_pitch / 2, 0]) hull() {
      linear_extrude(height = 1, convexity = 10) circle(r = sink / 2 * rim, $fn = facets);
      translate([0, 0, (hole - sink) / 2]) linear_extrude(height = join, convexity = 10)
        circle(r = hole / 2 * rim, $fn = facets);
    }
  // Stop on the fixed leaf, clear of the knuckles: what the moving leaf's face meets.
  module stop_outline() difference() {
    stop_fan();
    union() {
      circle(r = reach * rim, $fn = facets);
      rotate(45) square([2 * stop_end, reach * rim]);
    }
  }
  // Between the fixed leaf and the stopped moving leaf, across the axis.
  module stop_fan() polygon([
    [reach * stop_run - face * stop_rise, reach * stop_rise + face * stop_run],
    [stop_end * stop_run - face * stop_rise, stop_end * stop_rise + face * stop_run],
    [stop_corner * cos(half), stop_corner * sin(half)], [-stop_end, face - leaf_thickness / 2],
    [-reach, face - leaf_thickness / 2]
  ]);
  // Two bumps on the flat end of a knuckle, either side of a turn where it clicks.
  module bumps_beside(at) translate([length / 2, 0, axis_at]) {
    rotate([at - detent_step, 0, 0]) frustum();
    rotate([at + detent_step, 0, 0]) frustum();
  }
  // A blunt cone of 45 degrees that stands out along x, its root below the axis.
  module frustum() translate([0, 0, -detent_radius]) about_x() polygon([
    [0, -join], [detent_base, -join], [detent_base, 0], [line_width, detent_height],
    [0, detent_height]
  ]);
  // A half section revolved about the x axis; its y becomes x.
  module about_x() rotate([0, 90, 0]) rotate_extrude(convexity = 10, $fn = facets) children();
  // Knuckles of the moving link: the outline, with a foot to the leaf, where they stand.
  module moving_knuckles() intersection() {
    translate([0, 0, axis_at]) along_x(length = length) children();
    translate([-length / 2, 0, 0]) standing(thickness = 2 * leaf_end)
      for (i = [0 : knuckles - 1]) translate([(2 * i + 1) * pitch, 0]) window();
  }
  // Bore around the origin under a 45-degree roof, so that nothing in it hangs.
  module bore_outline(radius, rim) {
    corner = radius * rim;
    circle(r = corner, $fn = facets);
    rotate(45) square([corner, corner]);
  }
  // Room in a bore for the threads that hang below a rod's flat: so thick, and so far beside.
  module trough_below(radius, thread, beside) {
    wide = 2 * (radius * sin(45 / 2) + beside);  // of the flat, and beside it
    deep = radius * cos(45 / 2) + thread;  // from the axis down to its floor
    translate([-wide / 2, -deep]) square([wide, deep]);
  }
  // An arm in the layers, and the block that joins it to the side of its leaf.
  module detent_arms() linear_extrude(height = detent_tall, convexity = 10) {
    translate([length / 2 + detent_gap, -detent_base])
      square([detent_thickness, detent_base + detent_arm + detent_block]);
    translate([length / 2 - join, detent_arm]) square([detent_gap + 2 * join, detent_block]);
  }
  // The nose of an arm, as it prints.
  module noses() translate([length / 2 + detent_gap, 0, axis_at]) mirror([1, 0, 0]) frustum();
  // Room for one link on its way up: subtract it from the other side's body.
  module relief() translate([0, 0, axis_at]) along_x(length = length + 2 * end_room) {
    circle(r = reach * rim, $fn = facets);
    for (k = [0 : sweeps - 1]) hull() {
      rotate(k * stride) leaf_room();
      rotate((k + 1) * stride) leaf_room();
    }
    if (axis_height > 0) for (k = [0 : sweeps - 1]) hull() {
      rotate(k * stride) wall_room();
      rotate((k + 1) * stride) wall_room();
    }
  }
  // Leaf seen along the axis, with room around it.
  module leaf_room()
    translate([0, -axis_at - room]) square([leaf_end + room, leaf_thickness + 2 * room]);
  // Walls and foot under a raised knuckle, seen along the axis, with room around them.
  module wall_room() translate([-near, low]) square([near + far, room - low]);
  // Arm and block seen along the axis, with room around them.
  module arm_room() translate([-(detent_base + room), -axis_at - room])
    square([detent_base + room + detent_arm + detent_block + room, detent_tall + 2 * room]);
  // Room in which an arm bends, in a body on its own side.
  module arm_slot()
    translate([0, 0, -1]) linear_extrude(height = detent_tall + clearance + 1, convexity = 10)
      translate([length / 2, -(detent_base + clearance)])
        square([detent_end, detent_base + clearance + detent_arm]);
  // Room that the stop sweeps, seen from the moving leaf.
  module stop_sweep() for (k = [0 : sweeps - 1]) hull() {
    rotate(k * -stride) stop_passed();
    rotate((k + 1) * -stride) stop_passed();
  }
  // Stop with room around it.
  module stop_passed() hull() {
    translate([-room, -room]) stop_fan();
    translate([-room, room]) stop_fan();
    translate([room, -room]) stop_fan();
    translate([room, room]) stop_fan();
  }

  gap = gap == 0 ? rod_loops_as_needed(usual = 0.4, step = 0.05, most = 1, least = clearance) :
    gap;
  least_knuckles = (length - (bridge - 2 * gap)) / (2 * (bridge - 2 * gap + gap));
  knuckles = knuckles == 0 ? rod_loops_as_needed(usual = 2, step = 1, most = 12, least =
    least_knuckles) : knuckles;
  grain = 1e-06;  // a limit missed by less is met: three lines of 0.4 make 1.2
  side_gap = gap;  // air gap between the sides of neighbouring loops
  least_length = (2 * knuckles + 1) * (rod / 2 + 2 * foot) + 2 * knuckles * side_gap;
  // how far an arm gives way as its nose passes a bump, the links midway in their play
  detent_way = detent_height - side_gap;
  // from the middle of a nose to that of a bump when their flanks meet
  detent_width = detent_way + 2 * line_width;
  bore = rod / 2 + clearance;  // radius of the bore in a loop
  radius = sqrt(2) * bore + wall;  // outer radius of a loop
  rim = 1 / cos(180 / facets);  // bores are drawn around their circle, so that facets take no gap
  flat_end = radius / rim;  // radius of the circle within the faceted, flat end of a knuckle
  // radius of a nose or a bump at its root: its blunt end is two lines wide
  detent_base = detent_height + line_width;
  // from the axis to noses and bumps, as far out as a knuckle's flat end lets them be
  detent_radius = flat_end - detent_base;
  // across the circle of noses and bumps; without a detent nothing is divided by it
  detent_across = detent_at > 0 ? 2 * detent_radius : radius;
  // how far a bump is from the click, as a share of that, which is a sine
  detent_near = (detent_at > 0 ? detent_width : 0) / detent_across;
  // turn from the click to a bump at either side
  detent_step = 2 * asin(min(max(detent_near, 0), 1));
  play = clearance / cos(45);  // way along the axis until two 45-degree walls touch
  // how far from a bump a nose is clear of it by the gap, as such a share
  detent_far = (detent_at > 0 ? detent_width + play : 0) / detent_across;
  // turn from a bump to where a nose is clear of it by the gap
  detent_clear = 2 * asin(min(max(detent_far, 0), 1));
  least_detent_at = detent_step + detent_clear;
  least_detent_also = detent_also > 0 ? detent_at + 2 * detent_step : 0;
  least_axis_height = axis_height > 0 ? radius : 0;
  least_stop = 90;  // least turn that a stop may end, or it would reach over the knuckles
  least_stop_at = stop_at > 0 ? least_stop : 0;
  lines = 3;  // lines across the thinnest wall that prints solid
  thinnest = lines * line_width;  // thinnest wall that prints solid
  // greatest height of bumps that stand apart on the end of a knuckle
  detent_most = detent_at > 0 ? (flat_end + side_gap - play - line_width) / 2 - line_width : length;
  detent_slim = 4;  // least length of an arm, in thicknesses: beam theory asks for it
  // from the axis to the leaves, clear of the corners of all knuckles
  reach = radius / cos(45 / 2) + clearance + play;
  // length of the block that joins an arm to its leaf: twice as thick as the arm
  detent_block = 2 * detent_thickness;
  // least length of a leaf beside which a detent's arms end before its rounded corner
  detent_leaf = detent_at > 0 ? detent_arm + detent_block + leaf_corner - reach : 0;
  spread = 3;  // holes stand so many of their diameters apart (common practice, no source)
  // ISO 273: M3, M4, M5 by fine, medium, coarse
  clearance_holes = [[3.2, 3.4, 3.6], [4.3, 4.5, 4.8], [5.3, 5.5, 5.8]];
  hole = clearance_holes[max(screw - 1, 0)][hole_series];  // diameter of a screw hole
  // ISO 10642 and flat-head wood screws: M3, M4, M5
  heads = [[6.72, 5.6], [8.96, 7.5], [11.2, 9.2]];
  // diameter of the countersink at the leaf's surface
  sink = screw > 0 && head > 0 ? max(heads[max(screw - 1, 0)][max(head - 1, 0)], hole) : hole;
  // room that a screw needs, with 1 mm at least around its head
  seat = screw > 0 ? max(spread * hole, sink + 2) : 0;
  layer_share = 0.75;  // height of the thickest layer, as a share of the width of its lines
  half_flat = rod / 2 * sin(45 / 2);  // half the width of the rod's flat, which bridges
  // from the axis down and out to a flank of the rod that leans by 45 degrees
  flank = rod / 2 * cos(45 / 2) + rod / 2 - half_flat;
  // clearance that keeps the rod's lower flanks off the layer of a loop below them
  landing = layer + flank - sqrt(flank * flank + 2 * layer * (rod / 2 - half_flat));
  // spread of a first layer, each side: 0.1 to 0.3 mm (common practice, no source)
  first_spread = 0.2;
  // height of the axis: a box closes whose wall and lid are together twice as high
  axis_at = axis_height > 0 ? axis_height : radius;
  // turn at which the leaves would meet, less the gap
  stop = 180 - 2 * atan((leaf_thickness + clearance - axis_at) / reach);
  face = leaf_thickness - axis_at;  // from the axis up to the plane of a leaf's inner face
  stop_rise = sin(stop_at);  // sine of the turn at the stop
  stop_run = cos(stop_at);  // cosine of the turn at the stop
  // how far out a climb of 45 degrees over the knuckles passes the moving leaf's face
  climb = sqrt(2) * reach - face * (stop_rise + stop_run);
  // from the axis to where a stop, climbing at 45 degrees, meets the moving leaf's face
  stop_start = stop_at > 0 ? climb / (stop_rise - stop_run) : reach;
  // from the axis to a stop's far sides: walls as thick as a leaf, or that print solid
  stop_end = max(stop_start, reach) + max(leaf_thickness, thinnest);
  // a leaf is at least a stub, as long as it is thick
  leaf_span = max(leaf_length, leaf_thickness);
  leaf_end = reach + leaf_span;  // from the axis to the far end of a leaf
  knuckle = (length - 2 * knuckles * side_gap) / (2 * knuckles + 1);  // width of a knuckle
  pitch = knuckle + side_gap;  // from one knuckle to the next, of the other link
  // from the axis up to the flat of a knuckle, where two lines find room side by side
  top = sqrt(radius / rim * radius / rim - line_width * line_width);
  join = 0.01;  // parts that are one body reach this far into each other
  // height up to which a knuckle reaches to the leaf, or to your wall behind it
  foot_height = max(leaf_thickness, backing);
  leaf_width = length;  // width of a leaf, along the axis
  // radius of the free corners, as far as the leaf has room for it
  corner = min(leaf_corner, leaf_span / 2, leaf_width / 2);
  screw_pitch = leaf_width / screws;  // from one screw to the next
  // from the axis to where these sides meet, half-way between the leaves
  stop_corner = stop_end / (stop_at > 0 ? cos((180 - stop_at) / 2) : 1);
  half = (180 + stop_at) / 2;  // direction half-way between the leaves
  detents = detent_also > 0 ? 2 : 1;  // turns at which it clicks, if it does
  sags = 0.1;  // how far a line sags that bridges from loop to loop
  // room for a line that bridges: as thick as it is wide, and sagging
  thread = line_width + sags;
  // height of an arm: its nose is straight below the axis
  detent_tall = axis_at - detent_radius + detent_base;
  // from the end of a knuckle to an arm: a nose, and the play of the links beside it
  detent_gap = detent_height + side_gap;
  // room beyond each end of the hinge in which arms bend
  detent_end = detent_gap + detent_thickness + detent_height + clearance;
  // room beyond each end that the other side's body leaves, with a detent's arms
  end_room = detent_at > 0 ? detent_end : side_gap;
  // turn up to which reliefs make room: to the stop, if there is one
  furthest = stop_at > 0 ? stop_at : swing;
  sweeps = ceil(furthest / 2);  // steps in which a relief follows the moving side
  stride = furthest / sweeps;  // turn from one step of a relief to the next
  // most by which a way runs off its straight course from one step of a relief to the next
  bow = (leaf_end + axis_at + clearance) * (1 - cos(stride / 2));
  // room around what a relief follows, so that the clearance is left between its steps
  room = clearance + bow;
  near = radius + room;  // room beside the walls, towards the other side
  low = -axis_at - room;  // room below them
  far = (backing > 0 ? reach + join : radius) + room;  // room beside them, over the foot

  // Refuses what cannot work.
  module check() {
    parts = ["both", "fixed", "moving", "fixed_relief", "moving_relief"];
    assert([for (p = parts) if (p == part) p] == [part],
      str("rod_loops(): part = ", part, "; it must be one of ", parts, "."));
    ranges = [  // name, value, unit, least, most, step, what else is so
      ["angle", angle, " deg", -180, 180, 1, ""], ["swing", swing, " deg", 10, 180, 5, ""],
      ["stop_at", stop_at, " deg", 0, 175, 5, ""], ["detent_at", detent_at, " deg", 0, 180, 5, ""],
      ["detent_also", detent_also, " deg", 0, 180, 5, ""],
      ["length", length, " mm", 10, 200, 0.5, ""],
      ["axis_height", axis_height, " mm", 0, 150, 0.5, ""],
      ["backing", backing, " mm", 0, 150, 0.5, ""], ["rod", rod, " mm", 3, 16, 0.5, ""],
      ["wall", wall, " mm", 0.8, 8, 0.1, ""], ["clearance", clearance, " mm", 0.15, 0.8, 0.05, ""],
      ["foot", foot, " mm", 0, 1, 0.1, ""], ["leaf_length", leaf_length, " mm", 0, 100, 0.5, ""],
      ["leaf_thickness", leaf_thickness, " mm", 1.2, 12, 0.2, ""],
      ["leaf_corner", leaf_corner, " mm", 0, 20, 0.5, ""],
      ["screw", screw, "", 0, 3, 1, " (none, M3, M4, M5)"],
      ["screws", screws, "", 1, 8, 1, " in steps of 1"],
      ["hole_series", hole_series, "", 0, 2, 1, " (fine, medium, coarse)"],
      ["head", head, "", 0, 2, 1, " (not sunk, ISO 10642, wood screw)"],
      ["detent_height", detent_height, " mm", 0.8, 6, 0.1, ""],
      ["detent_arm", detent_arm, " mm", 6, 100, 0.5, ""],
      ["detent_thickness", detent_thickness, " mm", 0.8, 5, 0.1, ""],
      ["facets", facets, "", 16, 256, 4, " in steps of 4"],
      ["layer", layer, " mm", 0.04, 0.8, 0.02, ""],
      ["line_width", line_width, " mm", 0.2, 1.2, 0.05, ""],
      ["bridge", bridge, " mm", 4, 25, 1, ""], ["gap", gap, " mm", 0.15, 1, 0.05, ", or 0"],
      ["knuckles", knuckles, "", 1, 12, 1, " in steps of 1, or 0"]
    ];
    for (v = ranges) {
      whole = v[2] != "" || v[6] == "" || v[1] % v[5] == 0;  // as a count is, which has no unit
      assert(is_num(v[1]) && v[1] >= v[3] && v[1] <= v[4] && whole, str("rod_loops(): ",
        v[0], " = ", v[1], v[2], "; it must be ", v[3], " to ", v[4], v[2], v[6], "."));
    }
    assert(length >= least_length - grain, str(
      "rod_loops(): length = ", length, " mm; it must be at least ",
      ceil((least_length - grain) / 0.5) * 0.5, " mm, or the loops are too slender beside the rod."
    ));
    assert(detent_at >= least_detent_at - grain, str(
      "rod_loops(): detent_at = ", detent_at, " deg; it must be at least ",
      ceil((least_detent_at - grain) / 5) * 5, " deg, or its noses print too near a bump."
    ));
    assert(detent_also >= least_detent_also - grain, str(
      "rod_loops(): detent_also = ", detent_also, " deg; it must be at least ",
      ceil((least_detent_also - grain) / 5) * 5, " deg, or its two clicks are too near each other."
    ));
    assert(axis_height >= least_axis_height - grain, str(
      "rod_loops(): axis_height = ", axis_height, " mm; it must be at least ",
      ceil((least_axis_height - grain) / 0.5) * 0.5,
      " mm, or its knuckles would reach below the bed."
    ));
    assert(stop_at >= least_stop_at - grain, str(
      "rod_loops(): stop_at = ", stop_at, " deg; it must be at least ",
      ceil((least_stop_at - grain) / 5) * 5, " deg, or the stop hangs over the knuckles."
    ));
    rules = [  // name, what it must be beside the other values, or else
      ["wall", "at least", thinnest, "or the loop is too thin to print solid"],
      ["gap", "at least", clearance, "or the sides fuse before the bearing"],
      ["knuckles", "at least", least_knuckles, "or the rod bridges too far"],
      ["detent_height", "at most", detent_most,
        "or two bumps have no room on the end of a knuckle"],
      ["detent_at", "at most", swing, "or it clicks beyond its swing"],
      ["detent_also", "at most", detent_at > 0 ? swing : 0,
        "or it clicks beyond its swing, or a second time and no first"],
      ["detent_height", "at least", detent_at > 0 ? 2 * side_gap + line_width : 0,
        "or a nose passes its bumps when a link lies at one end of its play"],
      ["detent_thickness", "at least", detent_at > 0 ? thinnest : 0,
        "or an arm is too thin to print solid"],
      ["detent_arm", "at least", detent_at > 0 ? detent_slim * detent_thickness : 0,
        "or the arm is a block that hardly bends"],
      ["detent_arm", "at least", detent_at > 0 ? reach : 0,
        "or an arm ends before its leaf begins"],
      ["leaf_length", "at least", detent_leaf,
        "or the arms of its detent have no leaf to stand on"],
      ["leaf_thickness", "at most", 2 * radius, "or the leaf is thicker than the knuckle is high"],
      ["backing", "at most", axis_height > 0 ? axis_height : 0,
        "or your wall would reach over the axis, or carry nothing"],
      ["stop_at", "at most", axis_height > 0 ? 0 : 180,
        "or it has a stop and walls that raise the axis"],
      ["length", "at least", screws * seat, "or the screws are too near each other"],
      ["leaf_length", "at least", seat, "or a screw is too near the edge of the leaf"],
      ["leaf_thickness", "at least", screw > 0 ? (sink - hole) / 2 + 1 : 0,
        "or a countersunk head goes through the leaf"],
      ["angle", "at most", swing, "or it is drawn further than it turns"],
      ["angle", "at least", 0, "or it is drawn further than it turns"],
      ["layer", "at most", layer_share * line_width,
        "or its lines are hardly pressed onto the layer below"],
      ["clearance", "at least", landing, "or a layer of one link lands on the other"],
      ["foot", "at least", 2 * first_spread - clearance + layer / 2,
        "or the links join where a first layer spreads"],
      ["swing", "at most", stop, "or the leaves meet before"],
      ["stop_at", "at most", stop, "or the leaves meet before the stop"],
      ["angle", "at most", stop_at > 0 ? stop_at - 1 : swing,
        "or it is drawn with its links touching at the stop"],
      ["swing", "at most", stop_at > 0 ? stop_at : 180, "or it is stopped before"],
      ["leaf_length", "at least", stop_at > 0 ? stop_end - reach + leaf_corner : 0,
        "or the stop has no leaf to stand on"],
      ["leaf_length", "at least", stop_at > 0 && screw > 0 ? 2 * (stop_end - reach) + seat : 0,
        "or the stop covers the screws"]
    ];
    // Ends of a range, on its steps, and why: its bound, and what rules of one sense make of it.
    function ends(v, bound, sense, way) = [[bound, ""], for (o = rules)
      if (o[0] == v[0] && o[1] == sense)
        [way * ceil((way * o[2] - grain) / v[5]) * v[5], str(", ", o[3])]];
    function why(ends, at) = [for (end = ends) if (end[0] == at) end[1]][0];
    for (r = rules) {
      v = [for (v = ranges) if (v[0] == r[0]) v][0];
      lows = ends(v, v[3], "at least", 1);
      highs = ends(v, v[4], "at most", -1);
      low = max([for (end = lows) end[0]]);
      high = min([for (end = highs) end[0]]);
      words = low <= high ? str(low, " to ", high, v[2], " here, ", r[3]) : str(
        "at least ", low, v[2], why(lows, low), ", and at most ", high, v[2], why(highs, high),
        "; no multiple of ", v[5], v[2], " works here");
      assert(r[1] == "at least" ? v[1] >= r[2] - grain : v[1] <= r[2] + grain,
        str("rod_loops(): ", r[0], " = ", v[1], v[2], "; it must be ", words, "."));
    }
  }
}

// Room beyond each end for a detent's arms (mm).
function rod_loops_detent_end(
  part, angle, swing, stop_at, detent_at = 0, detent_also, length, knuckles, axis_height, backing,
  rod, wall, clearance = 0.35, foot, gap = 0.45, leaf_length, leaf_thickness, leaf_corner, screw,
  screws, hole_series, head, detent_height = 1.6, detent_arm, detent_thickness = 1.5, facets, layer,
  line_width, bridge
) = let(
  gap = gap == 0 ? rod_loops_as_needed(usual = 0.4, step = 0.05, most = 1, least = clearance) : gap,
  side_gap = gap, detent_gap = detent_height + side_gap,
  detent_end = detent_gap + detent_thickness + detent_height + clearance
) detent_at > 0 ? detent_end : 0;
// Height of the axis: a box closes if wall and lid are together twice as high (mm).
function rod_loops_axis_height(
  part, angle, swing, stop_at, detent_at, detent_also, length, knuckles, axis_height = 0, backing,
  rod = 5.5, wall = 2.5, clearance = 0.35, foot, gap, leaf_length, leaf_thickness, leaf_corner,
  screw, screws, hole_series, head, detent_height, detent_arm, detent_thickness, facets, layer,
  line_width, bridge
) = let(
  bore = rod / 2 + clearance, radius = sqrt(2) * bore + wall
) axis_height > 0 ? axis_height : radius;
// Length taken along the axis, with the room at its ends (mm).
function rod_loops_length_taken(
  part, angle, swing, stop_at, detent_at = 0, detent_also, length = 40.5, knuckles, axis_height,
  backing, rod, wall, clearance = 0.35, foot, gap = 0.45, leaf_length, leaf_thickness, leaf_corner,
  screw, screws, hole_series, head, detent_height = 1.6, detent_arm, detent_thickness = 1.5, facets,
  layer, line_width, bridge
) = let(
  gap = gap == 0 ? rod_loops_as_needed(usual = 0.4, step = 0.05, most = 1, least = clearance) : gap,
  side_gap = gap, detent_gap = detent_height + side_gap,
  detent_end = detent_gap + detent_thickness + detent_height + clearance,
  end_room = detent_at > 0 ? detent_end : side_gap
) length + 2 * end_room;
// How far the knuckles reach from the axis (mm).
function rod_loops_reach(
  part, angle, swing, stop_at, detent_at, detent_also, length, knuckles, axis_height, backing,
  rod = 5.5, wall = 2.5, clearance = 0.35, foot, gap, leaf_length, leaf_thickness, leaf_corner,
  screw, screws, hole_series, head, detent_height, detent_arm, detent_thickness, facets, layer,
  line_width, bridge
) = let(bore = rod / 2 + clearance) sqrt(2) * bore + wall;
// From the axis to the leaves: what stands nearer the reliefs take away (mm).
function rod_loops_leaf_start(
  part, angle, swing, stop_at, detent_at, detent_also, length, knuckles, axis_height, backing,
  rod = 5.5, wall = 2.5, clearance = 0.35, foot, gap, leaf_length, leaf_thickness, leaf_corner,
  screw, screws, hole_series, head, detent_height, detent_arm, detent_thickness, facets, layer,
  line_width, bridge
) = let(
  bore = rod / 2 + clearance, radius = sqrt(2) * bore + wall, play = clearance / cos(45)
) radius / cos(45 / 2) + clearance + play;
// Thinnest wall that prints solid (mm).
function rod_loops_least_wall(
  part, angle, swing, stop_at, detent_at, detent_also, length, knuckles, axis_height, backing, rod,
  wall, clearance, foot, gap, leaf_length, leaf_thickness, leaf_corner, screw, screws, hole_series,
  head, detent_height, detent_arm, detent_thickness, facets, layer, line_width = 0.5, bridge
) = let(lines = 3) lines * line_width;
// Value where 0 is given: the usual one, or the least on its steps that is enough.
function rod_loops_as_needed(usual, step, most, least, grain = 1e-06) =
  min(max(usual, ceil((least - grain) / step) * step), most);
