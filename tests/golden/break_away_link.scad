// break_away_link.scad - Flat webs with score lines between two parts that print together and are
//   snapped apart.
// Print it flat on the bed. No supports. Lengths in mm, angles in degrees.
// Good: several parts print as one plate, stick better, and come apart by hand.
// Weak: made to break: holds nothing, and never moves twice.
// Turning leaves can pinch fingers; small or broken-off parts can be swallowed.
// Not for loads that can hurt someone: follow local codes and ask a licensed professional.
// SPDX-License-Identifier: MIT; written by scadgen 0.2.0.
//
//   use <break_away_link.scad>
//   break_away_link(part = "fixed");
//   break_away_link(part = "moving", angle = 10) lid();  // your lid() goes with it
//   echo(break_away_link_length_taken());  // and what else its functions tell, below
//
// By itself it draws nothing; to see it with its values in the Customizer, open
//   break_away_link_customizer.scad.
// Resize it by its parameters, never with scale(): that would scale the gaps too.
// Fingerprint of this text as written: 05c99e587c487600

module break_away_link(
  part = "both",  // what to draw: both, fixed, moving, fixed_relief, moving_relief
  angle = 1,  // angle drawn; 0 is how it prints (deg)
  swing = 16,  // bend, either way, by which the webs have snapped (deg)
  thickness = 3.1,  // thickness of the parts (mm)
  border = 12.5,  // solid border at either end, to join to a part (mm)
  edge = 60.5,  // length of the edge along which the webs stand (mm)
  gap = 1.6,  // gap between the parts (mm)
  webs = 4,  // webs along the edge
  web_width = 1.7,  // width of a web (mm)
  web = 0.95,  // thickness of a web (mm)
  left = 0.55,  // thickness that a score line leaves of a web (mm)
  recess = 1.3,  // depth of the recess around the root of a web; 0: 1.2 or as needed (mm)
  clearance = 0.35,  // air gap, square to the walls (mm)
  strength = 65,  // strength of the plastic, strong end (MPa)
  effort = 21,  // push at the far edge of a part that snaps it (N)
  facets = 68,  // facets per full turn
  layer = 0.32,  // thickest layer that prints it (mm)
  line_width = 0.5  // width of a printed line (mm)
) {
  check();
  if (part == "both") {
    fixed_border();
    mirror([0, 1, 0]) half_webs();
    moving_border();
    translate([0, 0, web / 2]) rotate([angle, 0, 0]) translate([0, 0, -web / 2]) half_webs();
  }
  if (part == "fixed") fixed_border();
  if (part == "moving") moving_border();
  if (part == "fixed_relief") fixed_relief();
  if (part == "moving_relief") moving_relief();
  if (part == "both" || part == "moving") with_border() children();

  // Part that stays where it is.
  module fixed_border() mirror([0, 1, 0]) part_with_recesses();
  // Part of the moving side, with a recess for each web.
  module part_with_recesses() linear_extrude(height = thickness, convexity = 10) difference() {
    translate([-edge / 2, span / 2]) square([edge, border]);
    slots();
  }
  // Recesses of the moving side, seen from above.
  module slots()
    for (i = [0 : webs - 1]) translate([(i + 1) * pitch - (edge + pitch) / 2 - slot / 2, 0])
      square([slot, gap / 2 + recess]);
  // Moving side's half of each web: its score line is half-way down the recess.
  module half_webs() for (i = [0 : webs - 1])
    translate([(i + 1) * pitch - (edge + pitch) / 2, 0, 0]) along_x(length = web_width) polygon([
      [-join, 0], [gap / 2 + recess + join, 0], [gap / 2 + recess + join, web],
      [score + notch, web], [score, left], [score - notch, web], [-join, web]
    ]);
  // An outline drawn in y and z, as long in x as said, half to each side of x = 0.
  module along_x(length)
    rotate([90, 0, 90]) linear_extrude(height = length, center = true, convexity = 10) children();
  // Part at the other side, carried along by the bend.
  module moving_border() translate([0, 0, web / 2])
    rotate([angle, 0, 0]) translate([0, 0, -web / 2]) part_with_recesses();
  // Recesses, and the room that the moving part sweeps: subtract it from the fixed body.
  module fixed_relief() {
    translate([0, 0, -1])
      linear_extrude(height = thickness + 2, convexity = 10) mirror([0, 1]) slots();
    translate([0, 0, thickness / 2]) along_x(length = width + 2 * clearance) relief_outline();
  }
  // Room that the links and the moving border sweep from one end of the bend to the other.
  module relief_outline() for (k = [0 : sweeps - 1]) sweep_step(k = k);
  // Room from one bend to the next.
  module sweep_step(k) {
    bend = -swing + k * stride;
    after = bend + stride;
    for (i = [0 : links - 1])
      hull() { link_room(i = i, bend = bend); link_room(i = i, bend = after); }
    hull() { border_room(bend = bend); border_room(bend = after); }
  }
  // A link with room around it.
  module link_room(i, bend) rotate(bend / 2)
    translate([-room_length / 2, core - room_height / 2]) square([room_length, room_height]);
  // The moving border with room around it.
  module border_room(bend) border_at(bend = bend)
    translate([-room, -thickness / 2 - room]) square([border + 2 * room, thickness + 2 * room]);
  // An outline drawn from the edge of the moving part, carried along by a bend.
  module border_at(bend) translate([0, core]) rotate(bend) translate([span / 2, -core]) children();
  // The same, seen from the moving part: subtract it from the moving body.
  module moving_relief() translate([0, 0, web / 2])
    rotate([angle, 0, 0]) translate([0, 0, -web / 2]) mirror([0, 1, 0]) fixed_relief();
  // A solid drawn on the moving side as printed, carried along by the bend.
  module with_border() translate([0, 0, thickness / 2])
    rotate([90, 0, 90]) border_at(bend = angle) translate([-span / 2, 0, 0])
      rotate([-90, 0, 0]) rotate([0, 0, -90]) translate([0, 0, -thickness / 2]) children();

  notch = web - left;  // depth of a score line
  join = 0.01;  // parts that are one body reach this far into each other
  least_recess = 2 * notch + 2 * join;
  recess = recess == 0 ? break_away_link_as_needed(usual = 1.2, step = 0.1, most = 6, least =
    least_recess) : recess;
  grain = 1e-06;  // a limit missed by less is met: three lines of 0.4 make 1.2
  slot = web_width + 2 * clearance;  // width of a recess
  layer_share = 0.75;  // height of the thickest layer, as a share of the width of its lines
  span = gap;  // gap between the parts
  pitch = edge / webs;  // from one web to the next
  // way from the middle of a web to its score line, half-way down the recess
  score = (gap + recess) / 2;
  width = edge;  // width of the parts along the edge
  sweeps = ceil(swing / 2);  // steps in which a relief follows the moving side
  links = 1;  // the webs bend as one
  stride = (swing + swing) / sweeps;  // turn from one step of a relief to the next
  link_length = span;  // length between the parts
  // most by which a way runs off its straight course from one step of a relief to the next
  bow = (span + border + thickness + clearance) * (1 - cos(stride / 2));
  // room around what a relief follows, so that the clearance is left between its steps
  room = clearance + bow;
  room_length = link_length + 2 * room;  // length of a link with room around it
  core = (web - thickness) / 2;  // height of the middle of a web, from the middle of the parts
  // height that a link takes up: its ends are turned against its middle
  link_height = thickness + link_length * sin(swing / links / 2);
  room_height = link_height + 2 * room;  // height of a link with room around it

  // Refuses what cannot work.
  module check() {
    parts = ["both", "fixed", "moving", "fixed_relief", "moving_relief"];
    assert([for (p = parts) if (p == part) p] == [part],
      str("break_away_link(): part = ", part, "; it must be one of ", parts, "."));
    ranges = [  // name, value, unit, least, most, step, what else is so
      ["angle", angle, " deg", -180, 180, 1, ""], ["swing", swing, " deg", 5, 60, 1, ""],
      ["thickness", thickness, " mm", 0.8, 20, 0.1, ""], ["border", border, " mm", 2, 100, 0.5, ""],
      ["edge", edge, " mm", 4, 300, 0.5, ""], ["gap", gap, " mm", 0.5, 10, 0.1, ""],
      ["webs", webs, "", 1, 40, 1, " in steps of 1"],
      ["web_width", web_width, " mm", 0.6, 10, 0.1, ""], ["web", web, " mm", 0.3, 5, 0.05, ""],
      ["left", left, " mm", 0.2, 3, 0.05, ""], ["clearance", clearance, " mm", 0.15, 0.8, 0.05, ""],
      ["strength", strength, " MPa", 5, 120, 5, ""], ["effort", effort, " N", 2, 60, 1, ""],
      ["facets", facets, "", 16, 256, 4, " in steps of 4"],
      ["layer", layer, " mm", 0.04, 0.8, 0.02, ""],
      ["line_width", line_width, " mm", 0.2, 1.2, 0.05, ""],
      ["recess", recess, " mm", 0.4, 6, 0.1, ", or 0"]
    ];
    for (v = ranges) {
      whole = v[2] != "" || v[6] == "" || v[1] % v[5] == 0;  // as a count is, which has no unit
      assert(is_num(v[1]) && v[1] >= v[3] && v[1] <= v[4] && whole, str("break_away_link(): ",
        v[0], " = ", v[1], v[2], "; it must be ", v[3], " to ", v[4], v[2], v[6], "."));
    }
    rules = [  // name, what it must be beside the other values, or else
      ["web_width", "at least", 2 * line_width, "or a web is less than two lines wide"],
      ["web", "at least", left + line_width / 2, "or there is no score line"],
      ["thickness", "at least", web, "or the webs stand out of the parts"],
      ["recess", "at least", least_recess, "or the score line reaches out of the recess"],
      ["border", "at least", recess + 2 * line_width, "or the recess cuts through the part"],
      ["edge", "at least", webs * (slot + 2 * 2 * line_width),
        "or a wall beside a recess is less than two lines thick"],
      ["left", "at most", 2 * sqrt(effort * border / (strength * webs * web_width)),
        "or it takes more than that push to snap the webs"],
      ["swing", "at most", 2 * atan((gap - clearance) / (2 * thickness - web)),
        "or the edges of the parts meet before"],
      ["angle", "at most", swing, "or it is drawn further than it turns"],
      ["angle", "at least", -swing, "or it is drawn further than it turns"],
      ["layer", "at most", layer_share * line_width,
        "or its lines are hardly pressed onto the layer below"]
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
        str("break_away_link(): ", r[0], " = ", v[1], v[2], "; it must be ", words, "."));
    }
  }
}

// Length between the borders, which bends (mm).
function break_away_link_length_taken(
  part, angle, swing, thickness, border, edge, gap = 1.6, webs, web_width, web, left, recess,
  clearance, strength, effort, facets, layer, line_width
) = gap;
// Width, along the lines it bends about (mm).
function break_away_link_width_taken(
  part, angle, swing, thickness, border, edge = 60.5, gap, webs, web_width, web, left, recess,
  clearance, strength, effort, facets, layer, line_width
) = edge;
// Thinnest wall that prints solid (mm).
function break_away_link_least_wall(
  part, angle, swing, thickness, border, edge, gap, webs, web_width, web, left, recess, clearance,
  strength, effort, facets, layer, line_width = 0.5
) = let(lines = 3) lines * line_width;
// Value where 0 is given: the usual one, or the least on its steps that is enough.
function break_away_link_as_needed(usual, step, most, least, grain = 1e-06) =
  min(max(usual, ceil((least - grain) / step) * step), most);
