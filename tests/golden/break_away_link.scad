// break_away_link.scad - Flat webs with score lines between two parts that print together and are
//   snapped apart.
// Print it flat on the bed. No supports.
// Good: several parts print as one plate, stick better, and come apart by hand.
// Weak: made to break: holds nothing, and never moves twice.
// Turning leaves can pinch fingers; small or broken-off parts can be swallowed.
// Not for loads that can hurt someone: follow local codes and ask a licensed professional.
// SPDX-License-Identifier: MIT; written by scadgen 0.2.0.
//
//   use <break_away_link.scad>
//   break_away_link(part = "fixed");
//   break_away_link(part = "moving", angle = 10) lid();  // your lid() goes with it
//   echo(break_away_link_size("length_taken"));  // and other sizes by name: see the end
//
// It draws nothing by itself: break_away_link_customizer.scad does, with sliders.
// Resize it by its parameters, never with scale(): that would scale the gaps too.
// Fingerprint of this text as written: fd686bdabb42fd69

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

  module fixed_border() mirror([0, 1, 0]) part_with_recesses();  // part that stays where it is
  // Part of the moving side, with a recess for each web.
  module part_with_recesses() linear_extrude(height = thickness, convexity = 10)
    difference() { translate([-edge / 2, gap / 2]) square([edge, border]); slots(); }
  module slots()  // recesses of the moving side, seen from above
    for (i = [0 : webs - 1]) translate([(i + 1) * pitch - (edge + pitch) / 2 - slot / 2, 0])
      square([slot, gap / 2 + recess]);
  module half_webs() for (i = [0 : webs - 1])  // moving half of each web, with its score line
    translate([(i + 1) * pitch - (edge + pitch) / 2, 0, 0]) along_x(length = web_width)
      polygon([[-join, 0], [gap / 2 + recess + join, 0], [gap / 2 + recess + join, web],
        [score + notch, web], [score, left], [score - notch, web], [-join, web]]);
  module along_x(length)  // an outline in y and z, as long in x as said, half to each side of 0
    rotate([90, 0, 90]) linear_extrude(height = length, center = true, convexity = 10) children();
  module moving_border() translate([0, 0, web / 2])  // part at the other side, as it is bent
    rotate([angle, 0, 0]) translate([0, 0, -web / 2]) part_with_recesses();
  module fixed_relief() {  // recesses and the moving part's sweep: subtract it from the fixed body
    translate([0, 0, -1])
      linear_extrude(height = thickness + 2, convexity = 10) mirror([0, 1]) slots();
    translate([0, 0, thickness / 2]) along_x(length = edge + 2 * clearance) relief_outline();
  }
  module relief_outline() for (k = [0 : sweeps - 1]) sweep_step(k = k);  // room of the whole bend
  module sweep_step(k) {  // room from one bend to the next
    bend = -swing + k * (swing + swing) / sweeps;
    after = bend + (swing + swing) / sweeps;
    for (i = [0 : links - 1])
      hull() { link_room(i = i, bend = bend); link_room(i = i, bend = after); }
    hull() { border_room(bend = bend); border_room(bend = after); }
  }
  module link_room(i, bend) rotate(bend / 2)  // a link with room around it
    translate([-room_length / 2, core - room_height / 2]) square([room_length, room_height]);
  module border_room(bend) border_at(bend = bend)  // the moving border with room around it
    translate([-room, -thickness / 2 - room]) square([border + 2 * room, thickness + 2 * room]);
  // An outline drawn from the edge of the moving part, carried along by a bend.
  module border_at(bend) translate([0, core]) rotate(bend) translate([gap / 2, -core]) children();
  module moving_relief() translate([0, 0, web / 2])  // likewise for the moving part's body
    rotate([angle, 0, 0]) translate([0, 0, -web / 2]) mirror([0, 1, 0]) fixed_relief();
  module with_border() translate([0, 0, thickness / 2])  // a solid of the moving side, bent along
    rotate([90, 0, 90]) border_at(bend = angle) translate([-gap / 2, 0, 0])
      rotate([-90, 0, 0]) rotate([0, 0, -90]) translate([0, 0, -thickness / 2]) children();

  notch = web - left;  // depth of a score line
  join = 0.01;  // parts that are one body reach this far into each other
  least_recess = 2 * notch + 2 * join;
  recess = break_away_link_as_needed(recess, usual = 1.2, step = 0.1, most = 6, least =
    least_recess);
  grain = 1e-06;  // a limit missed by less is met: three lines of 0.4 make 1.2
  slot = web_width + 2 * clearance;  // width of a recess
  layer_share = 0.75;  // height of the thickest layer, as a share of the width of its lines
  pitch = edge / webs;  // from one web to the next
  score = (gap + recess) / 2;  // from a web's middle to its score line, half-way down the recess
  sweeps = ceil(swing / 2);  // steps in which a relief follows the moving side
  links = 1;  // the webs bend as one
  // most by which a way runs off its straight course from one step of a relief to the next
  bow = (gap + border + thickness + clearance) * (1 - cos((swing + swing) / sweeps / 2));
  room = clearance + bow;  // room around what a relief follows: the clearance is left between steps
  room_length = gap + 2 * room;  // length of a link with room around it
  core = (web - thickness) / 2;  // height of the middle of a web, from the middle of the parts
  link_height = thickness + gap * sin(swing / links / 2);  // height that a link takes up
  room_height = link_height + 2 * room;  // height of a link with room around it

  module check() {  // refuses what cannot work
    parts = ["both", "fixed", "moving", "fixed_relief", "moving_relief"];
    ranges = [for (v = [  // name, value, least, most, step, unit if not mm, what else is so
      ["angle", angle, -180, 180, 1, " deg"], ["swing", swing, 5, 60, 1, " deg"],
      ["thickness", thickness, 0.8, 20, 0.1], ["border", border, 2, 100, 0.5],
      ["edge", edge, 4, 300, 0.5], ["gap", gap, 0.5, 10, 0.1],
      ["webs", webs, 1, 40, 1, "", " in steps of 1"], ["web_width", web_width, 0.6, 10, 0.1],
      ["web", web, 0.3, 5, 0.05], ["left", left, 0.2, 3, 0.05],
      ["clearance", clearance, 0.15, 0.8, 0.05], ["strength", strength, 5, 120, 5, " MPa"],
      ["effort", effort, 2, 60, 1, " N"], ["facets", facets, 16, 256, 4, "", " in steps of 4"],
      ["layer", layer, 0.04, 0.8, 0.02], ["line_width", line_width, 0.2, 1.2, 0.05],
      ["recess", recess, 0.4, 6, 0.1, " mm", ", or 0"]
    ]) [for (k = [0 : 6]) k < 5 || v[k] != undef ? v[k] : k == 5 ? " mm" : ""]];
    rules = [  // what it must be beside the other values, or else
      ["web_width >=", 2 * line_width, "a web is less than two lines wide"],
      ["web >=", left + line_width / 2, "there is no score line"],
      ["thickness >=", web, "the webs stand out of the parts"],
      ["recess >=", least_recess, "the score line reaches out of the recess"],
      ["border >=", recess + 2 * line_width, "the recess cuts through the part"],
      ["edge >=", webs * (slot + 2 * 2 * line_width),
        "a wall beside a recess is less than two lines thick"],
      ["left <=", 2 * sqrt(effort * border / (strength * webs * web_width)),
        "it takes more than that push to snap the webs"],
      ["swing <=", 2 * atan((gap - clearance) / (2 * thickness - web)),
        "the edges of the parts meet before"],
      ["angle <=", swing, "it is drawn further than it turns"],
      ["angle >=", -swing, "it is drawn further than it turns"],
      ["layer <=", layer_share * line_width, "its lines are hardly pressed onto the layer below"]
    ];
    function told(name, value, asked) =
      str("break_away_link(): ", name, " = ", value, "; it must be ", asked, ".");
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
function break_away_link_size(name, part, angle, swing, thickness, border, edge = 60.5, gap = 1.6,
  webs, web_width, web, left, recess, clearance, strength, effort, facets, layer,
  line_width = 0.5) = let(
  lines = 3,
  sizes = [
    ["length_taken", gap],  // length between the borders, which bends
    ["width_taken", edge],  // width, along the lines it bends about
    ["least_wall", lines * line_width]  // thinnest wall that prints solid
  ],
  found = [for (size = sizes) if (size[0] == name) size[1]]
) assert(found != [], str("break_away_link_size(): name = ", name, "; it must be one of ",
  [for (size = sizes) size[0]], ".")) found[0];
// What was given; for 0 the usual value, or the least on its steps that is enough.
function break_away_link_as_needed(given, usual, step, most, least, grain = 1e-06) =
  given == 0 ? min(max(usual, ceil((least - grain) / step) * step), most) : given;
