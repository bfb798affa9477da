// sheet_flexure.scad - Flat sheet with a thin web of whole layers, which bends between two leaves.
// Print it flat on the bed. No supports. Lengths in mm, angles in degrees.
// Good: one flat piece, quick to print, folds up or down.
// Weak: a brittle plastic breaks beyond its bend limit; a crease is permanent damage.
// Turning leaves can pinch fingers; small or broken-off parts can be swallowed.
// Not for loads that can hurt someone: follow local codes and ask a licensed professional.
// SPDX-License-Identifier: MIT; written by scadgen 0.2.0.
//
//   use <sheet_flexure.scad>
//   sheet_flexure(part = "fixed");
//   sheet_flexure(part = "moving", angle = 10) lid();  // your lid() goes with it
//   echo(sheet_flexure_length_taken());  // and what else its functions tell, below
//
// By itself it draws nothing; to see it with its values in the Customizer, open
//   sheet_flexure_customizer.scad.
// Resize it by its parameters, never with scale(): that would scale the gaps too.
// Fingerprint of this text as written: 83df59ed7ccfb114

module sheet_flexure(
  part = "both",  // what to draw: both, fixed, moving, fixed_relief, moving_relief
  angle = 0,  // angle drawn; 0 is how it prints (deg)
  swing = 90,  // fold upwards that it must be free for (deg)
  swing_down = 90,  // fold downwards that it must be free for (deg)
  thickness = 3,  // thickness of the leaves (mm)
  border = 12,  // solid border at either end, to join to a part (mm)
  sheet_width = 40,  // width of the sheet, along the fold (mm)
  web = 0.6,  // thickness of the web (mm)
  web_length = 0,  // length of the web that bends; 0: 10 or as needed (mm)
  fillet = 1,  // fillet from the web into a leaf (mm)
  clearance = 0.3,  // air gap, square to the walls (mm)
  strain = 5,  // strain that the plastic lives with (%)
  facets = 64,  // facets per full turn
  layer = 0.3,  // thickest layer that prints it (mm)
  line_width = 0.45,  // width of a printed line (mm)
  segments = 24  // straight segments that a bend is drawn in
) {
  check();
  if (part == "both") translate([0, 0, thickness / 2]) along_x(length = width) {
    mirror([1, 0]) translate([span / 2, 0]) border_outline();
    for (i = [0 : links - 1]) segment(i = i);
    border_at(bend = angle) border_outline();
  }
  if (part == "fixed") fixed_border();
  if (part == "moving") moving_border();
  if (part == "fixed_relief") fixed_relief();
  if (part == "moving_relief") moving_relief();
  if (part == "both" || part == "moving") with_border() children();

  // An outline drawn in y and z, as long in x as said, half to each side of x = 0.
  module along_x(length)
    rotate([90, 0, 90]) linear_extrude(height = length, center = true, convexity = 10) children();
  // Moving leaf, from the root of the web on: its end stands back behind a fillet.
  module border_outline() polygon([
    [0, -thickness / 2],
    for (k = [0 : 90 / facet]) [fillet * sin(k * facet), root + fillet * (1 - cos(k * facet))],
    [fillet, thickness / 2], [border, thickness / 2], [border, -thickness / 2]
  ]);
  // Segment of the web between two of its cross sections.
  module segment(i) hull() { section_at(i = i); section_at(i = i + 1); }
  // Cross section of the web where segment i starts, as a sliver.
  module section_at(i) node_at(i = i, bend = angle)
    rotate(i * angle / links) translate([-join / 2, -web / 2]) square([join, web]);
  // An outline moved to the start of segment i of the bent web.
  module node_at(i, bend) translate([-span / 2, core])
    along_chords(chords = i, chord = link_length, start = bend / links / 2, turn = bend / links)
      children();
  // An outline moved along equal chords: the first at an angle, each next one turned further.
  module along_chords(chords, chord, start, turn) {
    way = chord * (abs(turn) < grain ? chords : sin(chords * turn / 2) / sin(turn / 2));
    bearing = start + (chords - 1) * turn / 2;
    translate([way * cos(bearing), way * sin(bearing)]) children();
  }
  // An outline drawn from the near edge of the moving border, carried along by a bend.
  module border_at(bend)
    node_at(i = links, bend = bend) rotate(bend) translate([0, -core]) children();
  // Border that stays where it is.
  module fixed_border() translate([0, 0, thickness / 2])
    along_x(length = width) mirror([1, 0]) translate([span / 2, 0]) border_outline();
  // Border at the other end, carried along by the bend.
  module moving_border() translate([0, 0, thickness / 2])
    along_x(length = width) border_at(bend = angle) border_outline();
  // Room that all but the fixed border sweeps: subtract it from the fixed side's body.
  module fixed_relief()
    translate([0, 0, thickness / 2]) along_x(length = width + 2 * clearance) relief_outline();
  // Room that the links and the moving border sweep from one end of the bend to the other.
  module relief_outline() for (k = [0 : sweeps - 1]) sweep_step(k = k);
  // Room from one bend to the next.
  module sweep_step(k) {
    bend = -swing_down + k * stride;
    after = bend + stride;
    for (i = [0 : links - 1])
      hull() { link_room(i = i, bend = bend); link_room(i = i, bend = after); }
    hull() { border_room(bend = bend); border_room(bend = after); }
  }
  // A link with room around it.
  module link_room(i, bend) node_at(i = i, bend = bend) rotate((2 * i + 1) * bend / links / 2)
    translate([link_length / 2 - room_length / 2, core - room_height / 2])
      square([room_length, room_height]);
  // The moving border with room around it.
  module border_room(bend) border_at(bend = bend)
    translate([-room, -thickness / 2 - room]) square([border + 2 * room, thickness + 2 * room]);
  // The same, seen from the moving border: subtract it from the moving side's body.
  module moving_relief() translate([0, 0, thickness / 2]) along_x(length = width + 2 * clearance)
    border_at(bend = angle) translate([-span / 2, 0]) mirror([1, 0]) relief_outline();
  // A solid drawn on the moving side as printed, carried along by the bend.
  module with_border() translate([0, 0, thickness / 2])
    rotate([90, 0, 90]) border_at(bend = angle) translate([-span / 2, 0, 0])
      rotate([-90, 0, 0]) rotate([0, 0, -90]) translate([0, 0, -thickness / 2]) children();

  percent = 0.01;  // one part in a hundred
  least_web_length = max(swing, swing_down) * PI / 180 * web / (2 * strain * percent);
  // radius of the web's middle at which the upper corners of the leaves just stay apart
  radius_up = thickness - web / 2 + (clearance / 2 - fillet * cos(swing / 2)) / sin(swing / 2);
  least_web_length_2 = swing * PI / 180 * radius_up;
  // radius of the web's middle at which the lower corners of the leaves just stay apart
  radius_down = web / 2 + clearance / 2 / sin(swing_down / 2);
  least_web_length_3 = swing_down * PI / 180 * radius_down;
  web_length = web_length == 0 ? sheet_flexure_as_needed(usual = 10, step = 0.5, most = 200, least
    = max(least_web_length, least_web_length_2, least_web_length_3)) : web_length;
  grain = 1e-06;  // a limit missed by less is met: three lines of 0.4 make 1.2
  middle = 0.2;  // usual layer, of which the web is made whole
  least_web = ceil(web / middle - grain) * middle;
  coarse = 0.3;  // thick layer, of which the web is made whole
  least_web_2 = ceil(web / coarse - grain) * coarse;
  layer_share = 0.75;  // height of the thickest layer, as a share of the width of its lines
  width = sheet_width;  // width of the sheet, along the lines it bends about
  span = web_length;  // length between the borders, which bends
  facet = 360 / facets;  // turn from one point of a fillet to the next
  root = web - thickness / 2;  // top of the web
  links = segments;  // segments of the web
  core = (web - thickness) / 2;  // height of the middle of the web, from the middle of the sheet
  link_length = span / links;  // length of a segment
  join = 0.01;  // parts that are one body reach this far into each other
  sweeps = ceil(max(swing, swing_down) / 2);  // steps in which a relief follows the moving side
  stride = (swing + swing_down) / sweeps;  // turn from one step of a relief to the next
  // most by which a way runs off its straight course from one step of a relief to the next
  bow = (span + border + thickness + clearance) * (1 - cos(stride / 2));
  // room around what a relief follows, so that the clearance is left between its steps
  room = clearance + bow;
  room_length = link_length + 2 * room;  // length of a link with room around it
  // height that a link takes up: its ends are turned against its middle
  link_height = thickness + link_length * sin(swing / links / 2);
  room_height = link_height + 2 * room;  // height of a link with room around it

  // Refuses what cannot work.
  module check() {
    parts = ["both", "fixed", "moving", "fixed_relief", "moving_relief"];
    assert([for (p = parts) if (p == part) p] == [part],
      str("sheet_flexure(): part = ", part, "; it must be one of ", parts, "."));
    ranges = [  // name, value, unit, least, most, step, what else is so
      ["angle", angle, " deg", -180, 180, 1, ""], ["swing", swing, " deg", 10, 180, 5, ""],
      ["swing_down", swing_down, " deg", 10, 180, 5, ""],
      ["thickness", thickness, " mm", 0.8, 10, 0.1, ""], ["border", border, " mm", 2, 100, 0.5, ""],
      ["sheet_width", sheet_width, " mm", 3, 300, 0.5, ""], ["web", web, " mm", 0.3, 2.4, 0.05, ""],
      ["fillet", fillet, " mm", 0.2, 5, 0.1, ""],
      ["clearance", clearance, " mm", 0.15, 0.8, 0.05, ""],
      ["strain", strain, " %", 0.5, 40, 0.5, ""],
      ["facets", facets, "", 16, 256, 4, " in steps of 4"],
      ["layer", layer, " mm", 0.04, 0.8, 0.02, ""],
      ["line_width", line_width, " mm", 0.2, 1.2, 0.05, ""],
      ["segments", segments, "", 8, 120, 1, " in steps of 1"],
      ["web_length", web_length, " mm", 1, 200, 0.5, ", or 0"]
    ];
    for (v = ranges) {
      whole = v[2] != "" || v[6] == "" || v[1] % v[5] == 0;  // as a count is, which has no unit
      assert(is_num(v[1]) && v[1] >= v[3] && v[1] <= v[4] && whole, str("sheet_flexure(): ",
        v[0], " = ", v[1], v[2], "; it must be ", v[3], " to ", v[4], v[2], v[6], "."));
    }
    assert(web >= least_web - grain, str(
      "sheet_flexure(): web = ", web, " mm; it must be at least ",
      ceil((least_web - grain) / 0.05) * 0.05, " mm, or layers of 0.2 mm cannot make it whole."
    ));
    assert(web >= least_web_2 - grain, str(
      "sheet_flexure(): web = ", web, " mm; it must be at least ",
      ceil((least_web_2 - grain) / 0.05) * 0.05, " mm, or layers of 0.3 mm cannot make it whole."
    ));
    rules = [  // name, what it must be beside the other values, or else
      ["thickness", "at least", web + fillet, "or its fillet has no room"],
      ["border", "at least", fillet + 1, "or the leaf ends within its fillet"],
      ["web_length", "at least", least_web_length, "or the web is strained further than it bears"],
      ["web_length", "at least", least_web_length_2, "or the leaves meet before it is folded up"],
      ["web_length", "at least", least_web_length_3, "or the leaves meet before it is folded down"],
      ["angle", "at most", swing, "or it is drawn further than it turns"],
      ["angle", "at least", -swing_down, "or it is drawn further than it turns"],
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
        str("sheet_flexure(): ", r[0], " = ", v[1], v[2], "; it must be ", words, "."));
    }
  }
}

