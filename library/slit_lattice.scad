// slit_lattice.scad - Flat sheet with staggered slits: the strips between the slits twist as it
//   bends.
// Print it flat on the bed. No supports. Lengths in mm, angles in degrees.
// Good: one flat piece, bends tightly and often, nothing to fuse or to come apart.
// Weak: soft in its own plane: a pull opens the slits, and their inner corners crack first.
// Turning leaves can pinch fingers; small or broken-off parts can be swallowed.
// Not for loads that can hurt someone: follow local codes and ask a licensed professional.
// SPDX-License-Identifier: MIT; written by scadgen 0.2.0.
//
//   use <slit_lattice.scad>
//   slit_lattice(part = "fixed");
//   slit_lattice(part = "moving", angle = 10) lid();  // your lid() goes with it
//   echo(slit_lattice_length_taken());  // and what else its functions tell, below
//
// By itself it draws nothing; to see it with its values in the Customizer, open
//   slit_lattice_customizer.scad.
// Resize it by its parameters, never with scale(): that would scale the gaps too.
// Fingerprint of this text as written: 19a51484af3d9a0c

module slit_lattice(
  part = "both",  // what to draw: both, fixed, moving, fixed_relief, moving_relief
  angle = 0,  // angle drawn; 0 is how it prints (deg)
  swing = 90,  // bend that the hinge must be free for, each way (deg)
  thickness = 2.4,  // thickness of the sheet (mm)
  border = 12,  // solid border at either end, to join to a part (mm)
  rows = 17,  // rows of slits, one behind the other
  columns = 2,  // slits in a row, side by side
  strip = 2,  // width of a strip between two rows (mm)
  slit_length = 0,  // length of a slit; 0: 28 or as needed (mm)
  bridge = 0,  // solid bridge between two slits of a row; 0: 4 or as needed (mm)
  clearance = 0.3,  // air gap, square to the walls (mm)
  slit = 0.5,  // width of a slit (mm)
  facets = 64,  // facets per full turn
  layer = 0.3,  // thickest layer that prints it (mm)
  line_width = 0.45  // width of a printed line (mm)
) {
  check();
  if (part == "both") if (angle == 0) flat();
  else bent();
  if (part == "fixed") fixed_border();
  if (part == "moving") moving_border();
  if (part == "fixed_relief") fixed_relief();
  if (part == "moving_relief") moving_relief();
  if (part == "both" || part == "moving") with_border() children();

  // The whole sheet as printed.
  module flat() linear_extrude(height = thickness, convexity = 10) difference() {
    translate([-width / 2, -span / 2 - border]) square([width, span + 2 * border]);
    for (row = [0 : rows - 1]) slit_row(row = row);
  }
  // Slits of one row; every other row is moved by half a period.
  module slit_row(row) {
    shift = (row + 1) % 2 * period / 2;
    translate([0, row * pitch - span / 2]) for (i = [0 : columns])
      translate([shift - (slit_length + width) / 2 + i * period, 0]) square([slit_length, slit]);
  }
  // The sheet, bent: cut across into slices in which each strip has one angle.
  module bent() {
    fixed_border();
    moving_border();
    for (i = [0 : columns]) slice(parity = 0, i = 2 * i);
    for (i = [0 : columns - 1]) slice(parity = 1, i = 2 * i + 1);
    for (i = [0 : 2 * columns - 1]) twisted(i = i);
  }
  // Border that stays where it is.
  module fixed_border() translate([0, 0, thickness / 2])
    along_x(length = width) mirror([1, 0]) translate([span / 2, 0]) border_outline();
  // An outline drawn in y and z, as long in x as said, half to each side of x = 0.
  module along_x(length)
    rotate([90, 0, 90]) linear_extrude(height = length, center = true, convexity = 10) children();
  // Moving border, from its near edge on.
  module border_outline() translate([0, -thickness / 2]) square([border, thickness]);
  // Border at the other end, carried along by the bend.
  module moving_border() translate([0, 0, thickness / 2])
    along_x(length = width) border_at(bend = angle) border_outline();
  // An outline drawn from the near edge of the moving border, carried along by a bend.
  module border_at(bend)
    strip_at(i = links, turn = bend / links) rotate(bend) translate([-strip / 2, 0]) children();
  // An outline moved to the middle of strip i, one chord of a pitch from strip to strip.
  module strip_at(i, turn) translate([slit + strip / 2 - span / 2, 0])
    along_chords(chords = i, chord = pitch, start = turn, turn = turn) children();
  // An outline moved along equal chords: the first at an angle, each next one turned further.
  module along_chords(chords, chord, start, turn) {
    way = chord * (abs(turn) < grain ? chords : sin(chords * turn / 2) / sin(turn / 2));
    bearing = start + (chords - 1) * turn / 2;
    translate([way * cos(bearing), way * sin(bearing)]) children();
  }
  // Slice through the bridges of the even (0) or odd (1) rows, i half periods in.
  module slice(parity, i) {
    left = max(i * period / 2 - bridge / 2, 0);
    right = min(i * period / 2 + bridge / 2, width);
    translate([(left + right - width) / 2, 0, thickness / 2]) along_x(length = right - left) {
      for (k = [0 : links - 1]) strip_outline(i = k, half_turns = 2 * (k + (k + parity) % 2));
      for (k = [0 : floor((rows + 1 - parity) / 2) - 1]) bridge_outline(row = 2 * k + parity);
    }
  }
  // Strip i where it has turned by so many halves of a strip's turn.
  module strip_outline(i, half_turns)
    strip_at(i = i, turn = angle_each) rotate(half_turns * angle_each / 2)
      translate([-strip / 2, -thickness / 2]) square([strip, thickness]);
  // Bridge of a row, from one strip or border to the next.
  module bridge_outline(row) strip_at(i = row, turn = angle_each)
    rotate(row * angle_each) translate([-pitch / 2 - (slit + 2 * join) / 2, -thickness / 2])
      square([slit + 2 * join, thickness]);
  // Slice through free strips, each drawn with the mean of its twist.
  module twisted(i) translate([((2 * i + 1) * period / 2 - width) / 2, 0, thickness / 2])
    along_x(length = free_length + 2 * join)
      for (k = [0 : links - 1]) strip_outline(i = k, half_turns = 2 * k + 1);
  // Room that all but the fixed border sweeps: subtract it from the fixed side's body.
  module fixed_relief()
    translate([0, 0, thickness / 2]) along_x(length = width + 2 * clearance) relief_outline();
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
  module link_room(i, bend)
    strip_at(i = i, turn = bend / links) rotate((2 * i + 1) * bend / links / 2)
      translate([-room_length / 2, -room_height / 2]) square([room_length, room_height]);
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

  least_bridge = thickness + thickness / 2;
  bridge = bridge == 0 ? slit_lattice_as_needed(usual = 4, step = 0.5, most = 30, least =
    least_bridge) : bridge;
  slender = 5;  // least free length of a strip, in thicknesses, for it to twist freely
  least_slit_length = bridge + 2 * slender * thickness;
  slit_length = slit_length == 0 ? slit_lattice_as_needed(usual = 28, step = 0.5, most = 150,
    least = least_slit_length) : slit_length;
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
  // length of strip that twists, from one bridge to the next of the other row
  free_length = (slit_length - bridge) / 2;
  sweeps = ceil(swing / 2);  // steps in which a relief follows the moving side
  stride = (swing + swing) / sweeps;  // turn from one step of a relief to the next
  // length that a strip takes up, with the slits at both its sides
  link_length = strip + 2 * slit;
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
      str("slit_lattice(): part = ", part, "; it must be one of ", parts, "."));
    ranges = [  // name, value, unit, least, most, step, what else is so
      ["angle", angle, " deg", -180, 180, 1, ""], ["swing", swing, " deg", 10, 180, 5, ""],
      ["thickness", thickness, " mm", 0.4, 10, 0.1, ""], ["border", border, " mm", 2, 100, 0.5, ""],
      ["rows", rows, "", 3, 60, 1, " in steps of 1"],
      ["columns", columns, "", 1, 12, 1, " in steps of 1"],
      ["strip", strip, " mm", 0.6, 10, 0.1, ""],
      ["clearance", clearance, " mm", 0.15, 0.8, 0.05, ""],
      ["slit", slit, " mm", 0.35, 3, 0.05, ""],
      ["facets", facets, "", 16, 256, 4, " in steps of 4"],
      ["layer", layer, " mm", 0.04, 0.8, 0.02, ""],
      ["line_width", line_width, " mm", 0.2, 1.2, 0.05, ""],
      ["bridge", bridge, " mm", 1, 30, 0.5, ", or 0"],
      ["slit_length", slit_length, " mm", 5, 150, 0.5, ", or 0"]
    ];
    for (v = ranges) {
      whole = v[2] != "" || v[6] == "" || v[1] % v[5] == 0;  // as a count is, which has no unit
      assert(is_num(v[1]) && v[1] >= v[3] && v[1] <= v[4] && whole, str("slit_lattice(): ",
        v[0], " = ", v[1], v[2], "; it must be ", v[3], " to ", v[4], v[2], v[6], "."));
    }
    rules = [  // name, what it must be beside the other values, or else
      ["strip", "at most", thickness, "or the strips bend instead of twisting"],
      ["strip", "at least", thinnest, "or a strip is too thin to print solid"],
      ["bridge", "at least", least_bridge, "or the bridges break before the strips have twisted"],
      ["slit_length", "at least", least_slit_length, "or the strips are too short to twist"],
      ["rows", "at least", swing / most_turn + 1, "or a strip twists too far"],
      ["slit", "at least", thickness * sin(turn) - strip * (1 - cos(turn)),
        "or the strips meet before the sheet is bent"],
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
        str("slit_lattice(): ", r[0], " = ", v[1], v[2], "; it must be ", words, "."));
    }
  }
}

