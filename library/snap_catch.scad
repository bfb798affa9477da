// snap_catch.scad - Snap catch: an arm beside a lid's wall hooks its lip under a ledge on the box.
// Print it flat on the bed, rims up: keeper and arm stand beside their walls. No supports. Lengths
//   in mm, angles in degrees.
// Good: holds a lid shut, and opens by a pull; the arm bends in its layers.
// Weak: holds no more than its arm is stiff: a pull opens it.
// Turning leaves can pinch fingers; small or broken-off parts can be swallowed.
// Not for loads that can hurt someone: follow local codes and ask a licensed professional.
// SPDX-License-Identifier: MIT; written by scadgen 0.2.0.
//
//   use <snap_catch.scad>
//   snap_catch(part = "fixed");
//   snap_catch(part = "moving", angle = 10) lid();  // your lid() goes with it
//   echo(snap_catch_axis_height());  // and what else its functions tell, below
//
// By itself it draws nothing; to see it with its values in the Customizer, open
//   snap_catch_customizer.scad.
// Resize it by its parameters, never with scale(): that would scale the gaps too.
// Fingerprint of this text as written: bc10a1253cb57639

module snap_catch(
  part = "both",  // what to draw: both, fixed, moving, fixed_relief, moving_relief
  angle = 0,  // angle drawn; 0 is how it prints, 180 is shut (deg)
  swing = 160,  // turn that must be free before it snaps (deg)
  reach = 30,  // from the hinge's axis to the outside of the walls (mm)
  keeper_height = 20,  // height of the box's wall, up to its rim (mm)
  hook_height = 10,  // height of the lid's wall, up to its rim (mm)
  wall = 2,  // thickness of the walls that carry it (mm)
  hook_width = 8,  // width of the lip (mm)
  lip = 1.6,  // how far lip and ledge stand out (mm)
  lead = 35,  // slope that leads the lip in, from upright (deg)
  arm = 2,  // thickness of the arm (mm)
  arm_length = 0,  // length of the arm, from its post to the lip; 0: 30 or as needed (mm)
  post = 6,  // length of the post that carries the arm (mm)
  clearance = 0.3,  // air gap, square to the walls (mm)
  slack = 0.3,  // play of the hinge that the lip must outlast (mm)
  hold = 0.6,  // grip of the lip that is left after all play (mm)
  strain = 0.7,  // strain that the plastic lives with (%)
  facets = 64,  // facets per full turn
  layer = 0.3,  // thickest layer that prints it (mm)
  line_width = 0.45  // width of a printed line (mm)
) {
  check();
  if (part == "both" || part == "fixed") keeper();
  if (part == "both" || part == "moving")
    translate([0, 0, axis_at]) rotate([0, -angle, 0]) translate([0, 0, -axis_at]) {
      hook();
      children();
    }
  if (part == "fixed_relief") fixed_relief();
  if (part == "moving_relief")
    translate([0, 0, axis_at]) rotate([0, -angle, 0]) translate([0, 0, -axis_at]) moving_relief();

  // Patch of the box's wall with the ledge on its outside.
  module keeper() {
    linear_extrude(height = keeper_height - clearance, convexity = 10)
      translate([-reach, aside - span / 2]) square([wall, span]);
    translate([-reach, 0, keeper_height]) standing(thickness = keeper_width) polygon([
      [join, low], [0, low], [-lip, low + lip], [-lip, low + lip + land], [0, -clearance],
      [join, -clearance]
    ]);
  }
  // An outline drawn in x and z, as thick in y as said, half to each side of y = 0.
  module standing(thickness)
    rotate([90, 0, 0]) linear_extrude(height = thickness, center = true, convexity = 10) children();
  // Patch of the lid's wall, the post on it, and the arm with its lip.
  module hook() {
    linear_extrude(height = hook_height - clearance, convexity = 10) {
      translate([reach - wall, aside - span / 2]) square([wall, span]);
      translate([reach - join, behind]) square([slot + join, deep]);
      translate([reach + slot, root]) mirror([1, 0]) corner();
    }
    linear_extrude(height = tall, convexity = 10) {
      translate([reach + slot, aside - span / 2]) square([arm, span]);
      translate([reach + slot, behind]) square([2 * arm, deep]);
      translate([reach + slot + arm, root]) corner();
    }
    barb_solid();
  }
  // What a fillet fills, seen from above, beside the arm.
  module corner() difference() {
    translate([-join, 0]) square([fillet + join, fillet + join]);
    translate([fillet, 0]) circle(r = fillet, $fn = facets);
  }
  // The lip: it leans out by 45 degrees, so that it prints without support.
  module barb_solid()
    translate([reach + slot, 0, hook_height + barb]) standing(thickness = hook_width)
      polygon([[join, 0], [0, 0], [-lip, lip], [-lip, lip + land], [0, ledge], [join, ledge]]);
  // Room that the lid's side sweeps: subtract it from the box, then add the keeper.
  module fixed_relief() translate([0, 0, axis_at]) {
    translate([0, aside, 0]) standing(thickness = span + 2 * clearance) {
      swept_up()
        roomy(near = reach - wall, width = wall + stands_out, height = hook_height - clearance);
      swept_up() roomy(near = reach + slot, width = stands_out - slot, height = tall);
    }
    standing(thickness = hook_width + 2 * clearance)
      swept_up() roomy(near = reach + clearance, width = lip, height = tall);
  }
  // An outline on its way from how it prints to shut.
  module swept_up() for (k = [0 : sweeps - 1]) hull() {
    rotate(k * stride) children();
    rotate((k + 1) * stride) children();
  }
  // Outline in x and z, from the axis, of what stands on the bed, with room around it.
  module roomy(near, width, height)
    translate([near - room, -axis_at - room]) square([width + 2 * room, height + 2 * room]);
  // Room that the box's side sweeps, seen from the lid: subtract it, then add the hook.
  module moving_relief() translate([0, 0, axis_at]) {
    translate([0, aside, 0]) standing(thickness = span + 2 * clearance) mirror([1, 0])
      swept_up() roomy(near = reach - wall, width = wall, height = keeper_height - clearance);
    standing(thickness = keeper_width + 2 * clearance) mirror([1, 0])
      swept_up() roomy(near = reach, width = lip, height = keeper_height - clearance);
  }

  // strain at the root of an arm, at its fillets, as a share of t y/L2
  sharp = 1.7141225883819748;
  // height of the shut rims above the axis; negative below it
  rim = (keeper_height - hook_height) / 2;
  ramp = lip / tan(lead);  // height of the slope that leads in
  // height of the upper corner of the ledge's end above the axis, when shut
  ledge_at = rim - clearance - ramp;
  land = 2 * layer;  // height of a lip's blunt end: two layers
  // farthest that the ledge's end is from the height of the axis
  outer = max(ledge_at, land - ledge_at);
  // way up of a shut lid until the latch faces meet: the clearance, and a layer
  drop = sqrt(2) * clearance + layer;
  barb = land + ramp + drop;  // way above the lid's rim at which the latch face begins
  lip_at = rim - barb - lip;  // the same of the lip
  inner = max(0, lip_at - land, -lip_at);  // nearest that the lip's end comes to it
  // from the axis to the ledge's end along the lid, where it passes the lip's end
  passing = sqrt(max(0, (reach + lip) * (reach + lip) + outer * outer - inner * inner));
  // way by which the arm gives as the lip passes: the ledge's end turns about the axis
  deflection = passing - reach - clearance;
  // farthest way by which the arm gives, turned or pulled, with the hinge's play
  bent = max(deflection, lip - clearance) + slack;
  percent = 0.01;  // one part in a hundred
  least_arm_length = sqrt(sharp * arm * bent / (strain * percent));
  slim = 4;  // least length of an arm, in thicknesses: beam theory asks for it
  least_arm_length_2 = slim * arm;
  arm_length = arm_length == 0 ? snap_catch_as_needed(usual = 30, step = 0.5, most = 150, least =
    max(least_arm_length, least_arm_length_2)) : arm_length;
  grain = 1e-06;  // a limit missed by less is met: three lines of 0.4 make 1.2
  lines = 3;  // lines across the thinnest wall that prints solid
  thinnest = lines * line_width;  // thinnest wall that prints solid
  slot = lip + clearance;  // air between the arm and the wall: a lip, and the clearance beside it
  // way that the lip loses of its grip: the clearance, and the play of the hinge
  play = clearance + slack;
  // way, at most, by which the lip swings out of the ledge's way as it turns
  swerve = max(0, land - lip_at - ledge_at) * (drop + lip - clearance) / (reach + lip);
  ledge = lip + land + ramp;  // height of the ledge at its root
  rise = barb + ledge;  // way by which the hook stands above the lid's rim
  // room beside the box's rim for what hangs over it: as far as the rim may swing out
  brush = lip * (2 * reach + lip);
  // greatest height of the shut rims above the axis at which the box's clears the arm
  highest_rim = brush > rise * rise ? (brush / rise + rise) / 2 : sqrt(brush);
  locked = 59.03624346792648;  // slope, from the way in, at which friction may stop the lip
  layer_share = 0.75;  // height of the thickest layer, as a share of the width of its lines
  // from the middle of the lip to where the arm leaves its post
  root = hook_width / 2 + arm_length;
  // width of the ledge: the lip finds it whatever the play to the sides
  keeper_width = hook_width + 2 * (slack + clearance);
  // length along the wall, from the post to the end of the ledge
  span = post + root + keeper_width / 2;
  // from the middle of the lip to that of the length along the wall
  aside = (span - keeper_width) / 2;
  join = 0.01;  // parts that are one body reach this far into each other
  low = -clearance - ledge;
  // height of the hinge's axis: a box closes whose wall and lid are together twice as high
  axis_at = (keeper_height + hook_height) / 2;
  fillet = arm / 2;  // radius of the fillets at the root of the arm: half as thick as it
  behind = root + fillet;
  deep = post - fillet;
  tall = hook_height + rise;  // height of the hook, from the bed
  shut = 180;  // turn from how it prints to shut
  sweeps = shut / 2;  // steps in which a relief follows the other side
  stride = shut / sweeps;  // turn from one step of a relief to the next
  // way by which the post stands out of the wall, which is twice as thick as the arm
  stands_out = slot + 2 * arm;
  // room around what a relief follows, so that the clearance is left between its steps
  room = clearance + (reach + stands_out + keeper_height + tall) * (1 - cos(stride / 2));

  // Refuses what cannot work.
  module check() {
    parts = ["both", "fixed", "moving", "fixed_relief", "moving_relief"];
    assert([for (p = parts) if (p == part) p] == [part],
      str("snap_catch(): part = ", part, "; it must be one of ", parts, "."));
    ranges = [  // name, value, unit, least, most, step, what else is so
      ["angle", angle, " deg", 0, 180, 1, ""], ["swing", swing, " deg", 15, 178, 1, ""],
      ["reach", reach, " mm", 15, 400, 0.5, ""],
      ["keeper_height", keeper_height, " mm", 8, 200, 0.5, ""],
      ["hook_height", hook_height, " mm", 4, 100, 0.5, ""], ["wall", wall, " mm", 0.8, 8, 0.1, ""],
      ["hook_width", hook_width, " mm", 3, 60, 0.5, ""], ["lip", lip, " mm", 0.8, 6, 0.1, ""],
      ["lead", lead, " deg", 20, 45, 1, ""], ["arm", arm, " mm", 0.8, 6, 0.1, ""],
      ["post", post, " mm", 2, 40, 0.5, ""], ["clearance", clearance, " mm", 0.15, 0.8, 0.05, ""],
      ["slack", slack, " mm", 0, 2, 0.05, ""], ["hold", hold, " mm", 0.3, 4, 0.1, ""],
      ["strain", strain, " %", 0.1, 40, 0.1, ""],
      ["facets", facets, "", 16, 256, 4, " in steps of 4"],
      ["layer", layer, " mm", 0.04, 0.8, 0.02, ""],
      ["line_width", line_width, " mm", 0.2, 1.2, 0.05, ""],
      ["arm_length", arm_length, " mm", 6, 150, 0.5, ", or 0"]
    ];
    for (v = ranges) {
      whole = v[2] != "" || v[6] == "" || v[1] % v[5] == 0;  // as a count is, which has no unit
      assert(is_num(v[1]) && v[1] >= v[3] && v[1] <= v[4] && whole, str("snap_catch(): ",
        v[0], " = ", v[1], v[2], "; it must be ", v[3], " to ", v[4], v[2], v[6], "."));
    }
    rules = [  // name, what it must be beside the other values, or else
      ["wall", "at least", thinnest, "or it is too thin to print solid"],
      ["arm", "at least", thinnest, "or the arm is too thin to print solid"],
      ["arm_length", "at least", least_arm_length, "or the arm is strained further than it bears"],
      ["arm_length", "at least", least_arm_length_2, "or the arm is a block that hardly bends"],
      ["post", "at least", 2 * arm, "or the post bends with its arm"],
      ["arm", "at most", 2 * slot, "or the fillet at its root has no room beside the wall"],
      ["hold", "at most", lip - play - swerve, "or the lip slips past the ledge"],
      ["keeper_height", "at least", rise, "or the hook reaches below the box"],
      ["keeper_height", "at most", hook_height + 2 * reach * tan(lead),
        "or the lip swings out past the slope that leads it in"],
      ["keeper_height", "at most", hook_height + 2 * highest_rim,
        "or the box's rim strikes the arm as the lid turns"],
      ["hook_height", "at most", keeper_height + 2 * (reach * tan(locked - lead) - rise),
        "or friction may stop the lip on its way in"],
      ["swing", "at most", 180 - atan(rise / reach), "or the lip meets the ledge before"],
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
        str("snap_catch(): ", r[0], " = ", v[1], v[2], "; it must be ", words, "."));
    }
  }
}

