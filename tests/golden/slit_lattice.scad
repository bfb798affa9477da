// slit_lattice.scad - Flat sheet with staggered slits: the strips between the slits twist as it
//   bends.
// Print it flat on the bed. No supports.
// Good: one flat piece, bends tightly and often, nothing to fuse or to come apart.
// Weak: soft in its own plane: a pull opens the slits, and their inner corners crack first.
// Turning leaves can pinch fingers; small or broken-off parts can be swallowed.
// Not for loads that can hurt someone: follow local codes and ask a licensed professional.
// SPDX-License-Identifier: MIT; written by scadgen 0.2.0.
//
//   use <slit_lattice.scad>
//   slit_lattice(part = "fixed");
//   slit_lattice(part = "moving", angle = 10) lid();  // your lid() goes with it
//   echo(slit_lattice_size("length_taken"));  // and other sizes by name: see the end
//
// It draws nothing by itself: slit_lattice_customizer.scad does, with sliders.
// Resize it by its parameters, never with scale(): that would scale the gaps too.
// Fingerprint of this text as written: d4ecabadaed1ace2

module slit_lattice(
  part = "both",  // what to draw: both, fixed, moving, fixed_relief, moving_relief
  angle = 1,  // angle drawn; 0 is how it prints (deg)
  swing = 95,  // bend that the hinge must be free for, each way (deg)
  thickness = 2.3,  // thickness of the sheet (mm)
  border = 12.5,  // solid border at either end, to join to a part (mm)
  rows = 18,  // rows of slits, one behind the other
  columns = 3,  // slits in a row, side by side
  strip = 2.1,  // width of a strip between two rows (mm)
  slit_length = 28.5,  // length of a slit; 0: 28 or as needed (mm)
  bridge = 4.5,  // solid bridge between two slits of a row; 0: 4 or as needed (mm)
  clearance = 0.35,  // air gap, square to the walls (mm)
  slit = 0.55,  // width of a slit (mm)
  facets = 68,  // facets per full turn
  layer = 0.32,  // thickest layer that prints it (mm)
  line_width = 0.5  // width of a printed line (mm)
) {
  check();
  if (part == "both")
    if (angle == 0) flat();
    else bent();
  if (part == "fixed") fixed_border();
  if (part == "moving") moving_border();
  if (part == "fixed_relief") fixed_relief();
  if (part == "moving_relief") moving_relief();
  if (part == "both" || part == "moving") with_border() children();

  module flat() linear_extrude(height = thickness, convexity = 10) difference() {  // as it prints
    translate([-width / 2, -span / 2 - border]) square([width, span + 2 * border]);
    for (row = [0 : rows - 1]) slit_row(row = row);
  }
  module slit_row(row) {  // slits of one row; every other row is moved by half a period
    shift = (row + 1) % 2 * period / 2;
    translate([0, row * pitch - span / 2]) for (i = [0 : columns])
      translate([shift - (slit_length + width) / 2 + i * period, 0]) square([slit_length, slit]);
  }
  module bent() {  // the sheet, bent: cut across into slices in which each strip has one angle
    fixed_border();
    moving_border();
    for (i = [0 : columns]) slice(parity = 0, i = 2 * i);
    for (i = [0 : columns - 1]) slice(parity = 1, i = 2 * i + 1);
    for (i = [0 : 2 * columns - 1]) twisted(i = i);
  }
  module fixed_border() translate([0, 0, thickness / 2])  // border that stays where it is
    along_x(length = width) mirror([1, 0]) translate([span / 2, 0]) border_outline();
  module along_x(length)  // an outline in y and z, as long in x as said, half to each side of 0
    rotate([90, 0, 90]) linear_extrude(height = length, center = true, convexity = 10) children();
  // Moving border, from its near edge on.
  module border_outline() translate([0, -thickness / 2]) square([border, thickness]);
  module moving_border() translate([0, 0, thickness / 2])  // border at the other end, as it is bent
    along_x(length = width) border_at(bend = angle) border_outline();
  module border_at(bend)  // an outline from the moving border's near edge, carried by a bend
    strip_at(i = links, turn = bend / links) rotate(bend) translate([-strip / 2, 0]) children();
  module strip_at(i, turn) translate([slit + strip / 2 - span / 2, 0])  // an outline at strip i
    along_chords(chords = i, chord = pitch, start = turn, turn = turn) children();
  module along_chords(chords, chord, start, turn) {  // an outline moved along chords that turn
    way = chord * (abs(turn) < grain ? chords : sin(chords * turn / 2) / sin(turn / 2));
    bearing = start + (chords - 1) * turn / 2;
    translate([way * cos(bearing), way * sin(bearing)]) children();
  }
  module slice(parity, i) {  // slice of bridges in even (0) or odd (1) rows, i half periods in
    left = max(i * period / 2 - bridge / 2, 0);
    right = min(i * period / 2 + bridge / 2, width);
    translate([(left + right - width) / 2, 0, thickness / 2]) along_x(length = right - left) {
      for (k = [0 : links - 1]) strip_outline(i = k, half_turns = 2 * (k + (k + parity) % 2));
      for (k = [0 : floor((rows + 1 - parity) / 2) - 1]) bridge_outline(row = 2 * k + parity);
    }
  }
  module strip_outline(i, half_turns)  // strip i, turned by so many halves of a strip's turn
    strip_at(i = i, turn = angle_each) rotate(half_turns * angle_each / 2)
      translate([-strip / 2, -thickness / 2]) square([strip, thickness]);
  module bridge_outline(row) strip_at(i = row, turn = angle_each)  // bridge between two strips
    rotate(row * angle_each) translate([-pitch / 2 - (slit + 2 * join) / 2, -thickness / 2])
      square([slit + 2 * join, thickness]);
  // Slice through free strips, each drawn with the mean of its twist.
  module twisted(i) translate([((2 * i + 1) * period / 2 - width) / 2, 0, thickness / 2])
    along_x(length = free_length + 2 * join)
      for (k = [0 : links - 1]) strip_outline(i = k, half_turns = 2 * k + 1);
  module fixed_relief()  // room that all else sweeps: subtract it from the fixed side's body
    translate([0, 0, thickness / 2]) along_x(length = width + 2 * clearance) relief_outline();
  module relief_outline() for (k = [0 : sweeps - 1]) sweep_step(k = k);  // room of the whole bend
  module sweep_step(k) {  // room from one bend to the next
    bend = -swing + k * (swing + swing) / sweeps;
    after = bend + (swing + swing) / sweeps;
    for (i = [0 : links - 1])
      hull() { link_room(i = i, bend = bend); link_room(i = i, bend = after); }
    hull() { border_room(bend = bend); border_room(bend = after); }
  }
  module link_room(i, bend)  // a link with room around it
    strip_at(i = i, turn = bend / links) rotate((2 * i + 1) * bend / links / 2)
      translate([-room_length / 2, -room_height / 2]) square([room_length, room_height]);
  module border_room(bend) border_at(bend = bend)  // the moving border with room around it
    translate([-room, -thickness / 2 - room]) square([border + 2 * room, thickness + 2 * room]);
  // The same, seen from the moving border: subtract it from the moving side's body.
  module moving_relief() translate([0, 0, thickness / 2]) along_x(length = width + 2 * clearance)
    border_at(bend = angle) translate([-span / 2, 0]) mirror([1, 0]) relief_outline();
  module with_border() translate([0, 0, thickness / 2])  // a solid of the moving side, bent along
    rotate([90, 0, 90]) border_at(bend = angle) translate([-span / 2, 0, 0])
      rotate([-90, 0, 0]) rotate([0, 0, -90]) translate([0, 0, -thickness / 2]) children();

  least_bridge = thickness + thickness / 2;
  bridge = slit_lattice_as_needed(bridge, usual = 4, step = 0.5, most = 30, least = least_bridge);
  slender = 5;  // least free length of a strip, in thicknesses, for it to twist freely
  least_slit_length = bridge + 2 * slender * thickness;
  slit_length = slit_lattice_as_needed(slit_length, usual = 28, step = 0.5, most = 150, least =
    least_slit_length);
  grain = 1e-06;  // a limit missed by less is met: three lines of 0.4 make 1.2
  lines = 3;  // lines across the thinnest wall that prints solid
  thinnest = lines * line_width;  // thinnest wall that prints solid
  most_turn = 15;  // turn up to which a strip does little else than twist
  links = rows - 1;  // strips, one between two rows of slits
  turn = swing / links;  // turn of one strip when the sheet is bent all the way
  layer_share = 0.75;  // height of the thickest layer, as a share of the width of its lines
  period = slit_length + bridge;  // from one slit to the next in a row
  width = columns * period;  // width of the sheet, along the lines it bends about
  pitch = strip + slit;  // from one row to the next
  span = rows * pitch - strip;  // length between the borders, which bends
  angle_each = angle / links;  // turn of one strip at the angle drawn
  join = 0.01;  // parts that are one body reach this far into each other
  free_length = (slit_length - bridge) / 2;  // length that twists, from a bridge to the other row's
  sweeps = ceil(swing / 2);  // steps in which a relief follows the moving side
  link_length = strip + 2 * slit;  // length of a strip, with the slits at both its sides
  // most by which a way runs off its straight course from one step of a relief to the next
  bow = (span + border + thickness + clearance) * (1 - cos((swing + swing) / sweeps / 2));
  room = clearance + bow;  // room around what a relief follows: the clearance is left between steps
  room_length = link_length + 2 * room;  // length of a link with room around it
  link_height = thickness + link_length * sin(swing / links / 2);  // height that a link takes up
  room_height = link_height + 2 * room;  // height of a link with room around it

  module check() {  // refuses what cannot work
    parts = ["both", "fixed", "moving", "fixed_relief", "moving_relief"];
    ranges = [for (v = [  // name, value, least, most, step, unit if not mm, what else is so
      ["angle", angle, -180, 180, 1, " deg"], ["swing", swing, 10, 180, 5, " deg"],
      ["thickness", thickness, 0.4, 10, 0.1], ["border", border, 2, 100, 0.5],
      ["rows", rows, 3, 60, 1, "", " in steps of 1"],
      ["columns", columns, 1, 12, 1, "", " in steps of 1"], ["strip", strip, 0.6, 10, 0.1],
      ["clearance", clearance, 0.15, 0.8, 0.05], ["slit", slit, 0.35, 3, 0.05],
      ["facets", facets, 16, 256, 4, "", " in steps of 4"], ["layer", layer, 0.04, 0.8, 0.02],
      ["line_width", line_width, 0.2, 1.2, 0.05], ["bridge", bridge, 1, 30, 0.5, " mm", ", or 0"],
      ["slit_length", slit_length, 5, 150, 0.5, " mm", ", or 0"]
    ]) [for (k = [0 : 6]) k < 5 || v[k] != undef ? v[k] : k == 5 ? " mm" : ""]];
    rules = [  // what it must be beside the other values, or else
      ["strip <=", thickness, "the strips bend instead of twisting"],
      ["strip >=", thinnest, "a strip is too thin to print solid"],
      ["bridge >=", least_bridge, "the bridges break before the strips have twisted"],
      ["slit_length >=", least_slit_length, "the strips are too short to twist"],
      ["rows >=", swing / most_turn + 1, "a strip twists too far"],
      ["slit >=", thickness * sin(turn) - strip * (1 - cos(turn)),
        "the strips meet before the sheet is bent"],
      ["angle <=", swing, "it is drawn further than it turns"],
      ["angle >=", -swing, "it is drawn further than it turns"],
      ["layer <=", layer_share * line_width, "its lines are hardly pressed onto the layer below"]
    ];
    function told(name, value, asked) =
      str("slit_lattice(): ", name, " = ", value, "; it must be ", asked, ".");
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
function slit_lattice_size(name, part, angle, swing, thickness = 2.3, border, rows = 18,
  columns = 3, strip = 2.1, slit_length = 28.5, bridge = 4.5, clearance, slit = 0.55, facets, layer,
  line_width = 0.5) = let(
  least_bridge = thickness + thickness / 2,
  bridge = slit_lattice_as_needed(bridge, usual = 4, step = 0.5, most = 30, least = least_bridge),
  slender = 5, least_slit_length = bridge + 2 * slender * thickness,
  slit_length = slit_lattice_as_needed(slit_length, usual = 28, step = 0.5, most = 150, least =
    least_slit_length),
  pitch = strip + slit, span = rows * pitch - strip, period = slit_length + bridge,
  width = columns * period, lines = 3, thinnest = lines * line_width,
  sizes = [
    ["length_taken", span],  // length between the borders, which bends
    ["width_taken", width],  // width, along the lines it bends about
    ["least_wall", thinnest]  // thinnest wall that prints solid
  ],
  found = [for (size = sizes) if (size[0] == name) size[1]]
) assert(found != [], str("slit_lattice_size(): name = ", name, "; it must be one of ",
  [for (size = sizes) size[0]], ".")) found[0];
// What was given; for 0 the usual value, or the least on its steps that is enough.
function slit_lattice_as_needed(given, usual, step, most, least, grain = 1e-06) =
  given == 0 ? min(max(usual, ceil((least - grain) / step) * step), most) : given;
