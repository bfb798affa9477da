// nested_cones.scad - Upright hinge: links of both sides take turns in a stack, all cones pointing
//   up.
// Print it standing: axis upright, both leaves on their lower edges. No supports. Lengths in mm,
//   angles in degrees.
// Good: stands without supports, no flat ceiling anywhere, as many links as wanted.
// Weak: tallest of all; a link is held down only by the one above it.
// Turning leaves can pinch fingers; small or broken-off parts can be swallowed.
// Not for loads that can hurt someone: follow local codes and ask a licensed professional.
// SPDX-License-Identifier: MIT; written by scadgen 0.2.0.
//
//   use <nested_cones.scad>
//   nested_cones(part = "fixed");
//   nested_cones(part = "moving", angle = 10) lid();  // your lid() goes with it
//   echo(nested_cones_length_taken());  // and what else its functions tell, below
//
// By itself it draws nothing; to see it with its values in the Customizer, open
//   nested_cones_customizer.scad.
// Resize it by its parameters, never with scale(): that would scale the gaps too.
// Fingerprint of this text as written: 98798de86894d74c

module nested_cones(
  part = "both",  // what to draw: both, fixed, moving, fixed_relief, moving_relief
  angle = 0,  // angle drawn; 0 is how it prints (deg)
  swing = 110,  // turn that the hinge must be free for (deg)
  stop_at = 0,  // turn that flat faces stop; 0 for no such stop (deg)
  height = 0,  // height of the hinge; 0: 56 or as needed (mm)
  shaft = 6,  // diameter of the post that carries a cone (mm)
  wall = 2.4,  // wall of a ring around the shaft (mm)
  knuckle = 0,  // height of the straight part of a knuckle; 0: 4 or as needed (mm)
  links = 3,  // links of the stack; those of the two sides take turns
  clearance = 0.3,  // air gap, square to the walls (mm)
  foot = 0.4,  // chamfer along the bed, for the first layer's spread (mm)
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
    base();
    for (i = [0 : floor(links / 2) - 1]) translate([0, 0, knuckle + 2 * i * storey]) post();
    mirror([1, 0, 0]) {
      for (i = [0 : floor((links - 1) / 2) - 1])
        translate([0, 0, knuckle + (2 * i + 1) * storey]) link();
      leaf_with() {
        foot_arm(top = knuckle);
        for (i = [0 : floor((links - 1) / 2) - 1])
          translate([0, knuckle + (2 * i + 1) * storey]) link_arm();
      }
    }
    if (stop_at > 0) linear_extrude(height = height, convexity = 10) stop_outline();
  }
  if (part == "both" || part == "moving") rotate([0, 0, angle]) {
    for (i = [0 : floor(links / 2) - 1]) translate([0, 0, knuckle + 2 * i * storey]) link();
    for (i = [0 : floor((links - 1) / 2) - 1])
      translate([0, 0, knuckle + (2 * i + 1) * storey]) post();
    leaf_with()
      for (i = [0 : floor(links / 2) - 1]) translate([0, knuckle + 2 * i * storey]) link_arm();
    children();
  }
  if (part == "fixed_relief") relief();
  if (part == "moving_relief") rotate([0, 0, angle]) {
    mirror([1, 0, 0]) relief();
    if (stop_at > 0)
      translate([0, 0, -1]) linear_extrude(height = height + 2, convexity = 10) stop_sweep();
  }

  // Knuckle on the bed.
  module base() rotate_extrude(convexity = 10, $fn = facets)
    polygon([[0, 0], [radius - foot, 0], [radius, foot], [radius, knuckle], [0, knuckle]]);
  // Tapered root, post and cone on top of a link.
  module post() rotate_extrude(convexity = 10, $fn = facets) difference() {
    shaft_outline(top = eaves, peak = peak + tip);
    translate([0, peak]) square([shaft, tip]);
  }
  // Half section of a shaft on its tapered root; it ends flat, or in a cone to the peak.
  module shaft_outline(top, peak) polygon([
    [0, -join], [radius, -join], [radius, 0], [shaft / 2, radius - shaft / 2], [shaft / 2, top],
    [0, peak]
  ]);
  // Link over the cone below: a socket under a pointed roof, grown out from its leaf.
  module link() difference() {
    rotate_extrude(convexity = 10, $fn = facets) polygon([
      [bore * rim, corbel], [radius, corbel], [radius, storey], [0, storey],
      [0, eaves + lead + bore], [bore * rim, eaves + lead]
    ]);
    translate([0, 0, corbel])
      corbel_below(radius = radius, bore = bore * rim, arm = leaf_thickness, aside = aside);
  }
  // All below a corbel that climbs at 45 degrees from an arm at +x, around a bore, to -x.
  module corbel_below(radius, bore, arm, aside) {
    far = 2 * radius;  // beyond the whole ring
    through = 2 * far;  // through everything
    side = max(bore - arm / 2 + aside, 0);  // climb from the arm to the side of the bore
    translate([0, 0, radius]) {
      climbing(length = 2 * through) translate([aside, 0]) polygon([
        [-far, -far], [far, -far], [far, (far - arm / 2) / sqrt(2)], [arm / 2, 0],
        [-arm / 2, 0], [-far, (far - arm / 2) / sqrt(2)]
      ]);
      intersection() {
        climbing(length = 2 * through) polygon([
          [-bore, -far], [bore, -far], [bore, side / sqrt(2)], [0, (side + bore) / sqrt(2)],
          [-bore, side / sqrt(2)]
        ]);
        linear_extrude(height = 2 * through, center = true, convexity = 10)
          translate([-through, -far]) square([through, through]);
      }
    }
  }
  // An outline in y and across the climb, drawn out along a climb of 45 degrees towards -x.
  module climbing(length)
    rotate([45, 0, -90]) linear_extrude(height = length, center = true, convexity = 10) children();
  // Leaf and the arms that join it to its knuckles.
  module leaf_with() difference() {
    plate_with() children();
    if (sink > hole) translate([0, face, leaf_width]) rotate([-90, 0, 0]) countersinks();
  }
  // Leaf, not countersunk, and its arms: in one plane, or with a web between them.
  module plate_with() if (setback > aside) {
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
  // An outline drawn in x and z, as thick in y as said, half to each side of y = 0.
  module standing(thickness)
    rotate([90, 0, 0]) linear_extrude(height = thickness, center = true, convexity = 10) children();
  // Leaf in side view: inner edge chamfered at the bed, upper free corner rounded.
  module leaf_outline() {
    polygon([
      [reach + foot, 0], [leaf_end, 0], [leaf_end, leaf_width - corner],
      [leaf_end - corner, leaf_width], [reach, leaf_width], [reach, foot]
    ]);
    if (corner > 0)
      translate([leaf_end - corner, leaf_width - corner]) circle(r = corner, $fn = facets);
  }
  // Holes in a leaf drawn flat: x from the axis, y along it.
  module screw_holes() translate([reach + leaf_span / 2, 0]) for (i = [0 : screws - 1])
    translate([0, (2 * i + 1) * screw_pitch / 2]) bore_outline(radius = hole / 2, rim = rim);
  // Bore around the origin under a 45-degree roof, so that nothing in it hangs.
  module bore_outline(radius, rim) {
    corner = radius * rim;
    circle(r = corner, $fn = facets);
    rotate(45) square([corner, corner]);
  }
  // Web in side view: inner edge chamfered at the bed, as the leaf's is.
  module web_outline() polygon([
    [reach + foot, 0], [reach + leaf_thickness, 0], [reach + leaf_thickness, leaf_width],
    [reach, leaf_width], [reach, foot]
  ]);
  // Countersinks of 90 degrees in a leaf drawn flat, its inner face at z = 0.
  module countersinks() translate([reach + leaf_span / 2, 0, 0])
    for (i = [0 : screws - 1]) translate([0, (2 * i + 1) * screw_pitch / 2, 0]) hull() {
      linear_extrude(height = 1, convexity = 10) bore_outline(radius = sink / 2, rim = rim);
      translate([0, 0, (hole - sink) / 2]) linear_extrude(height = join, convexity = 10)
        bore_outline(radius = hole / 2, rim = rim);
    }
  // Arm in side view that lies on the bed.
  module foot_arm(top) translate([radius - bite, 0]) square([reach + join - (radius - bite), top]);
  // Arm to a link, in side view.
  module link_arm() arm(start = corbel, top = storey);
  // Arm in side view: its underside would meet the knuckle's surface at height start.
  module arm(start, top) polygon([
    [reach + join, start + radius - reach], [reach, start + radius - reach],
    [radius - bite, start + bite], [radius - bite, top], [reach + join, top]
  ]);
  // Stop on the fixed leaf, clear of the knuckles: what the moving leaf's face meets.
  module stop_outline() difference() { stop_fan(); circle(r = reach * rim, $fn = facets); }
  // Between the fixed leaf and the stopped moving leaf, across the axis.
  module stop_fan() polygon([
    [reach * stop_run - arm_face * stop_rise, reach * stop_rise + arm_face * stop_run],
    [stop_end * stop_run - arm_face * stop_rise, stop_end * stop_rise + arm_face * stop_run],
    [stop_corner * cos(half), stop_corner * sin(half)],
    [-stop_end, arm_face - leaf_thickness / 2], [-reach, arm_face - leaf_thickness / 2]
  ]);
  // Room for one link on its way both ways: subtract it from the other side's body.
  module relief() translate([0, 0, -1]) linear_extrude(height = height + 2, convexity = 10) {
    circle(r = reach * rim, $fn = facets);
    for (k = [0 : sweeps - 1]) hull() {
      rotate(backmost + k * stride) leaf_room();
      rotate(backmost + (k + 1) * stride) leaf_room();
    }
  }
  // Leaf and arms seen from above, with room around them.
  module leaf_room() translate([0, -(setback + leaf_thickness / 2 + room)])
    square([leaf_end + room, setback + leaf_thickness / 2 + room + arm_face + room]);
  // Room that the stop sweeps, seen from the moving leaf.
  module stop_sweep() for (k = [0 : sweeps - 1]) hull() {
    rotate(-backmost + k * -stride) stop_passed();
    rotate(-backmost + (k + 1) * -stride) stop_passed();
  }
  // Stop with room around it.
  module stop_passed() hull() {
    translate([-room, -room]) stop_fan();
    translate([-room, room]) stop_fan();
    translate([room, -room]) stop_fan();
    translate([room, room]) stop_fan();
  }

  knuckle = knuckle == 0 ? nested_cones_as_needed(usual = 4, step = 0.5, most = 30, least = wall)
    : knuckle;
  play = clearance / cos(45);  // way along the axis until two 45-degree walls touch
  corbel = 2 * play;  // height at which a ring starts to grow from its leaf
  radius = shaft / 2 + clearance + wall;  // outer radius of knuckles and rings
  bore = shaft / 2 + clearance;  // radius of the straight bore in a ring
  // from the axis back to arms that fold beyond half a turn
  beyond = leaf_thickness / 2 + 2 * clearance;
  aside = min(setback, beyond);  // from the axis back to the middle of the arms
  arm_face = leaf_thickness / 2 - aside;  // from the axis to the plane of the arms' inner face
  // height at which the ring has closed around the shaft
  closed = corbel + 2 * radius + max(bore - arm_face, 0) + bore;
  least_height = knuckle + (links - 1) * (closed + shaft / 2 + 2 * play + wall);
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
  least_height_2 = screws * seat;
  height = height == 0 ? nested_cones_as_needed(usual = 56, step = 0.5, most = 300, least =
    max(least_height, least_height_2)) : height;
  grain = 1e-06;  // a limit missed by less is met: three lines of 0.4 make 1.2
  least_stop = 60;  // least turn that a stop may end, or it would reach over the knuckles
  least_stop_at = stop_at > 0 ? least_stop : 0;
  lines = 3;  // lines across the thinnest wall that prints solid
  thinnest = lines * line_width;  // thinnest wall that prints solid
  rim = 1 / cos(180 / facets);  // bores are drawn around their circle, so that facets take no gap
  solid = radius / rim;  // radius within which a faceted knuckle is solid
  rind = wall / 2;  // depth of a ring's wall that an arm may reach into
  join = 0.01;  // parts that are one body reach this far into each other
  // from the axis to the faceted bore, which an arm may not enter
  slim = (radius - rind) * rim + join;
  // from the middle of a knuckle to where a wall beside its bore ends
  deep = sqrt(max(solid * solid - slim * slim, 0));
  // the other end of its swing: leaves that are set back fold one way only
  backmost = setback > 0 ? 0 : -swing;
  layer_share = 0.75;  // height of the thickest layer, as a share of the width of its lines
  // clearance that keeps a layer of a 45-degree wall off the link below it
  landing = layer * cos(45);
  // spread of a first layer, each side: 0.1 to 0.3 mm (common practice, no source)
  first_spread = 0.2;
  // how far the arms reach over the axis, with the gap: below 0 where they fold shut
  overlap = arm_face + clearance;
  reach = radius + 2 * clearance;  // from the axis to the leaves, clear of all knuckles
  // from the axis to where arms meet, or the web behind them
  meets_at = overlap > 0 ? reach : reach + leaf_thickness;
  face = leaf_thickness / 2 - setback;  // from the axis to the plane of a leaf's inner face
  // a leaf is at least a stub, as long as it is thick
  leaf_span = max(leaf_length, leaf_thickness);
  leaf_end = reach + leaf_span;  // from the axis to the far end of a leaf
  // turn at which the leaves would meet, less the gap
  stop = 180 - 2 * atan(max(overlap / meets_at, (face + clearance) / leaf_end));
  widest = 190;  // widest turn that may be asked for: a little more than half a turn
  stop_start = reach;  // from the axis to where a stop meets the moving leaf's face
  stop_lean = (180 - stop_at) / 2;  // angle between a stop's middle line and a leaf that meets it
  // from the axis to the corners of a stop, whose sides are as thick as a leaf
  stop_end = (stop_start + leaf_thickness) / cos(stop_lean / 2);
  // height from the root of one post to the root of the next
  storey = (height - knuckle) / (links - 1);
  eaves = storey - wall - play - shaft / 2;  // height at which the post ends and its cone begins
  // radius at which a cone ends: a line fits there, which a point would bear wider than it
  tip = line_width / 2;
  peak = eaves + shaft / 2 - tip;  // height at which the post's cone ends
  lead = play - clearance;  // shift of a corner of 45 degrees between walls that keep the gap
  leaf_width = height;  // width of a leaf, along the axis
  // radius of the free corners, as far as the leaf has room for it
  corner = min(leaf_corner, leaf_span / 2, leaf_width / 2);
  screw_pitch = leaf_width / screws;  // from one screw to the next
  flank = leaf_thickness / 2 + aside;  // from the axis to the outer side of the arms
  // reach of an arm into its faceted knuckle, so that the arm's corners are inside
  bite = radius - sqrt(max(solid * solid - flank * flank, 0)) + join;
  stop_run = cos(stop_at);  // cosine of the turn at the stop
  stop_rise = sin(stop_at);  // sine of the turn at the stop
  stop_corner = stop_end;  // from the axis to a stop's corner half-way between the leaves
  half = (180 + stop_at) / 2;  // direction half-way between the leaves
  // turn up to which reliefs make room: to the stop, if there is one
  furthest = stop_at > 0 ? stop_at : swing;
  sweeps = ceil(furthest / 2);  // steps in which a relief follows the moving side
  stride = (furthest - backmost) / sweeps;  // turn from one step of a relief to the next
  // most by which a way runs off its straight course from one step of a relief to the next
  bow = (leaf_end + radius + clearance + setback) * (1 - cos(stride / 2));
  // room around what a relief follows, so that the clearance is left between its steps
  room = clearance + bow;

  // Refuses what cannot work.
  module check() {
    parts = ["both", "fixed", "moving", "fixed_relief", "moving_relief"];
    assert([for (p = parts) if (p == part) p] == [part],
      str("nested_cones(): part = ", part, "; it must be one of ", parts, "."));
    ranges = [  // name, value, unit, least, most, step, what else is so
      ["angle", angle, " deg", -190, 190, 1, ""], ["swing", swing, " deg", 10, 190, 5, ""],
      ["stop_at", stop_at, " deg", 0, 185, 5, ""], ["shaft", shaft, " mm", 4, 30, 0.5, ""],
      ["wall", wall, " mm", 0.8, 8, 0.1, ""], ["links", links, "", 3, 9, 1, " in steps of 1"],
      ["clearance", clearance, " mm", 0.15, 0.8, 0.05, ""], ["foot", foot, " mm", 0, 1, 0.1, ""],
      ["leaf_length", leaf_length, " mm", 0, 100, 0.5, ""],
      ["leaf_thickness", leaf_thickness, " mm", 1.2, 12, 0.2, ""],
      ["leaf_corner", leaf_corner, " mm", 0, 20, 0.5, ""],
      ["screw", screw, "", 0, 3, 1, " (none, M3, M4, M5)"],
      ["screws", screws, "", 1, 8, 1, " in steps of 1"],
      ["hole_series", hole_series, "", 0, 2, 1, " (fine, medium, coarse)"],
      ["head", head, "", 0, 2, 1, " (not sunk, ISO 10642, wood screw)"],
      ["setback", setback, " mm", 0, 100, 0.5, ""],
      ["facets", facets, "", 16, 256, 4, " in steps of 4"],
      ["layer", layer, " mm", 0.04, 0.8, 0.02, ""],
      ["line_width", line_width, " mm", 0.2, 1.2, 0.05, ""],
      ["knuckle", knuckle, " mm", 1, 30, 0.5, ", or 0"],
      ["height", height, " mm", 10, 300, 0.5, ", or 0"]
    ];
    for (v = ranges) {
      whole = v[2] != "" || v[6] == "" || v[1] % v[5] == 0;  // as a count is, which has no unit
      assert(is_num(v[1]) && v[1] >= v[3] && v[1] <= v[4] && whole, str("nested_cones(): ",
        v[0], " = ", v[1], v[2], "; it must be ", v[3], " to ", v[4], v[2], v[6], "."));
    }
    assert(stop_at >= least_stop_at - grain, str(
      "nested_cones(): stop_at = ", stop_at, " deg; it must be at least ",
      ceil((least_stop_at - grain) / 5) * 5, " deg, or the stop hangs over the knuckles."
    ));
    rules = [  // name, what it must be beside the other values, or else
      ["height", "at least", least_height,
        "or a cone, less its play, starts before its socket has closed around the post"],
      ["wall", "at least", thinnest, "or the ring is too thin to print solid"],
      ["knuckle", "at least", wall, "or the arms of the leaf have nothing to hold"],
      ["leaf_thickness", "at most", max(2 * deep - 2 * setback, deep - 2 * clearance),
        "or the corners of the arms leave the wall"],
      ["height", "at least", least_height_2, "or the screws are too near each other"],
      ["leaf_length", "at least", seat, "or a screw is too near the edge of the leaf"],
      ["leaf_thickness", "at least", screw > 0 ? (sink - hole) / 2 + 1 : 0,
        "or a countersunk head goes through the leaf"],
      ["angle", "at most", swing, "or it is drawn further than it turns"],
      ["angle", "at least", backmost, "or it is drawn further than it turns"],
      ["layer", "at most", layer_share * line_width,
        "or its lines are hardly pressed onto the layer below"],
      ["clearance", "at least", landing, "or a layer of one link lands on the other"],
      ["foot", "at least", 2 * first_spread - clearance + layer / 2,
        "or the links join where a first layer spreads"],
      ["swing", "at most", stop, "or the leaves meet before: a setback lets them fold further"],
      ["stop_at", "at most", stop, "or the leaves meet before the stop"],
      ["angle", "at most", stop_at > 0 ? stop_at - 1 : swing,
        "or it is drawn with its links touching at the stop"],
      ["swing", "at most", stop_at > 0 ? stop_at : widest, "or it is stopped before"],
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
        str("nested_cones(): ", r[0], " = ", v[1], v[2], "; it must be ", words, "."));
    }
  }
}

