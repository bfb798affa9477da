// side_cones.scad - Lying hinge: each knuckle of the moving link is held between two facing cones.
// Print it lying: axis parallel to the bed, both leaves flat on it. No supports.
// Good: no overhang, close fit, strong: the cones are built along the layers.
// Weak: the knuckles stand up from the leaf; a pull along the axis spreads them.
// Turning leaves can pinch fingers; small or broken-off parts can be swallowed.
// Not for loads that can hurt someone: follow local codes and ask a licensed professional.
// SPDX-License-Identifier: MIT; written by scadgen 0.2.0.
//
//   use <side_cones.scad>
//   side_cones(part = "fixed");
//   side_cones(part = "moving", angle = 10) lid();  // your lid() goes with it
//   echo(side_cones_size("detent_end"));  // and other sizes by name: see the end
//
// It draws nothing by itself: side_cones_customizer.scad does, with sliders.
// Resize it by its parameters, never with scale(): that would scale the gaps too.
// Fingerprint of this text as written: 5e3854775d0df0c1

module side_cones(
  part = "both",  // what to draw: both, fixed, moving, fixed_relief, moving_relief
  angle = 0,  // angle drawn; 0 is how it prints (deg)
  swing = 110,  // turn that the hinge must be free for (deg)
  stop_at = 0,  // turn that flat faces stop; 0 for no such stop (deg)
  detent_at = 0,  // turn at which a detent clicks; 0 for no detent (deg)
  detent_also = 0,  // second turn at which it clicks; 0 for none (deg)
  detent_to = 0,  // turn up to which, from detent_at, friction holds it; 0: it clicks (deg)
  length = 0,  // length of the hinge along its axis; 0: 30 or as needed (mm)
  knuckles = 1,  // knuckles of the moving link; the fixed link has one more
  axis_height = 0,  // height of the axis over the bed; 0: as low as it can be (mm)
  backing = 0,  // height of your wall that carries raised knuckles; 0: leaf alone (mm)
  cone = 7,  // diameter of a cone at its root (mm)
  tip = 2.2,  // height of a cone (mm)
  wall = 2.4,  // wall of a knuckle around its sockets (mm)
  clearance = 0.3,  // air gap, square to the walls (mm)
  foot = 0.4,  // chamfer along the bed, for the first layer's spread (mm)
  hold = 0.8,  // grip of a cone that is left after all play (mm)
  leaf_length = 15,  // length of a leaf; 0 leaves a plain stub (mm)
  leaf_thickness = 4,  // thickness of a leaf (mm)
  leaf_corner = 2,  // radius of a leaf's free corners; 0: square (mm)
  screw = 0,  // screws that hold a leaf
  screws = 2,  // screws in a leaf, if any
  hole_series = 1,  // series of the clearance holes (ISO 273)
  head = 1,  // countersink for a flat head
  detent_height = 1.5,  // how far noses and bumps of a detent stand out (mm)
  detent_arm = 24,  // length of a detent's arms, from the axis (mm)
  detent_thickness = 1.4,  // thickness of a detent's arms (mm)
  facets = 64,  // facets per full turn
  layer = 0.3,  // thickest layer that prints it (mm)
  line_width = 0.45  // width of a printed line (mm)
) {
  check();
  if (part == "both" || part == "fixed") {
    fixed_knuckles() mirror([1, 0]) footed_outline();
    cones();
    mirror([0, 1, 0]) leaf();
    if (stop_at > 0) translate([0, 0, axis_at]) along_x(length = length) stop_outline();
    if (detent_at > 0) at_both_ends()
      if (detent_to > 0) ridge();
      else
        for (i = [0 : detents - 1]) bumps_beside(at = detent_at + i * (detent_also - detent_at));
  }
  if (part == "both" || part == "moving") {
    posed() {
      difference() { moving_knuckles() footed_outline(); sockets(); }
      leaf();
      children();
    }
    if (detent_at > 0) posed() at_both_ends() { detent_arms(); noses(); }
  }
  if (part == "fixed_relief") {
    relief();
    if (detent_at > 0) translate([0, 0, axis_at]) along_x(length = length + 2 * end_room)
      swept(start = 0, step = stride, steps = sweeps) arm_room();
  }
  if (part == "moving_relief") posed() {
    mirror([0, 1, 0]) relief();
    if (detent_at > 0) at_both_ends() arm_slot();
    if (stop_at > 0) translate([0, 0, axis_at]) along_x(length = length + 2 * end_room)
      swept(start = 0, step = -stride, steps = sweeps) stop_passed();
  }

  module fixed_knuckles() intersection() {  // knuckles of the fixed link, where they stand
    translate([0, 0, axis_at]) along_x(length = length) children();
    translate([-length / 2, 0, 0]) standing(thickness = 2 * leaf_end)
      for (i = [0 : knuckles]) translate([2 * i * pitch, 0]) window();
  }
  module along_x(length)  // an outline in y and z, as long in x as said, half to each side of 0
    rotate([90, 0, 90]) linear_extrude(height = length, center = true, convexity = 10) children();
  module standing(thickness)  // an outline in x and z, as thick in y as said, half to each side
    rotate([90, 0, 0]) linear_extrude(height = thickness, center = true, convexity = 10) children();
  // Window for one knuckle.
  module window() tooth(width = knuckle, height = axis_at + radius + 1, foot = foot);
  module tooth(width, height, foot)  // window in x and z for one loop, narrower at the bed
    polygon([[foot, 0], [width - foot, 0], [width, foot], [width, height], [0, height], [0, foot]]);
  module footed_outline() {  // knuckle across the axis, with its foot to the moving leaf
    knuckle_outline(radius = radius, top = top);
    if (axis_height > 0) translate([-radius, -axis_at]) square([2 * radius, axis_at]);
    translate([0, -axis_at]) square([reach + join, foot_height]);
  }
  module knuckle_outline(radius, top) {  // knuckle: octagonal below, round above, flat on top
    flat = radius * tan(45 / 2);
    intersection() {
      circle(r = radius, $fn = facets);
      translate([-radius, -radius]) square([2 * radius, radius + top]);
    }
    polygon([[-flat, -radius], [flat, -radius], [radius, -flat], [radius, 0], [-radius, 0],
      [-radius, -flat]]);
  }
  module cones() translate([-length / 2, 0, axis_at])  // pairs of cones across the moving knuckles
    about_x() for (i = [0 : knuckles - 1]) translate([0, (2 * i + 1) * pitch - play])
      cone_pair(root = cone / 2, tip = tip, apart = knuckle + 2 * play, join = join);
  // A half section revolved about the x axis; its y becomes x.
  module about_x() rotate([0, 90, 0]) rotate_extrude(convexity = 10, $fn = facets) children();
  module cone_pair(root, tip, apart, join) {  // half section of two cones, their roots so far apart
    polygon([[0, -join], [root, -join], [root, 0], [root - tip, tip], [0, tip]]);
    translate([0, apart])
      mirror([0, 1]) polygon([[0, -join], [root, -join], [root, 0], [root - tip, tip], [0, tip]]);
  }
  module leaf() translate([length / 2, 0, 0]) rotate([0, 0, 90]) difference() {  // moving leaf
    linear_extrude(height = leaf_thickness, convexity = 10)
      difference() { leaf_plan(); if (screw > 0) screw_holes(); }
    if (sink > hole) translate([0, 0, leaf_thickness]) countersinks();
  }
  module leaf_plan() {  // leaf drawn flat, its free corners rounded: x from the axis, y along it
    translate([reach, 0]) square([leaf_span - corner, length]);
    if (corner > 0) hull() {
      translate([leaf_end - corner, corner]) circle(r = corner, $fn = facets);
      translate([leaf_end - corner, length - corner]) circle(r = corner, $fn = facets);
    }
  }
  // Holes in a leaf drawn flat: x from the axis, y along it.
  module screw_holes() translate([reach + leaf_span / 2, 0]) for (i = [0 : screws - 1])
    translate([0, (2 * i + 1) * screw_pitch / 2]) circle(r = hole / 2 * rim, $fn = facets);
  module countersinks() translate([reach + leaf_span / 2, 0, 0])  // countersinks of 90 degrees
    for (i = [0 : screws - 1]) translate([0, (2 * i + 1) * screw_pitch / 2, 0]) hull() {
      linear_extrude(height = 1, convexity = 10) circle(r = sink / 2 * rim, $fn = facets);
      translate([0, 0, (hole - sink) / 2]) linear_extrude(height = join, convexity = 10)
        circle(r = hole / 2 * rim, $fn = facets);
    }
  // Stop on the fixed leaf, clear of the knuckles: what the moving leaf's face meets.
  module stop_outline() difference() {
    stop_fan();
    circle(r = reach * rim, $fn = facets);
    rotate(45) square([2 * stop_end, reach * rim]);
  }
  module stop_fan()  // between the fixed and the stopped moving leaf, across the axis
    polygon([[reach * stop_run - face * stop_rise, reach * stop_rise + face * stop_run],
      [stop_end * stop_run - face * stop_rise, stop_end * stop_rise + face * stop_run],
      [stop_corner * cos(half), stop_corner * sin(half)], [-stop_end, face - leaf_thickness / 2],
      [-reach, face - leaf_thickness / 2]]);
  // What stands at the end of the hinge towards +x, at the other end, too.
  module at_both_ends() { children(); mirror([1, 0, 0]) children(); }
  // Bumps in a row that are one, on which a nose rides from a turn to another.
  module ridge() translate([length / 2, 0, axis_at]) for (k = [0 : ridge_stretches - 1]) hull() {
    rotate([detent_at + k * ridge_stride, 0, 0]) frustum();
    rotate([detent_at + (k + 1) * ridge_stride, 0, 0]) frustum();
  }
  module frustum() translate([0, 0, -detent_radius]) about_x()  // blunt 45-degree cone
    polygon([[0, -join], [detent_base, -join], [detent_base, 0], [line_width, detent_height],
      [0, detent_height]]);
  module bumps_beside(at) translate([length / 2, 0, axis_at]) {  // bumps at either side of a turn
    rotate([at - detent_step, 0, 0]) frustum();
    rotate([at + detent_step, 0, 0]) frustum();
  }
  module posed()  // what moves, turned about the axis
    translate([0, 0, axis_at]) rotate([angle, 0, 0]) translate([0, 0, -axis_at]) children();
  module moving_knuckles() intersection() {  // knuckles of the moving link, where they stand
    translate([0, 0, axis_at]) along_x(length = length) children();
    translate([-length / 2, 0, 0]) standing(thickness = 2 * leaf_end)
      for (i = [0 : knuckles - 1]) translate([(2 * i + 1) * pitch, 0]) window();
  }
  module sockets() translate([-length / 2, 0, axis_at])  // room for the cones in the moving link
    about_x() for (i = [0 : knuckles - 1]) translate([0, (2 * i + 1) * pitch])
      cone_pair(root = cone / 2 * rim, tip = tip, apart = knuckle, join = join);
  module detent_arms() linear_extrude(height = detent_tall, convexity = 10) {  // arm and its block
    translate([length / 2 + detent_gap, -detent_base])
      square([detent_thickness, detent_base + detent_arm + detent_block]);
    translate([length / 2 - join, detent_arm]) square([detent_gap + 2 * join, detent_block]);
  }
  // The nose of an arm, as it prints.
  module noses() translate([length / 2 + detent_gap, 0, axis_at]) mirror([1, 0, 0]) frustum();
  // Room for one link on its way up: subtract it from the other side's body.
  module relief() translate([0, 0, axis_at]) along_x(length = length + 2 * end_room) {
    circle(r = reach * rim, $fn = facets);
    swept(start = 0, step = stride, steps = sweeps) leaf_room();
    if (axis_height > 0) swept(start = 0, step = stride, steps = sweeps) wall_room();
  }
  module swept(start, step, steps) for (k = [0 : steps - 1])  // convex outline on its way
    hull() { rotate(start + k * step) children(); rotate(start + (k + 1) * step) children(); }
  module leaf_room()  // leaf seen along the axis, with room around it
    translate([0, -axis_at - room]) square([leaf_end + room, leaf_thickness + 2 * room]);
  module wall_room() translate([-near, low]) square([near + far, room - low]);  // walls and room
  module arm_room() translate([-(detent_base + room), -axis_at - room])  // arm and block, with room
    square([detent_base + room + detent_arm + detent_block + room, detent_tall + 2 * room]);
  module arm_slot()  // room in which an arm bends, in a body on its own side
    translate([0, 0, -1]) linear_extrude(height = detent_tall + clearance + 1, convexity = 10)
      translate([length / 2, -(detent_base + clearance)])
        square([detent_end, detent_base + clearance + detent_arm]);
  module stop_passed() hull() for (i = [0 : 1])  // stop with room around it
    for (j = [0 : 1]) translate([(2 * i - 1) * room, (2 * j - 1) * room]) stop_fan();

  play = clearance / cos(45);  // way along the axis until two 45-degree walls touch
  least_length = (2 * knuckles + 1) * (2 * tip + wall) + 2 * knuckles * play;
  spread = 3;  // holes stand so many of their diameters apart (common practice, no source)
  clearance_holes = [[3.2, 3.4, 3.6], [4.3, 4.5, 4.8], [5.3, 5.5, 5.8]];  // ISO 273: M3, M4, M5
  hole = clearance_holes[max(screw - 1, 0)][hole_series];  // diameter of a screw hole
  heads = [[6.72, 5.6], [8.96, 7.5], [11.2, 9.2]];  // ISO 10642, flat-head wood screws: M3, M4, M5
  // diameter of the countersink at the leaf's surface
  sink = screw > 0 && head > 0 ? max(heads[max(screw - 1, 0)][max(head - 1, 0)], hole) : hole;
  seat = screw > 0 ? max(spread * hole, sink + 2) : 0;  // room for a screw: 1 mm around its head
  least_length_2 = screws * seat;
  length = side_cones_as_needed(length, usual = 30, step = 0.5, most = 200, least =
    max(least_length, least_length_2));
  grain = 1e-06;  // a limit missed by less is met: three lines of 0.4 make 1.2
  detent_width = detent_height - play + 2 * line_width;  // from nose to bump when their flanks meet
  radius = cone / 2 + wall;  // outer radius of a knuckle
  rim = 1 / cos(180 / facets);  // bores are drawn around their circle, so that facets take no gap
  flat_end = radius / rim;  // radius of the circle within the faceted, flat end of a knuckle
  detent_base = detent_height + line_width;  // radius of a nose or a bump at its root
  detent_radius = flat_end - detent_base;  // from the axis to noses and bumps, as far out as fits
  detent_across = detent_at > 0 ? 2 * detent_radius : radius;  // diameter of the circle of bumps
  // turn from the click to either bump
  detent_step = 2 * asin(min(max((detent_at > 0 ? detent_width : 0) / detent_across, 0), 1));
  // how far from a bump a nose is clear of it by the gap, as such a share
  detent_far = (detent_at > 0 ? detent_width + play : 0) / detent_across;
  least_stop = 90;  // least turn that a stop may end, or it would reach over the knuckles
  lines = 3;  // lines across the thinnest wall that prints solid
  thinnest = lines * line_width;  // thinnest wall that prints solid
  detent_slim = 4;  // least length of an arm, in thicknesses: beam theory asks for it
  reach = radius / cos(45 / 2) + clearance + play;  // from axis to leaves, clear of all knuckles
  axis_at = axis_height > 0 ? axis_height : radius;  // height of the axis: half of wall plus lid
  face = leaf_thickness - axis_at;  // from the axis up to the plane of a leaf's inner face
  stop_rise = sin(stop_at);  // sine of the turn at the stop
  stop_run = cos(stop_at);  // cosine of the turn at the stop
  // how far out a climb of 45 degrees over the knuckles passes the moving leaf's face
  climb = sqrt(2) * reach - face * (stop_rise + stop_run);
  stop_start = stop_at > 0 ? climb / (stop_rise - stop_run) : reach;  // from axis to a stop's face
  stop_end = max(stop_start, reach) + max(leaf_thickness, thinnest);  // from axis to its far side
  stop_corner = stop_end / (stop_at > 0 ? cos((180 - stop_at) / 2) : 1);  // from axis to its corner
  stop_far = max(stop_corner, sqrt(stop_end * stop_end + face * face));  // its farthest corner
  detent_block = 2 * detent_thickness;  // length of the block that joins an arm to its leaf
  layer_share = 0.75;  // height of the thickest layer, as a share of the width of its lines
  first_spread = 0.2;  // first layer's spread to a side: 0.1 to 0.3 mm (common practice, no source)
  // turn at which the leaves would meet, less the gap
  stop = 180 - 2 * atan((leaf_thickness + clearance - axis_at) / reach);
  leaf_span = max(leaf_length, leaf_thickness);  // a leaf is at least a stub as long as thick
  leaf_end = reach + leaf_span;  // from the axis to the far end of a leaf
  knuckle = (length - 2 * knuckles * play) / (2 * knuckles + 1);  // width of a knuckle
  pitch = knuckle + play;  // from one knuckle to the next, of the other link
  top = sqrt(radius / rim * radius / rim - line_width * line_width);  // height of a knuckle's top
  join = 0.01;  // parts that are one body reach this far into each other
  foot_height = max(leaf_thickness, backing);  // height of a knuckle's foot, to leaf or backing
  corner = min(leaf_corner, leaf_span / 2, length / 2);  // radius of free corners that fit the leaf
  screw_pitch = length / screws;  // from one screw to the next
  half = (180 + stop_at) / 2;  // direction half-way between the leaves
  ridge_stretch = 10;  // turn that a straight stretch of a ridge spans at the most
  ridge_stretches = max(1, ceil((detent_to - detent_at) / ridge_stretch));  // stretches of a ridge
  ridge_stride = (detent_to - detent_at) / ridge_stretches;  // turn that each of them spans
  detents = detent_also > 0 ? 2 : 1;  // turns at which it clicks, if it does
  detent_tall = axis_at - detent_radius + detent_base;  // height of an arm, its nose below the axis
  detent_gap = detent_height + play;  // from a knuckle's end to an arm: a nose and the links' play
  detent_end = detent_gap + detent_thickness + detent_height + clearance;  // room for bending arms
  end_room = detent_at > 0 ? detent_end : play;  // room beyond each end that bodies leave for arms
  furthest = stop_at > 0 ? stop_at : swing;  // turn that reliefs make room for: up to a stop
  sweeps = ceil(furthest / 2);  // steps in which a relief follows the moving side
  stride = furthest / sweeps;  // turn from one step of a relief to the next
  // room around what a relief follows: the clearance is left between steps
  room = clearance + (leaf_end + axis_at + clearance) * (1 - cos(stride / 2));
  near = radius + room;  // room beside the walls, towards the other side
  low = -axis_at - room;  // room below them
  far = (backing > 0 ? reach + join : radius) + room;  // room beside them, over the foot

  module check() {  // refuses what cannot work
    parts = ["both", "fixed", "moving", "fixed_relief", "moving_relief"];
    ranges = [for (v = [  // name, value, least, most, step, unit if not mm, what else is so
      ["angle", angle, -180, 180, 1, " deg"], ["swing", swing, 10, 180, 5, " deg"],
      ["stop_at", stop_at, 0, 175, 5, " deg"], ["detent_at", detent_at, 0, 180, 5, " deg"],
      ["detent_also", detent_also, 0, 180, 5, " deg"], ["detent_to", detent_to, 0, 180, 5, " deg"],
      ["knuckles", knuckles, 1, 12, 1, "", " in steps of 1"],
      ["axis_height", axis_height, 0, 150, 0.5], ["backing", backing, 0, 150, 0.5],
      ["cone", cone, 3, 30, 0.5], ["tip", tip, 1, 10, 0.1], ["wall", wall, 0.8, 8, 0.1],
      ["clearance", clearance, 0.15, 0.8, 0.05], ["foot", foot, 0, 1, 0.1],
      ["hold", hold, 0.4, 4, 0.1], ["leaf_length", leaf_length, 0, 100, 0.5],
      ["leaf_thickness", leaf_thickness, 1.2, 12, 0.2], ["leaf_corner", leaf_corner, 0, 20, 0.5],
      ["screw", screw, 0, 3, 1, "", " (none, M3, M4, M5)"],
      ["screws", screws, 1, 8, 1, "", " in steps of 1"],
      ["hole_series", hole_series, 0, 2, 1, "", " (fine, medium, coarse)"],
      ["head", head, 0, 2, 1, "", " (not sunk, ISO 10642, wood screw)"],
      ["detent_height", detent_height, 0.8, 6, 0.1], ["detent_arm", detent_arm, 6, 100, 0.5],
      ["detent_thickness", detent_thickness, 0.8, 5, 0.1],
      ["facets", facets, 16, 256, 4, "", " in steps of 4"], ["layer", layer, 0.04, 0.8, 0.02],
      ["line_width", line_width, 0.2, 1.2, 0.05], ["length", length, 10, 200, 0.5, " mm", ", or 0"]
    ]) [for (k = [0 : 6]) k < 5 || v[k] != undef ? v[k] : k == 5 ? " mm" : ""]];
    rules = [  // what it must be beside the other values, or else
      ["detent_at >=", (detent_to > 0 ? 0 : detent_step) + 2 * asin(min(max(detent_far, 0), 1)),
        "its noses print too near a bump", "alone"],
      ["detent_also >=", detent_also > 0 ? detent_at + 2 * detent_step : 0,
        "its two clicks are too near each other", "alone"],
      ["detent_to >=", detent_to > 0 ? detent_at + detent_step : 0,
        "friction holds it on no way", "alone"],
      ["axis_height >=", axis_height > 0 ? radius : 0,
        "its knuckles would reach below the bed", "alone"],
      ["stop_at >=", stop_at > 0 ? least_stop : 0, "the stop hangs over the knuckles", "alone"],
      ["wall >=", thinnest, "the knuckle is too thin to print solid"],
      ["tip >=", 2 * play + hold, "a knuckle slips off its cone"],
      ["cone >=", 2 * tip + 2 * line_width, "the cone ends in a point too thin to print"],
      ["foot <=", wall, "a cone starts over the chamfer of its knuckle"],
      ["length >=", least_length, "the two sockets meet in a knuckle"],
      ["detent_height <=", detent_at > 0 ? (flat_end - line_width) / 2 - line_width : length,
        "two bumps have no room on the end of a knuckle"],
      ["detent_at <=", swing, "it clicks beyond its swing"],
      ["detent_also <=", detent_at > 0 && detent_to <= 0 ? swing : 0,
        "it clicks beyond its swing, or a second time and no first, or none"],
      ["detent_to <=", detent_at > 0 ? swing : 0,
        "friction holds it beyond its swing, or from no turn on"],
      ["detent_height >=", detent_at > 0 ? 2 * play + line_width : 0,
        "a nose passes its bumps when a link lies at one end of its play"],
      ["detent_thickness >=", detent_at > 0 ? thinnest : 0, "an arm is too thin to print solid"],
      ["detent_arm >=", detent_at > 0 ? detent_slim * detent_thickness : 0,
        "the arm is a block that hardly bends"],
      ["detent_arm >=", detent_at > 0 ? reach : 0, "an arm ends before its leaf begins"],
      ["detent_arm >=", detent_at > 0 && stop_at > 0 ? stop_far + clearance : 0,
        "the root of an arm rubs on the end of the stop"],
      ["leaf_length >=", detent_at > 0 ? detent_arm + detent_block + leaf_corner - reach : 0,
        "the arms of its detent have no leaf to stand on"],
      ["leaf_thickness <=", 2 * radius, "the leaf is thicker than the knuckle is high"],
      ["backing <=", axis_height > 0 ? axis_height : 0,
        "your wall would reach over the axis, or carry nothing"],
      ["stop_at <=", axis_height > 0 ? 0 : 180, "it has a stop and walls that raise the axis"],
      ["length >=", least_length_2, "the screws are too near each other"],
      ["leaf_length >=", seat, "a screw is too near the edge of the leaf"],
      ["leaf_thickness >=", screw > 0 ? (sink - hole) / 2 + 1 : 0,
        "a countersunk head goes through the leaf"],
      ["angle <=", swing, "it is drawn further than it turns"],
      ["angle >=", 0, "it is drawn further than it turns"],
      ["layer <=", layer_share * line_width, "its lines are hardly pressed onto the layer below"],
      ["clearance >=", layer * cos(45), "a layer of one link lands on the other"],
      ["foot >=", 2 * first_spread - clearance + layer / 2,
        "the links join where a first layer spreads"],
      ["swing <=", stop, "the leaves meet before"],
      ["stop_at <=", stop, "the leaves meet before the stop"],
      ["angle <=", stop_at > 0 ? stop_at - 1 : swing,
        "it is drawn with its links touching at the stop"],
      ["swing <=", stop_at > 0 ? stop_at : 180, "it is stopped before"],
      ["leaf_length >=", stop_at > 0 ? stop_end - reach + leaf_corner : 0,
        "the stop has no leaf to stand on"],
      ["leaf_length >=", stop_at > 0 && screw > 0 ? 2 * (stop_end - reach) + seat : 0,
        "the stop covers the screws"]
    ];
    function told(name, value, asked) =
      str("side_cones(): ", name, " = ", value, "; it must be ", asked, ".");
    assert([for (p = parts) if (p == part) p] == [part], told("part", part, str("one of ", parts)));
    for (v = ranges)  // what has no unit is a count, and whole
      assert(is_num(v[1]) && v[1] >= v[2] && v[1] <= v[3] && (v[5] != "" || v[1] % v[4] == 0),
        told(v[0], str(v[1], v[5]), str(v[2], " to ", v[3], v[5], v[6])));
    // A limit on the steps of its value; where bound and rules end the range of a value, and why.
    function on_step(v, r, way) = way * ceil((way * r[1] - grain) / v[4]) * v[4];
    function end(v, sense, way, bound) = let(
      ends = [[bound, ""], for (r = rules) if (r[0] == str(v[0], sense) && r[3] == undef)
        [on_step(v, r, way), str(", or ", r[2])]], last = way * max([for (e = ends) way * e[0]])
    ) [for (e = ends) if (e[0] == last) e][0];
    for (r = rules, v = ranges, way = [1, -1]) if (r[0] == str(v[0], way > 0 ? " >=" : " <=")) {
      low = end(v, " >=", 1, v[2]); high = end(v, " <=", -1, v[3]);
      asked = r[3] != undef ?
        str(way > 0 ? "at least " : "at most ", on_step(v, r, way), v[5], ", or ", r[2]) :
        low[0] <= high[0] ? str(low[0], " to ", high[0], v[5], " here, or ", r[2]) :
        str("at least ", low[0], v[5], low[1], ", and at most ", high[0], v[5], high[1],
          "; no multiple of ", v[4], v[5], " works here");
      assert(way * v[1] >= way * r[1] - grain, told(v[0], str(v[1], v[5]), asked));
    }
  }
}