// Height of the axis of the lid (mm).
function snap_catch_axis_height(
  part, angle, swing, reach, keeper_height = 20, hook_height = 10, wall, hook_width, lip, lead, arm,
  arm_length, post, clearance, slack, hold, strain, facets, layer, line_width
) = (keeper_height + hook_height) / 2;
// Length taken along the wall (mm).
function snap_catch_length_taken(
  part, angle, swing, reach = 30, keeper_height = 20, hook_height = 10, wall, hook_width = 8,
  lip = 1.6, lead = 35, arm = 2, arm_length = 0, post = 6, clearance = 0.3, slack = 0.3, hold,
  strain = 0.7, facets, layer = 0.3, line_width
) = let(
  sharp = 1.7141225883819748, rim = (keeper_height - hook_height) / 2, ramp = lip / tan(lead),
  ledge_at = rim - clearance - ramp, land = 2 * layer, outer = max(ledge_at, land - ledge_at),
  drop = sqrt(2) * clearance + layer, barb = land + ramp + drop, lip_at = rim - barb - lip,
  inner = max(0, lip_at - land, -lip_at),
  passing = sqrt(max(0, (reach + lip) * (reach + lip) + outer * outer - inner * inner)),
  deflection = passing - reach - clearance, bent = max(deflection, lip - clearance) + slack,
  percent = 0.01, least_arm_length = sqrt(sharp * arm * bent / (strain * percent)), slim = 4,
  least_arm_length_2 = slim * arm,
  arm_length = arm_length == 0 ? snap_catch_as_needed(usual = 30, step = 0.5, most = 150, least =
    max(least_arm_length, least_arm_length_2)) : arm_length,
  root = hook_width / 2 + arm_length, keeper_width = hook_width + 2 * (slack + clearance)
) post + root + keeper_width / 2;
// Thinnest wall that prints solid (mm).
function snap_catch_least_wall(
  part, angle, swing, reach, keeper_height, hook_height, wall, hook_width, lip, lead, arm,
  arm_length, post, clearance, slack, hold, strain, facets, layer, line_width = 0.45
) = let(lines = 3) lines * line_width;
// Value where 0 is given: the usual one, or the least on its steps that is enough.
function snap_catch_as_needed(usual, step, most, least, grain = 1e-06) =
  min(max(usual, ceil((least - grain) / step) * step), most);