// Length taken along the axis, with the room at its ends (mm).
function nested_cones_length_taken(
  part, angle, swing, stop_at, height = 0, shaft = 6, wall = 2.4, knuckle = 0, links = 3,
  clearance = 0.3, foot, leaf_length, leaf_thickness = 4, leaf_corner, screw = 0, screws = 2,
  hole_series = 1, head = 1, setback = 0, facets, layer, line_width
) = let(
  knuckle = knuckle == 0 ? nested_cones_as_needed(usual = 4, step = 0.5, most = 30, least = wall) :
    knuckle,
  play = clearance / cos(45), corbel = 2 * play, radius = shaft / 2 + clearance + wall,
  bore = shaft / 2 + clearance, beyond = leaf_thickness / 2 + 2 * clearance,
  aside = min(setback, beyond), arm_face = leaf_thickness / 2 - aside,
  closed = corbel + 2 * radius + max(bore - arm_face, 0) + bore,
  least_height = knuckle + (links - 1) * (closed + shaft / 2 + 2 * play + wall), spread = 3,
  clearance_holes = [[3.2, 3.4, 3.6], [4.3, 4.5, 4.8], [5.3, 5.5, 5.8]],
  hole = clearance_holes[max(screw - 1, 0)][hole_series],
  heads = [[6.72, 5.6], [8.96, 7.5], [11.2, 9.2]],
  sink = screw > 0 && head > 0 ? max(heads[max(screw - 1, 0)][max(head - 1, 0)], hole) : hole,
  seat = screw > 0 ? max(spread * hole, sink + 2) : 0, least_height_2 = screws * seat,
  height = height == 0 ? nested_cones_as_needed(usual = 56, step = 0.5, most = 300, least =
    max(least_height, least_height_2)) : height
) height;
// How far the knuckles reach from the axis (mm).
function nested_cones_reach(
  part, angle, swing, stop_at, height, shaft = 6, wall = 2.4, knuckle, links, clearance = 0.3, foot,
  leaf_length, leaf_thickness, leaf_corner, screw, screws, hole_series, head, setback, facets,
  layer, line_width
) = shaft / 2 + clearance + wall;
// From the axis to the leaves: what stands nearer the reliefs take away (mm).
function nested_cones_leaf_start(
  part, angle, swing, stop_at, height, shaft = 6, wall = 2.4, knuckle, links, clearance = 0.3, foot,
  leaf_length, leaf_thickness, leaf_corner, screw, screws, hole_series, head, setback, facets,
  layer, line_width
) = let(radius = shaft / 2 + clearance + wall) radius + 2 * clearance;
// Thinnest wall that prints solid (mm).
function nested_cones_least_wall(
  part, angle, swing, stop_at, height, shaft, wall, knuckle, links, clearance, foot, leaf_length,
  leaf_thickness, leaf_corner, screw, screws, hole_series, head, setback, facets, layer,
  line_width = 0.45
) = let(lines = 3) lines * line_width;
// Value where 0 is given: the usual one, or the least on its steps that is enough.
function nested_cones_as_needed(usual, step, most, least, grain = 1e-06) =
  min(max(usual, ceil((least - grain) / step) * step), most);