// Length between the borders, which bends (mm).
function sheet_flexure_length_taken(
  part, angle, swing = 90, swing_down = 90, thickness = 3, border, sheet_width, web = 0.6,
  web_length = 0, fillet = 1, clearance = 0.3, strain = 5, facets, layer, line_width, segments
) = let(
  percent = 0.01,
  least_web_length = max(swing, swing_down) * PI / 180 * web / (2 * strain * percent),
  radius_up = thickness - web / 2 + (clearance / 2 - fillet * cos(swing / 2)) / sin(swing / 2),
  least_web_length_2 = swing * PI / 180 * radius_up,
  radius_down = web / 2 + clearance / 2 / sin(swing_down / 2),
  least_web_length_3 = swing_down * PI / 180 * radius_down,
  web_length = web_length == 0 ? sheet_flexure_as_needed(usual = 10, step = 0.5, most = 200, least =
    max(least_web_length, least_web_length_2, least_web_length_3)) : web_length
) web_length;
// Width, along the lines it bends about (mm).
function sheet_flexure_width_taken(
  part, angle, swing, swing_down, thickness, border, sheet_width = 40, web, web_length, fillet,
  clearance, strain, facets, layer, line_width, segments
) = sheet_width;
// Thinnest wall that prints solid (mm).
function sheet_flexure_least_wall(
  part, angle, swing, swing_down, thickness, border, sheet_width, web, web_length, fillet,
  clearance, strain, facets, layer, line_width = 0.45, segments
) = let(lines = 3) lines * line_width;
// Value where 0 is given: the usual one, or the least on its steps that is enough.
function sheet_flexure_as_needed(usual, step, most, least, grain = 1e-06) =
  min(max(usual, ceil((least - grain) / step) * step), most);