// Length between the borders, which bends (mm).
function slit_lattice_length_taken(
  part, angle, swing, thickness, border, rows = 17, columns, strip = 2, slit_length, bridge,
  clearance, slit = 0.5, facets, layer, line_width
) = let(pitch = strip + slit) rows * pitch - strip;
// Width, along the lines it bends about (mm).
function slit_lattice_width_taken(
  part, angle, swing, thickness = 2.4, border, rows, columns = 2, strip, slit_length = 0,
  bridge = 0, clearance, slit, facets, layer, line_width
) = let(
  least_bridge = thickness + thickness / 2,
  bridge = bridge == 0 ? slit_lattice_as_needed(usual = 4, step = 0.5, most = 30, least =
    least_bridge) : bridge,
  slender = 5, least_slit_length = bridge + 2 * slender * thickness,
  slit_length = slit_length == 0 ? slit_lattice_as_needed(usual = 28, step = 0.5, most = 150, least
    = least_slit_length) : slit_length,
  period = slit_length + bridge
) columns * period;
// Thinnest wall that prints solid (mm).
function slit_lattice_least_wall(
  part, angle, swing, thickness, border, rows, columns, strip, slit_length, bridge, clearance, slit,
  facets, layer, line_width = 0.45
) = let(lines = 3) lines * line_width;
// Value where 0 is given: the usual one, or the least on its steps that is enough.
function slit_lattice_as_needed(usual, step, most, least, grain = 1e-06) =
  min(max(usual, ceil((least - grain) / step) * step), most);