// Sizes (mm) that your own bodies need, by name; it takes the values of the module.
function side_cones_size(name, part, angle, swing, stop_at, detent_at = 0, detent_also, detent_to,
  length = 0, knuckles = 1, axis_height = 0, backing, cone = 7, tip = 2.2, wall = 2.4,
  clearance = 0.3, foot, hold, leaf_length, leaf_thickness, leaf_corner, screw = 0, screws = 2,
  hole_series = 1, head = 1, detent_height = 1.5, detent_arm, detent_thickness = 1.4, facets, layer,
  line_width = 0.45) = let(
  play = clearance / cos(45),
  least_length = (2 * knuckles + 1) * (2 * tip + wall) + 2 * knuckles * play, spread = 3,
  clearance_holes = [[3.2, 3.4, 3.6], [4.3, 4.5, 4.8], [5.3, 5.5, 5.8]],
  hole = clearance_holes[max(screw - 1, 0)][hole_series],
  heads = [[6.72, 5.6], [8.96, 7.5], [11.2, 9.2]],
  sink = screw > 0 && head > 0 ? max(heads[max(screw - 1, 0)][max(head - 1, 0)], hole) : hole,
  seat = screw > 0 ? max(spread * hole, sink + 2) : 0, least_length_2 = screws * seat,
  length = side_cones_as_needed(length, usual = 30, step = 0.5, most = 200, least =
    max(least_length, least_length_2)),
  detent_gap = detent_height + play,
  detent_end = detent_gap + detent_thickness + detent_height + clearance,
  end_room = detent_at > 0 ? detent_end : play, radius = cone / 2 + wall,
  axis_at = axis_height > 0 ? axis_height : radius, reach = radius / cos(45 / 2) + clearance + play,
  lines = 3, thinnest = lines * line_width,
  sizes = [
    ["detent_end", end_room],  // room beyond each end for a detent's arms, or for the links' play
    ["axis_height", axis_at],  // height of the axis: half as high as wall and lid together
    ["length_taken", length + 2 * end_room],  // length along the axis, with the room at its ends
    ["reach", radius],  // how far the knuckles reach from the axis
    ["leaf_start", reach],  // from the axis to the leaves: what stands nearer the reliefs take away
    ["least_wall", thinnest]  // thinnest wall that prints solid
  ],
  found = [for (size = sizes) if (size[0] == name) size[1]]
) assert(found != [], str("side_cones_size(): name = ", name, "; it must be one of ",
  [for (size = sizes) size[0]], ".")) found[0];
// What was given; for 0 the usual value, or the least on its steps that is enough.
function side_cones_as_needed(given, usual, step, most, least, grain = 1e-06) =
  given == 0 ? min(max(usual, ceil((least - grain) / step) * step), most) : given;
