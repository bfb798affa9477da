// sheet_flexure.scad - Flat sheet with a thin web of whole layers, which bends between two leaves.
// Print it flat on the bed. No supports.
// Good: one flat piece, quick to print, folds up or down.
// Weak: a brittle plastic breaks beyond its bend limit; a crease is permanent damage.
// Turning leaves can pinch fingers; small or broken-off parts can be swallowed.
// Not for loads that can hurt someone: follow local codes and ask a licensed professional.
// SPDX-License-Identifier: MIT; written by scadgen 0.2.0.
//
//   use <sheet_flexure.scad>
//   sheet_flexure(part = "fixed");
//   sheet_flexure(part = "moving", angle = 10) lid();  // your lid() goes with it
//   echo(sheet_flexure_size("length_taken"));  // and other sizes by name: see the end
//
// It draws nothing by itself: sheet_flexure_customizer.scad does, with sliders.
// Resize it by its parameters, never with scale(): that would scale the gaps too.
// Fingerprint of this text as written: 545a3b6c8b558095

module sheet_flexure(
  part = "both",  // what to draw: both, fixed, moving, fixed_relief, moving_relief
  angle = 1,  // angle drawn; 0 is how it prints (deg)
  swing = 95,  // fold upwards that it must be free for (deg)
  swing_down = 95,  // fold downwards that it must be free for (deg)
  thickness = 3.1,  // thickness of the leaves (mm)
  border = 12.5,  // solid border at either end, to join to a part (mm)
  sheet_width = 40.5,  // width of the sheet, along the fold (mm)
  web = 0.6,  // thickness of the web (mm)
  web_length = 10.5,  // length of the web that bends; 0: 10 or as needed (mm)
  fillet = 1.1,  // fillet from the web into a leaf (mm)
  clearance = 0.35,  // air gap, square to the walls (mm)
  strain = 5.5,  // strain that the plastic lives with (%)
  facets = 68,  // facets per full turn
  layer = 0.32,  // thickest layer that prints it (mm)
  line_width = 0.5,  // width of a printed line (mm)
  segments = 25  // straight segments that a bend is drawn in
) {
  check();
  if (part == "both") translate([0, 0, thickness / 2]) along_x(length = sheet_width) {
    mirror([1, 0]) translate([web_length / 2, 0]) border_outline();
    for (i = [0 : segments - 1]) segment(i = i);
    border_at(bend = angle) border_outline();
  }
  if (part == "fixed") fixed_border();
  if (part == "moving") moving_border();
  if (part == "fixed_relief") fixed_relief();
  if (part == "moving_relief") moving_relief();
  if (part == "both" || part == "moving") with_border() children();

  module along_x(length)  // an outline in y and z, as long in x as said, half to each side of 0
    rotate([90, 0, 90]) linear_extrude(height = length, center = true, convexity = 10) children();
  // Moving leaf from the web's root on, behind a fillet.
  module border_outline() polygon([[0, -thickness / 2],
    for (k = [0 : 90 / facet]) [fillet * sin(k * facet), root + fillet * (1 - cos(k * facet))],
    [fillet, thickness / 2], [border, thickness / 2], [border, -thickness / 2]]);
  module segment(i) hull() { section_at(i = i); section_at(i = i + 1); }  // segment of the web
  module section_at(i) node_at(i = i, bend = angle)  // sliver of the web where segment i starts
    rotate(i * angle / segments) translate([-join / 2, -web / 2]) square([join, web]);
  // An outline where segment i starts.
  module node_at(i, bend) translate([-web_length / 2, core]) along_chords(
    chords = i, chord = link_length, start = bend / segments / 2, turn = bend / segments
  ) children();
  module along_chords(chords, chord, start, turn) {  // an outline moved along chords that turn
    way = chord * (abs(turn) < grain ? chords : sin(chords * turn / 2) / sin(turn / 2));
    bearing = start + (chords - 1) * turn / 2;
    translate([way * cos(bearing), way * sin(bearing)]) children();
  }
  module border_at(bend)  // an outline from the moving border's near edge, carried by a bend
    node_at(i = segments, bend = bend) rotate(bend) translate([0, -core]) children();
  module fixed_border() translate([0, 0, thickness / 2])  // border that stays where it is
    along_x(length = sheet_width) mirror([1, 0]) translate([web_length / 2, 0]) border_outline();
  module moving_border() translate([0, 0, thickness / 2])  // border at the other end, as it is bent
    along_x(length = sheet_width) border_at(bend = angle) border_outline();
  module fixed_relief()  // room that all else sweeps: subtract it from the fixed side's body
    translate([0, 0, thickness / 2]) along_x(length = sheet_width + 2 * clearance) relief_outline();
  module relief_outline() for (k = [0 : sweeps - 1]) sweep_step(k = k);  // room of the whole bend
  module sweep_step(k) {  // room from one bend to the next
    bend = -swing_down + k * stride;
    after = bend + stride;
    for (i = [0 : segments - 1])
      hull() { link_room(i = i, bend = bend); link_room(i = i, bend = after); }
    hull() { border_room(bend = bend); border_room(bend = after); }
  }
  // A link with room around it.
  module link_room(i, bend) node_at(i = i, bend = bend) rotate((2 * i + 1) * bend / segments / 2)
    translate([link_length / 2 - room_length / 2, core - room_height / 2])
      square([room_length, room_height]);
  module border_room(bend) border_at(bend = bend)  // the moving border with room around it
    translate([-room, -thickness / 2 - room]) square([border + 2 * room, thickness + 2 * room]);
  // The same, seen from the moving border: subtract it from the moving side's body.
  module moving_relief()
    translate([0, 0, thickness / 2]) along_x(length = sheet_width + 2 * clearance)
      border_at(bend = angle) translate([-web_length / 2, 0]) mirror([1, 0]) relief_outline();
  module with_border() translate([0, 0, thickness / 2])  // a solid of the moving side, bent along
    rotate([90, 0, 90]) border_at(bend = angle) translate([-web_length / 2, 0, 0])
      rotate([-90, 0, 0]) rotate([0, 0, -90]) translate([0, 0, -thickness / 2]) children();

  percent = 0.01;  // one part in a hundred
  least_web_length = max(swing, swing_down) * PI / 180 * web / (2 * strain * percent);
  // radius of the web's middle at which the upper corners of the leaves just stay apart
  radius_up = thickness - web / 2 + (clearance / 2 - fillet * cos(swing / 2)) / sin(swing / 2);
  least_web_length_2 = swing * PI / 180 * radius_up;
  least_web_length_3 = swing_down * PI / 180 * (web / 2 + clearance / 2 / sin(swing_down / 2));
  web_length = sheet_flexure_as_needed(web_length, usual = 10, step = 0.5, most = 200, least =
    max(least_web_length, least_web_length_2, least_web_length_3));
  grain = 1e-06;  // a limit missed by less is met: three lines of 0.4 make 1.2
  middle = 0.2;  // usual layer, of which the web is made whole
  coarse = 0.3;  // thick layer, of which the web is made whole
  layer_share = 0.75;  // height of the thickest layer, as a share of the width of its lines
  facet = 360 / facets;  // turn from one point of a fillet to the next
  root = web - thickness / 2;  // top of the web
  core = (web - thickness) / 2;  // height of the middle of the web, from the middle of the sheet
  link_length = web_length / segments;  // length of a segment
  join = 0.01;  // parts that are one body reach this far into each other
  sweeps = ceil(max(swing, swing_down) / 2);  // steps in which a relief follows the moving side
  stride = (swing + swing_down) / sweeps;  // turn from one step of a relief to the next
  // room around what a relief follows: the clearance is left between steps
  room = clearance + (web_length + border + thickness + clearance) * (1 - cos(stride / 2));
  room_length = link_length + 2 * room;  // length of a link with room around it
  link_height = thickness + link_length * sin(swing / segments / 2);  // height that a link takes up
  room_height = link_height + 2 * room;  // height of a link with room around it

  module check() {  // refuses what cannot work
    parts = ["both", "fixed", "moving", "fixed_relief", "moving_relief"];
    ranges = [for (v = [  // name, value, least, most, step, unit if not mm, what else is so
      ["angle", angle, -180, 180, 1, " deg"], ["swing", swing, 10, 180, 5, " deg"],
      ["swing_down", swing_down, 10, 180, 5, " deg"], ["thickness", thickness, 0.8, 10, 0.1],
      ["border", border, 2, 100, 0.5], ["sheet_width", sheet_width, 3, 300, 0.5],
      ["web", web, 0.3, 2.4, 0.05], ["fillet", fillet, 0.2, 5, 0.1],
      ["clearance", clearance, 0.15, 0.8, 0.05], ["strain", strain, 0.5, 40, 0.5, " %"],
      ["facets", facets, 16, 256, 4, "", " in steps of 4"], ["layer", layer, 0.04, 0.8, 0.02],
      ["line_width", line_width, 0.2, 1.2, 0.05],
      ["segments", segments, 8, 120, 1, "", " in steps of 1"],
      ["web_length", web_length, 1, 200, 0.5, " mm", ", or 0"]
    ]) [for (k = [0 : 6]) k < 5 || v[k] != undef ? v[k] : k == 5 ? " mm" : ""]];
    rules = [  // what it must be beside the other values, or else
      ["web >=", ceil(web / middle - grain) * middle,
        "layers of 0.2 mm cannot make it whole", "alone"],
      ["web >=", ceil(web / coarse - grain) * coarse,
        "layers of 0.3 mm cannot make it whole", "alone"],
      ["thickness >=", web + fillet, "its fillet has no room"],
      ["border >=", fillet + 1, "the leaf ends within its fillet"],
      ["web_length >=", least_web_length, "the web is strained further than it bears"],
      ["web_length >=", least_web_length_2, "the leaves meet before it is folded up"],
      ["web_length >=", least_web_length_3, "the leaves meet before it is folded down"],
      ["angle <=", swing, "it is drawn further than it turns"],
      ["angle >=", -swing_down, "it is drawn further than it turns"],
      ["layer <=", layer_share * line_width, "its lines are hardly pressed onto the layer below"]
    ];
    function told(name, value, asked) =
      str("sheet_flexure(): ", name, " = ", value, "; it must be ", asked, ".");
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
function sheet_flexure_size(name, part, angle, swing = 95, swing_down = 95, thickness = 3.1, border,
  sheet_width = 40.5, web = 0.6, web_length = 10.5, fillet = 1.1, clearance = 0.35, strain = 5.5,
  facets, layer, line_width = 0.5, segments) = let(
  percent = 0.01,
  least_web_length = max(swing, swing_down) * PI / 180 * web / (2 * strain * percent),
  radius_up = thickness - web / 2 + (clearance / 2 - fillet * cos(swing / 2)) / sin(swing / 2),
  least_web_length_2 = swing * PI / 180 * radius_up,
  least_web_length_3 = swing_down * PI / 180 * (web / 2 + clearance / 2 / sin(swing_down / 2)),
  web_length = sheet_flexure_as_needed(web_length, usual = 10, step = 0.5, most = 200, least =
    max(least_web_length, least_web_length_2, least_web_length_3)),
  lines = 3,
  sizes = [
    ["length_taken", web_length],  // length between the borders, which bends
    ["width_taken", sheet_width],  // width, along the lines it bends about
    ["least_wall", lines * line_width]  // thinnest wall that prints solid
  ],
  found = [for (size = sizes) if (size[0] == name) size[1]]
) assert(found != [], str("sheet_flexure_size(): name = ", name, "; it must be one of ",
  [for (size = sizes) size[0]], ".")) found[0];
// What was given; for 0 the usual value, or the least on its steps that is enough.
function sheet_flexure_as_needed(given, usual, step, most, least, grain = 1e-06) =
  given == 0 ? min(max(usual, ceil((least - grain) / step) * step), most) : given;
