// waisted_spindle.scad - Upright hinge: rings turn around the waists of a shaft held at both ends.
// Print it standing: axis upright, both leaves on their lower edges. No supports.
// Good: stands without supports, turns freely, is held at both ends.
// Weak: tall: each ring needs a shaft about three times as long as the knuckle is wide.
// Turning leaves can pinch fingers; small or broken-off parts can be swallowed.
// Not for loads that can hurt someone: follow local codes and ask a licensed professional.
// SPDX-License-Identifier: MIT; written by scadgen 0.2.0.
//
//   use <waisted_spindle.scad>
//   waisted_spindle(part = "fixed");
//   waisted_spindle(part = "moving", angle = 10) lid();  // your lid() goes with it
//   echo(waisted_spindle_size("length_taken"));  // and other sizes by name: see the end
//
// It draws nothing by itself: waisted_spindle_customizer.scad does, with sliders.
// Resize it by its parameters, never with scale(): that would scale the gaps too.
// Fingerprint of this text as written: c6157fb93c899cc3

module waisted_spindle(
  part = "both",  // what to draw: both, fixed, moving, fixed_relief, moving_relief
  angle = 0,  // angle drawn; 0 is how it prints (deg)
  swing = 110,  // turn that the hinge must be free for (deg)
  stop_at = 0,  // turn that flat faces stop; 0 for no such stop (deg)
  printed_at = 0,  // turn at which it prints; 0 is flat (deg)
  opens_to = 0,  // opening, from shut, that a heel stops; 0: none (deg)
  height = 0,  // height of the hinge; 0: 40 or as needed (mm)
  shaft = 8,  // diameter of the shaft (mm)
  wall = 2.4,  // wall of a ring around the shaft (mm)
  knuckle = 0,  // height of the straight part of a knuckle; 0: 4 or as needed (mm)
  waist = 1.8,  // depth of the waist in the shaft (mm)
  rings = 1,  // rings of the moving link, one above the other
  clearance = 0.3,  // air gap, square to the walls (mm)
  foot = 0.4,  // chamfer along the bed, for the first layer's spread (mm)
  hold = 0.9,  // grip of the waist that is left after all play (mm)
  leaf_length = 15,  // length of a leaf; 0 leaves a plain stub (mm)
  leaf_thickness = 4,  // thickness of a leaf (mm)
  leaf_corner = 2,  // radius of a leaf's free corners; 0: square (mm)
  screw = 0,  // screws that hold a leaf
  screws = 2,  // screws in a leaf, if any
  hole_series = 1,  // series of the clearance holes (ISO 273)
  head = 1,  // countersink for a flat head
  setback = 0,  // from the axis back to the middle of a leaf; 0: in its plane (mm)
  facets = 64,  // facets per full turn
  layer = 0.3,  // thickest layer that prints it (mm)
  line_width = 0.45  // width of a printed line (mm)
) {
  check();
  if (part == "both" || part == "fixed") {
    spindle();
    mirror([1, 0, 0]) leaf_with() {
      foot_arm(top = knuckle);
      for (i = [0 : rings - 1]) translate([0, (i + 1) * storey]) knuckle_arm();
    }
    if (stop_at > 0) linear_extrude(height = height, convexity = 10) stop_outline();
    if (opens_to > 0) linear_extrude(height = height, convexity = 10) heel_outline();
  }
  if (part == "both" || part == "moving") rotate([0, 0, angle + printed_at]) {
    for (i = [0 : rings - 1]) translate([0, 0, knuckle + i * storey]) ring();
    leaf_with() for (i = [0 : rings - 1]) translate([0, knuckle + i * storey]) ring_arm();
  }
  if (part == "fixed_relief") relief();
  if (part == "moving_relief") rotate([0, 0, angle + printed_at]) {
    mirror([1, 0, 0]) relief();
    if (stop_at > 0) translate([0, 0, -1]) linear_extrude(height = height + 2, convexity = 10)
      swept(start = -least_turn, step = -stride, steps = sweeps) stop_passed();
    if (opens_to > 0) translate([0, 0, -1]) linear_extrude(height = height + 2, convexity = 10)
      circle(r = (heel_end + clearance) * rim, $fn = facets);
  }
  if (part == "both" || part == "moving") rotate([0, 0, angle]) children();

  module spindle() rotate_extrude(convexity = 10, $fn = facets) {  // knuckles and shaft as one
    polygon([[0, 0], [radius - foot, 0], [radius, foot], [radius, knuckle], [0, knuckle]]);
    for (i = [0 : rings - 1]) translate([0, knuckle + i * storey]) storey_outline();
  }
  module storey_outline() {  // half section: tapered root, shaft, waist and the knuckle above
    shaft_outline(top = pinch - waist, peak = pinch - waist);
    waist_outline();
  }
  module shaft_outline(top, peak)  // half section of a shaft on its root, up to a peak
    polygon([[0, -join], [radius, -join], [radius, 0], [shaft / 2, radius - shaft / 2],
      [shaft / 2, top], [0, peak]]);
  // Half section from the waist up: neck, flare, knuckle above.
  module waist_outline() polygon([[0, pinch - waist - join], [shaft / 2, pinch - waist - join],
    [shaft / 2, pinch - waist], [neck, pinch], [neck, pinch + throat], [radius, storey - knuckle],
    [radius, storey], [0, storey]]);
  module leaf_with() difference() {  // leaf and the arms that join it to its knuckles
    plate_with() children();
    if (sink > hole) translate([0, face, height]) rotate([-90, 0, 0]) countersinks();
  }
  module plate_with()  // leaf and arms, in one plane or a web between them
    if (setback > aside) {
      translate([0, -setback, 0]) standing(thickness = leaf_thickness)
        difference() { leaf_outline(); if (screw > 0) screw_holes(); }
      translate([0, -aside, 0]) standing(thickness = leaf_thickness) children();
      translate([0, -(setback + aside) / 2, 0])
        standing(thickness = leaf_thickness + setback - aside) web_outline();
    }
    else translate([0, -aside, 0]) standing(thickness = leaf_thickness) {
      difference() { leaf_outline(); if (screw > 0) screw_holes(); }
      children();
    }
  module standing(thickness)  // an outline in x and z, as thick in y as said, half to each side
    rotate([90, 0, 0]) linear_extrude(height = thickness, center = true, convexity = 10) children();
  module leaf_outline() {  // leaf in side view: chamfered at the bed, upper free corner rounded
    polygon([[reach + foot, 0], [leaf_end, 0], [leaf_end, height - corner],
      [leaf_end - corner, height], [reach, height], [reach, foot]]);
    if (corner > 0)
      translate([leaf_end - corner, height - corner]) circle(r = corner, $fn = facets);
  }
  // Holes in a leaf drawn flat: x from the axis, y along it.
  module screw_holes() translate([reach + leaf_span / 2, 0]) for (i = [0 : screws - 1])
    translate([0, (2 * i + 1) * screw_pitch / 2]) bore_outline(radius = hole / 2, rim = rim);
  module bore_outline(radius, rim) {  // bore under a 45-degree roof, so that nothing in it hangs
    corner = radius * rim;
    circle(r = corner, $fn = facets);
    rotate(45) square([corner, corner]);
  }
  module web_outline()  // web in side view: inner edge chamfered as the leaf's
    polygon([[reach + foot, 0], [reach + leaf_thickness, 0], [reach + leaf_thickness, height],
      [reach, height], [reach, foot]]);
  module countersinks() translate([reach + leaf_span / 2, 0, 0])  // countersinks of 90 degrees
    for (i = [0 : screws - 1]) translate([0, (2 * i + 1) * screw_pitch / 2, 0]) hull() {
      linear_extrude(height = 1, convexity = 10) bore_outline(radius = sink / 2, rim = rim);
      translate([0, 0, (hole - sink) / 2]) linear_extrude(height = join, convexity = 10)
        bore_outline(radius = hole / 2, rim = rim);
    }
  // Arm in side view that lies on the bed.
  module foot_arm(top) translate([radius - bite, 0]) square([reach + join - (radius - bite), top]);
  module knuckle_arm() arm(start = 0, top = knuckle);  // arm to a knuckle, in side view
  module arm(start, top)  // arm in side view; its underside meets the knuckle at start
    polygon([[reach + join, start + radius - reach], [reach, start + radius - reach],
      [radius - bite, start + bite], [radius - bite, top], [reach + join, top]]);
  // Stop on the fixed leaf, clear of the knuckles: what the moving leaf's face meets.
  module stop_outline() difference() { stop_fan(); circle(r = reach * rim, $fn = facets); }
  module stop_fan()  // between the fixed and the stopped moving leaf, across the axis
    polygon([[reach * stop_run - arm_face * stop_rise, reach * stop_rise + arm_face * stop_run],
      [stop_end * stop_run - arm_face * stop_rise, stop_end * stop_rise + arm_face * stop_run],
      [stop_end * cos(half), stop_end * sin(half)], [-stop_end, arm_face - leaf_thickness / 2],
      [-reach, arm_face - leaf_thickness / 2]]);
  module heel_outline() difference() {  // heel behind the knuckles, from leaf to leaf
    circle(r = heel_end, $fn = facets);
    circle(r = reach * rim, $fn = facets);
    polygon([[0, 0], [far * cos(opened), far * sin(opened)], [far * cos(amid), far * sin(amid)],
      [-far, 0]]);
    rotate(opened) translate([0, -back]) square([far, back + reach / 2]);
    if (face < 0) translate([-far, face]) square([far, join - face]);
  }
  module ring() difference() {  // ring around the waist, grown out from its leaf by a corbel
    rotate_extrude(convexity = 10, $fn = facets) socket_outline(bottom = corbel);
    translate([0, 0, corbel])
      corbel_below(radius = radius, bore = bore * rim, arm = leaf_thickness, aside = aside);
  }
  // Half section of a ring: bore, throat, and a funnel.
  module socket_outline(bottom) polygon([[bore * rim, bottom], [radius, bottom], [radius, ring_top],
    [(radius - rind) * rim, ring_top], [(neck + clearance) * rim, pinch + throat - lead],
    [(neck + clearance) * rim, pinch + lead], [bore * rim, pinch - waist + lead]]);
  module corbel_below(radius, bore, arm, aside) {  // all below a corbel from an arm at +x to -x
    far = 2 * radius;  // beyond the whole ring
    through = 2 * far;  // through everything
    side = max(bore - arm / 2 + aside, 0);  // climb from the arm to the side of the bore
    translate([0, 0, radius]) {
      climbing(length = 2 * through) translate([aside, 0])
        polygon([[-far, -far], [far, -far], [far, (far - arm / 2) / sqrt(2)], [arm / 2, 0],
          [-arm / 2, 0], [-far, (far - arm / 2) / sqrt(2)]]);
      intersection() {
        climbing(length = 2 * through) polygon([[-bore, -far], [bore, -far], [bore, side / sqrt(2)],
          [0, (side + bore) / sqrt(2)], [-bore, side / sqrt(2)]]);
        linear_extrude(height = 2 * through, center = true, convexity = 10)
          translate([-through, -far]) square([through, through]);
      }
    }
  }
  module climbing(length)  // an outline in y and across a 45-degree climb to -x, drawn out along it
    rotate([45, 0, -90]) linear_extrude(height = length, center = true, convexity = 10) children();
  module ring_arm() arm(start = corbel, top = ring_top);  // arm to a ring, in side view
  // Room for one link on its way both ways: subtract it from the other side's body.
  module relief() translate([0, 0, -1]) linear_extrude(height = height + 2, convexity = 10) {
    circle(r = reach * rim, $fn = facets);
    swept(start = least_turn, step = stride, steps = sweeps) leaf_room();
  }
  module swept(start, step, steps) for (k = [0 : steps - 1])  // convex outline on its way
    hull() { rotate(start + k * step) children(); rotate(start + (k + 1) * step) children(); }
  module leaf_room() translate([0, -(setback + leaf_thickness / 2 + room)])  // leaf, arms and room
    square([leaf_end + room, setback + leaf_thickness / 2 + room + arm_face + room]);
  module stop_passed() hull() for (i = [0 : 1])  // stop with room around it
    for (j = [0 : 1]) translate([(2 * i - 1) * room, (2 * j - 1) * room]) stop_fan();

  knuckle = waisted_spindle_as_needed(knuckle, usual = 4, step = 0.5, most = 30, least = wall);
  play = clearance / cos(45);  // way along the axis until two 45-degree walls touch
  corbel = 2 * play;  // height at which a ring starts to grow from its leaf
  radius = shaft / 2 + clearance + wall;  // outer radius of knuckles and rings
  bore = shaft / 2 + clearance;  // radius of the straight bore in a ring
  beyond = leaf_thickness / 2 + 2 * clearance;  // how far back arms are that fold past half a turn
  aside = min(setback, beyond);  // how far the arms are set back
  arm_face = leaf_thickness / 2 - aside;  // from the axis to the plane of the arms' inner face
  closed = corbel + 2 * radius + max(bore - arm_face, 0) + bore;  // height at which the ring closes
  lead = play - clearance;  // shift of a corner of 45 degrees between walls that keep the gap
  throat = 1 + 2 * lead;  // length of the waist at its narrowest, for a land of 1 mm in the ring
  neck = shaft / 2 - waist;  // radius of the waist at its narrowest
  flare = radius - neck;  // height in which the waist widens to the knuckle above
  least_height = knuckle + rings * (closed - lead + waist + throat + flare + knuckle);
  spread = 3;  // holes stand so many of their diameters apart (common practice, no source)
  clearance_holes = [[3.2, 3.4, 3.6], [4.3, 4.5, 4.8], [5.3, 5.5, 5.8]];  // ISO 273: M3, M4, M5
  hole = clearance_holes[max(screw - 1, 0)][hole_series];  // diameter of a screw hole
  heads = [[6.72, 5.6], [8.96, 7.5], [11.2, 9.2]];  // ISO 10642, flat-head wood screws: M3, M4, M5
  // diameter of the countersink at the leaf's surface
  sink = screw > 0 && head > 0 ? max(heads[max(screw - 1, 0)][max(head - 1, 0)], hole) : hole;
  seat = screw > 0 ? max(spread * hole, sink + 2) : 0;  // room for a screw: 1 mm around its head
  least_height_2 = screws * seat;
  height = waisted_spindle_as_needed(height, usual = 40, step = 0.5, most = 200, least =
    max(least_height, least_height_2));
  grain = 1e-06;  // a limit missed by less is met: three lines of 0.4 make 1.2
  least_stop = 60;  // least turn that a stop may end, or it would reach over the knuckles
  lines = 3;  // lines across the thinnest wall that prints solid
  thinnest = lines * line_width;  // thinnest wall that prints solid
  rim = 1 / cos(180 / facets);  // bores are drawn around their circle, so that facets take no gap
  solid = radius / rim;  // radius within which a faceted knuckle is solid
  rind = wall / 2;  // depth of a ring's wall that an arm may reach into
  join = 0.01;  // parts that are one body reach this far into each other
  slim = (radius - rind) * rim + join;  // from the axis to the bore, which no arm may enter
  deep = sqrt(max(solid * solid - slim * slim, 0));  // how far beside its bore a wall ends
  reach = radius + 2 * clearance;  // from the axis to the leaves, clear of all knuckles
  farthest_back = 100;  // a leaf without a heel may stand so far back, and never farther
  opened = 180 - opens_to;  // turn at which the heel stops the opening, from flat
  first_spread = 0.2;  // first layer's spread to a side: 0.1 to 0.3 mm (common practice, no source)
  spread_apart = clearance + 2 * first_spread;  // gap on the bed of two square edges that spread
  short_of_stop = atan(spread_apart / reach);  // turn by which it prints short of its stop
  arms_spread = arm_face + spread_apart;  // arms' reach over the axis, with that gap
  joins_at = arms_spread > 0 ? reach : reach + leaf_thickness;  // where they would join on the bed
  face = leaf_thickness / 2 - setback;  // from the axis to the plane of a leaf's inner face
  leaf_span = max(leaf_length, leaf_thickness);  // a leaf is at least a stub as long as thick
  leaf_end = reach + leaf_span;  // from the axis to the far end of a leaf
  // turn up to which it may print: beyond it the leaves are too near each other on the bed
  leaves_apart = 180 - 2 * atan(max(arms_spread / joins_at, (face + spread_apart) / leaf_end));
  widest = 190;  // widest turn that may be asked for: a little more than half a turn
  backmost = setback > 0 ? 0 : -swing;  // other end of its swing: set back, it folds one way only
  layer_share = 0.75;  // height of the thickest layer, as a share of the width of its lines
  overlap = arm_face + clearance;  // arms' reach over the axis with the gap; below 0 they fold shut
  meets_at = overlap > 0 ? reach : reach + leaf_thickness;  // where arms meet, or the webs behind
  // turn at which the leaves would meet, less the gap
  stop = 180 - 2 * atan(max(overlap / meets_at, (face + clearance) / leaf_end));
  stop_end = (reach + leaf_thickness) / cos((180 - stop_at) / 2 / 2);  // from axis to stop corners
  back = setback + leaf_thickness / 2;  // from the axis back to the plane of a leaf's outer face
  // from the axis to the far side of the heel: it meets the leaf over that one's thickness
  heel_end = sqrt(back * back + (reach + leaf_thickness) * (reach + leaf_thickness));
  point = 0.4;  // how far a line's end reaches into the bore where a ring closes, in lines
  felt = 0.02;  // room beyond the end of a single line
  storey = (height - knuckle) / rings;  // height from one root of the shaft to the next
  pinch = storey - knuckle - flare - throat;  // height at which the waist is down to the neck
  corner = min(leaf_corner, leaf_span / 2, height / 2);  // radius of free corners that fit the leaf
  screw_pitch = height / screws;  // from one screw to the next
  flank = leaf_thickness / 2 + aside;  // from the axis to the outer side of the arms
  bite = radius - sqrt(max(solid * solid - flank * flank, 0)) + join;  // arms' reach into knuckles
  stop_run = cos(stop_at);  // cosine of the turn at the stop
  stop_rise = sin(stop_at);  // sine of the turn at the stop
  half = (180 + stop_at) / 2;  // direction half-way between the leaves
  far = 2 * heel_end;  // beyond the heel
  amid = (180 + opened) / 2;  // direction half-way between the leaves
  ring_top = storey - knuckle - rind - play;  // height of the flat rim on top of a ring
  least_turn = opens_to > 0 ? opened : backmost;  // other end of its swing: heel, or as it folds
  furthest = stop_at > 0 ? stop_at : swing;  // turn that reliefs make room for: up to a stop
  sweeps = ceil(furthest / 2);  // steps in which a relief follows the moving side
  stride = (furthest - least_turn) / sweeps;  // turn from one step of a relief to the next
  // room around what a relief follows: the clearance is left between steps
  room = clearance + (leaf_end + radius + clearance + setback) * (1 - cos(stride / 2));

  module check() {  // refuses what cannot work
    parts = ["both", "fixed", "moving", "fixed_relief", "moving_relief"];
    ranges = [for (v = [  // name, value, least, most, step, unit if not mm, what else is so
      ["angle", angle, -190, 190, 1, " deg"], ["swing", swing, 10, 190, 5, " deg"],
      ["stop_at", stop_at, 0, 185, 5, " deg"], ["printed_at", printed_at, 0, 190, 5, " deg"],
      ["opens_to", opens_to, 0, 175, 5, " deg"], ["shaft", shaft, 4, 30, 0.5],
      ["wall", wall, 0.8, 8, 0.1], ["waist", waist, 0.8, 8, 0.1],
      ["rings", rings, 1, 6, 1, "", " in steps of 1"], ["clearance", clearance, 0.15, 0.8, 0.05],
      ["foot", foot, 0, 1, 0.1], ["hold", hold, 0.4, 4, 0.1],
      ["leaf_length", leaf_length, 0, 100, 0.5], ["leaf_thickness", leaf_thickness, 1.2, 12, 0.2],
      ["leaf_corner", leaf_corner, 0, 20, 0.5],
      ["screw", screw, 0, 3, 1, "", " (none, M3, M4, M5)"],
      ["screws", screws, 1, 8, 1, "", " in steps of 1"],
      ["hole_series", hole_series, 0, 2, 1, "", " (fine, medium, coarse)"],
      ["head", head, 0, 2, 1, "", " (not sunk, ISO 10642, wood screw)"],
      ["setback", setback, 0, 100, 0.5], ["facets", facets, 16, 256, 4, "", " in steps of 4"],
      ["layer", layer, 0.04, 0.8, 0.02], ["line_width", line_width, 0.2, 1.2, 0.05],
      ["knuckle", knuckle, 1, 30, 0.5, " mm", ", or 0"],
      ["height", height, 10, 200, 0.5, " mm", ", or 0"]
    ]) [for (k = [0 : 6]) k < 5 || v[k] != undef ? v[k] : k == 5 ? " mm" : ""]];
    rules = [  // what it must be beside the other values, or else
      ["stop_at >=", stop_at > 0 ? least_stop : 0, "the stop hangs over the knuckles", "alone"],
      ["height >=", least_height, "the waist starts before the rings have closed around the shaft"],
      ["waist >=", 2 * clearance + hold, "a ring slips off its waist"],
      ["shaft >=", 2 * (waist + 2 * line_width), "the neck is too thin"],
      ["wall >=", thinnest, "the ring is too thin to print solid"],
      ["knuckle >=", wall, "the arms of the leaf have nothing to hold"],
      ["leaf_thickness <=", max(2 * deep - 2 * setback, deep - 2 * clearance),
        "the corners of the arms leave the wall"],
      ["setback <=", opens_to > 0 ? reach - leaf_thickness / 2 : farthest_back,
        "its heel would be thicker than the knuckles"],
      ["printed_at >=", opens_to > 0 ? opened + short_of_stop : 0,
        "it prints past its heel, or joined with it"],
      ["printed_at <=", swing, "it prints further than it turns"],
      ["printed_at <=", leaves_apart, "the leaves join where a first layer spreads"],
      ["printed_at <=", stop_at > 0 ? stop_at - short_of_stop : widest,
        "it prints with its stop joined"],
      ["height >=", least_height_2, "the screws are too near each other"],
      ["leaf_length >=", seat, "a screw is too near the edge of the leaf"],
      ["leaf_thickness >=", screw > 0 ? (sink - hole) / 2 + 1 : 0,
        "a countersunk head goes through the leaf"],
      ["angle <=", swing - printed_at, "it is drawn further than it turns"],
      ["angle >=", (opens_to > 0 ? opened + 1 : backmost) - printed_at,
        "it is drawn further than it turns"],
      ["layer <=", layer_share * line_width, "its lines are hardly pressed onto the layer below"],
      ["clearance >=", layer * cos(45), "a layer of one link lands on the other"],
      ["foot >=", 2 * first_spread - clearance + layer / 2,
        "the links join where a first layer spreads"],
      ["swing <=", stop, "the leaves meet before: a setback lets them fold further"],
      ["stop_at <=", stop, "the leaves meet before the stop"],
      ["angle <=", (stop_at > 0 ? stop_at - 1 : swing) - printed_at,
        "it is drawn with its links touching at the stop"],
      ["swing <=", stop_at > 0 ? stop_at : widest, "it is stopped before"],
      ["leaf_length >=", stop_at > 0 ? stop_end - reach + leaf_corner : 0,
        "the stop has no leaf to stand on"],
      ["leaf_length >=", stop_at > 0 && screw > 0 ? 2 * (stop_end - reach) + seat : 0,
        "the stop covers the screws"],
      ["leaf_length >=", opens_to > 0 ? heel_end + clearance - reach + leaf_corner : 0,
        "the heel has no leaf to meet"],
      ["leaf_length >=", opens_to > 0 && screw > 0 ? 2 * (heel_end - reach) + seat : 0,
        "the heel covers the screws"],
      ["clearance >=", point * line_width + felt,
        "a line across the narrow ends of a ring that closes reaches the shaft"]
    ];
    function told(name, value, asked) =
      str("waisted_spindle(): ", name, " = ", value, "; it must be ", asked, ".");
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
function waisted_spindle_size(name, part, angle, swing, stop_at, printed_at, opens_to, height = 0,
  shaft = 8, wall = 2.4, knuckle = 0, waist = 1.8, rings = 1, clearance = 0.3, foot, hold,
  leaf_length, leaf_thickness = 4, leaf_corner, screw = 0, screws = 2, hole_series = 1, head = 1,
  setback = 0, facets, layer, line_width = 0.45) = let(
  knuckle = waisted_spindle_as_needed(knuckle, usual = 4, step = 0.5, most = 30, least = wall),
  play = clearance / cos(45), corbel = 2 * play, radius = shaft / 2 + clearance + wall,
  bore = shaft / 2 + clearance, beyond = leaf_thickness / 2 + 2 * clearance,
  aside = min(setback, beyond), arm_face = leaf_thickness / 2 - aside,
  closed = corbel + 2 * radius + max(bore - arm_face, 0) + bore, lead = play - clearance,
  throat = 1 + 2 * lead, neck = shaft / 2 - waist, flare = radius - neck,
  least_height = knuckle + rings * (closed - lead + waist + throat + flare + knuckle), spread = 3,
  clearance_holes = [[3.2, 3.4, 3.6], [4.3, 4.5, 4.8], [5.3, 5.5, 5.8]],
  hole = clearance_holes[max(screw - 1, 0)][hole_series],
  heads = [[6.72, 5.6], [8.96, 7.5], [11.2, 9.2]],
  sink = screw > 0 && head > 0 ? max(heads[max(screw - 1, 0)][max(head - 1, 0)], hole) : hole,
  seat = screw > 0 ? max(spread * hole, sink + 2) : 0, least_height_2 = screws * seat,
  height = waisted_spindle_as_needed(height, usual = 40, step = 0.5, most = 200, least =
    max(least_height, least_height_2)),
  reach = radius + 2 * clearance, lines = 3, thinnest = lines * line_width,
  sizes = [
    ["length_taken", height],  // length along the axis, with the room at its ends
    ["reach", radius],  // how far the knuckles reach from the axis
    ["leaf_start", reach],  // from the axis to the leaves: what stands nearer the reliefs take away
    ["least_wall", thinnest]  // thinnest wall that prints solid
  ],
  found = [for (size = sizes) if (size[0] == name) size[1]]
) assert(found != [], str("waisted_spindle_size(): name = ", name, "; it must be one of ",
  [for (size = sizes) size[0]], ".")) found[0];
// What was given; for 0 the usual value, or the least on its steps that is enough.
function waisted_spindle_as_needed(given, usual, step, most, least, grain = 1e-06) =
  given == 0 ? min(max(usual, ceil((least - grain) / step) * step), most) : given;
