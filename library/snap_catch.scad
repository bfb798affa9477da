// snap_catch.scad - Snap catch: an arm beside a lid's wall hooks its lip under a ledge on the box.
// Print it flat on the bed, rims up: keeper and arm stand beside their walls. No supports.
// Good: holds a lid shut, and opens by a pull; the arm bends in its layers.
// Weak: holds no more than its arm is stiff: a pull opens it.
// Turning leaves can pinch fingers; small or broken-off parts can be swallowed.
// Not for loads that can hurt someone: follow local codes and ask a licensed professional.
// SPDX-License-Identifier: MIT; written by scadgen 0.2.0.
//
//   use <snap_catch.scad>
//   snap_catch(part = "fixed");
//   snap_catch(part = "moving", angle = 10) lid();  // your lid() goes with it
//   echo(snap_catch_size("axis_height"));  // and other sizes by name: see the end
//
// It draws nothing by itself: snap_catch_customizer.scad does, with sliders.
// Resize it by its parameters, never with scale(): that would scale the gaps too.
// Fingerprint of this text as written: 03b03ebf9cb993f1

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
  if (part == "both" || part == "moving") translate([0, 0, axis_at])
    rotate([0, -angle, 0]) translate([0, 0, -axis_at]) { hook(); children(); }
  if (part == "fixed_relief") fixed_relief();
  if (part == "moving_relief")
    translate([0, 0, axis_at]) rotate([0, -angle, 0]) translate([0, 0, -axis_at]) moving_relief();

  module keeper() {  // patch of the box's wall with the ledge on its outside
    linear_extrude(height = keeper_height - clearance, convexity = 10)
      translate([-reach, aside - span / 2]) square([wall, span]);
    translate([-reach, 0, keeper_height]) standing(thickness = keeper_width)
      polygon([[join, low], [0, low], [-lip, low + lip], [-lip, low + lip + land],
        [0, -clearance], [join, -clearance]]);
  }
  module standing(thickness)  // an outline in x and z, as thick in y as said, half to each side
    rotate([90, 0, 0]) linear_extrude(height = thickness, center = true, convexity = 10) children();
  module hook() {  // patch of the lid's wall, the post on it, and the arm with its lip
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
  module corner() difference() {  // what a fillet fills, seen from above, beside the arm
    translate([-join, 0]) square([fillet + join, fillet + join]);
    translate([fillet, 0]) circle(r = fillet, $fn = facets);
  }
  module barb_solid()  // the lip: it leans out by 45 degrees, so that it prints without support
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
  // An outline on its way to shut.
  module swept_up() swept(start = 0, step = stride, steps = sweeps) children();
  module swept(start, step, steps) for (k = [0 : steps - 1])  // convex outline on its way
    hull() { rotate(start + k * step) children(); rotate(start + (k + 1) * step) children(); }
  module roomy(near, width, height)  // outline in x and z of what stands on the bed, with room
    translate([near - room, -axis_at - room]) square([width + 2 * room, height + 2 * room]);
  // Room that the box's side sweeps, seen from the lid: subtract it, then add the hook.
  module moving_relief() translate([0, 0, axis_at]) {
    translate([0, aside, 0]) standing(thickness = span + 2 * clearance) mirror([1, 0])
      swept_up() roomy(near = reach - wall, width = wall, height = keeper_height - clearance);
    standing(thickness = keeper_width + 2 * clearance) mirror([1, 0])
      swept_up() roomy(near = reach, width = lip, height = keeper_height - clearance);
  }

  sharp = 1.7141225883819748;  // strain at the root of an arm, at its fillets, as a share of t y/L2
  rim = (keeper_height - hook_height) / 2;  // height of the shut rims over the axis, or under it
  ramp = lip / tan(lead);  // height of the slope that leads in
  ledge_at = rim - clearance - ramp;  // height of the ledge's upper corner over the axis, when shut
  land = 2 * layer;  // height of a lip's blunt end: two layers
  outer = max(ledge_at, land - ledge_at);  // farthest that the ledge's end is from the axis' height
  drop = sqrt(2) * clearance + layer;  // how far a shut lid lifts until the latch faces meet
  barb = land + ramp + drop;  // way above the lid's rim at which the latch face begins
  lip_at = rim - barb - lip;  // the same of the lip
  inner = max(0, lip_at - land, -lip_at);  // nearest that the lip's end comes to it
  // from the axis to the ledge's end along the lid, where it passes the lip's end
  passing = sqrt(max(0, (reach + lip) * (reach + lip) + outer * outer - inner * inner));
  bent = max(passing - reach - clearance, lip - clearance) + slack;  // farthest that the arm gives
  percent = 0.01;  // one part in a hundred
  least_arm_length = sqrt(sharp * arm * bent / (strain * percent));
  slim = 4;  // least length of an arm, in thicknesses: beam theory asks for it
  least_arm_length_2 = slim * arm;
  arm_length = snap_catch_as_needed(arm_length, usual = 30, step = 0.5, most = 150, least =
    max(least_arm_length, least_arm_length_2));
  grain = 1e-06;  // a limit missed by less is met: three lines of 0.4 make 1.2
  lines = 3;  // lines across the thinnest wall that prints solid
  thinnest = lines * line_width;  // thinnest wall that prints solid
  slot = lip + clearance;  // air between the arm and the wall: a lip, and the clearance beside it
  // way, at most, by which the lip swings out of the ledge's way as it turns
  swerve = max(0, land - lip_at - ledge_at) * (drop + lip - clearance) / (reach + lip);
  ledge = lip + land + ramp;  // height of the ledge at its root
  rise = barb + ledge;  // way by which the hook stands above the lid's rim
  brush = lip * (2 * reach + lip);  // room beside the box's rim, as far as the rim may swing out
  // greatest height of the shut rims above the axis at which the box's clears the arm
  highest_rim = brush > rise * rise ? (brush / rise + rise) / 2 : sqrt(brush);
  locked = 59.03624346792648;  // slope, from the way in, at which friction may stop the lip
  layer_share = 0.75;  // height of the thickest layer, as a share of the width of its lines
  root = hook_width / 2 + arm_length;  // from the middle of the lip to the arm's post
  keeper_width = hook_width + 2 * (slack + clearance);  // width of the ledge with its sideways play
  span = post + root + keeper_width / 2;  // length along the wall, from post to end of the ledge
  aside = (span - keeper_width) / 2;  // from the lip's middle to that of the length along the wall
  join = 0.01;  // parts that are one body reach this far into each other
  low = -clearance - ledge;
  axis_at = (keeper_height + hook_height) / 2;  // height of the hinge's axis: half of wall plus lid
  fillet = arm / 2;  // radius of the fillets at the root of the arm: half as thick as it
  behind = root + fillet;
  deep = post - fillet;
  tall = hook_height + rise;  // height of the hook, from the bed
  shut = 180;  // turn from how it prints to shut
  sweeps = shut / 2;  // steps in which a relief follows the other side
  stride = shut / sweeps;  // turn from one step of a relief to the next
  stands_out = slot + 2 * arm;  // how far the post stands out: it is twice as thick as the arm
  // room around what a relief follows: the clearance is left between steps
  room = clearance + (reach + stands_out + keeper_height + tall) * (1 - cos(stride / 2));

  module check() {  // refuses what cannot work
    parts = ["both", "fixed", "moving", "fixed_relief", "moving_relief"];
    ranges = [for (v = [  // name, value, least, most, step, unit if not mm, what else is so
      ["angle", angle, 0, 180, 1, " deg"], ["swing", swing, 15, 178, 1, " deg"],
      ["reach", reach, 15, 400, 0.5], ["keeper_height", keeper_height, 8, 200, 0.5],
      ["hook_height", hook_height, 4, 100, 0.5], ["wall", wall, 0.8, 8, 0.1],
      ["hook_width", hook_width, 3, 60, 0.5], ["lip", lip, 0.8, 6, 0.1],
      ["lead", lead, 20, 45, 1, " deg"], ["arm", arm, 0.8, 6, 0.1], ["post", post, 2, 40, 0.5],
      ["clearance", clearance, 0.15, 0.8, 0.05], ["slack", slack, 0, 2, 0.05],
      ["hold", hold, 0.3, 4, 0.1], ["strain", strain, 0.1, 40, 0.1, " %"],
      ["facets", facets, 16, 256, 4, "", " in steps of 4"], ["layer", layer, 0.04, 0.8, 0.02],
      ["line_width", line_width, 0.2, 1.2, 0.05],
      ["arm_length", arm_length, 6, 150, 0.5, " mm", ", or 0"]
    ]) [for (k = [0 : 6]) k < 5 || v[k] != undef ? v[k] : k == 5 ? " mm" : ""]];
    rules = [  // what it must be beside the other values, or else
      ["wall >=", thinnest, "it is too thin to print solid"],
      ["arm >=", thinnest, "the arm is too thin to print solid"],
      ["arm_length >=", least_arm_length, "the arm is strained further than it bears"],
      ["arm_length >=", least_arm_length_2, "the arm is a block that hardly bends"],
      ["post >=", 2 * arm, "the post bends with its arm"],
      ["arm <=", 2 * slot, "the fillet at its root has no room beside the wall"],
      ["hold <=", lip - (clearance + slack) - swerve, "the lip slips past the ledge"],
      ["keeper_height >=", rise, "the hook reaches below the box"],
      ["keeper_height <=", hook_height + 2 * reach * tan(lead),
        "the lip swings out past the slope that leads it in"],
      ["keeper_height <=", hook_height + 2 * highest_rim,
        "the box's rim strikes the arm as the lid turns"],
      ["hook_height <=", keeper_height + 2 * (reach * tan(locked - lead) - rise),
        "friction may stop the lip on its way in"],
      ["swing <=", 180 - atan(rise / reach), "the lip meets the ledge before"],
      ["layer <=", layer_share * line_width, "its lines are hardly pressed onto the layer below"]
    ];
    function told(name, value, asked) =
      str("snap_catch(): ", name, " = ", value, "; it must be ", asked, ".");
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
function snap_catch_size(name, part, angle, swing, reach = 30, keeper_height = 20, hook_height = 10,
  wall, hook_width = 8, lip = 1.6, lead = 35, arm = 2, arm_length = 0, post = 6, clearance = 0.3,
  slack = 0.3, hold, strain = 0.7, facets, layer = 0.3, line_width = 0.45) = let(
  sharp = 1.7141225883819748, rim = (keeper_height - hook_height) / 2, ramp = lip / tan(lead),
  ledge_at = rim - clearance - ramp, land = 2 * layer, outer = max(ledge_at, land - ledge_at),
  drop = sqrt(2) * clearance + layer, barb = land + ramp + drop, lip_at = rim - barb - lip,
  inner = max(0, lip_at - land, -lip_at),
  passing = sqrt(max(0, (reach + lip) * (reach + lip) + outer * outer - inner * inner)),
  bent = max(passing - reach - clearance, lip - clearance) + slack, percent = 0.01,
  least_arm_length = sqrt(sharp * arm * bent / (strain * percent)), slim = 4,
  least_arm_length_2 = slim * arm,
  arm_length = snap_catch_as_needed(arm_length, usual = 30, step = 0.5, most = 150, least =
    max(least_arm_length, least_arm_length_2)),
  axis_at = (keeper_height + hook_height) / 2, root = hook_width / 2 + arm_length,
  keeper_width = hook_width + 2 * (slack + clearance), span = post + root + keeper_width / 2,
  lines = 3, thinnest = lines * line_width,
  sizes = [
    ["axis_height", axis_at],  // height of the axis of the lid
    ["length_taken", span],  // length taken along the wall
    ["least_wall", thinnest]  // thinnest wall that prints solid
  ],
  found = [for (size = sizes) if (size[0] == name) size[1]]
) assert(found != [], str("snap_catch_size(): name = ", name, "; it must be one of ",
  [for (size = sizes) size[0]], ".")) found[0];
// What was given; for 0 the usual value, or the least on its steps that is enough.
function snap_catch_as_needed(given, usual, step, most, least, grain = 1e-06) =
  given == 0 ? min(max(usual, ceil((least - grain) / step) * step), most) : given;
