// snap_catch_customizer.scad - opens snap_catch.scad with its values in the Customizer
// Sliders reach as far as works while the others stay; what lies beyond goes into the text.
// Needs snap_catch.scad beside it. Written by scadgen 0.2.0.
// Fingerprint of this text as written: 8bd80f7a6cb5544e

use <snap_catch.scad>

/* [Part] */
// What to draw
snap_catch_part = "both";  // [both, fixed, moving, fixed_relief, moving_relief]
// Angle drawn; 0 is how it prints, 180 is shut (deg)
snap_catch_angle = 0;  // [0:1:180]
// Turn that must be free before it snaps (deg)
snap_catch_swing = 160;  // [15:1:164]
/* [Size] */
// From the hinge's axis to the outside of the walls (mm)
snap_catch_reach = 30;  // [20:0.5:400]
// Height of the box's wall, up to its rim (mm)
snap_catch_keeper_height = 20;  // [12.5:0.5:30]
// Height of the lid's wall, up to its rim (mm)
snap_catch_hook_height = 10;  // [4:0.5:17.5]
// Thickness of the walls that carry it (mm)
snap_catch_wall = 2;  // [1.4:0.1:8]
// Width of the lip (mm)
snap_catch_hook_width = 8;  // [3:0.5:60]
// How far lip and ledge stand out (mm)
snap_catch_lip = 1.6;  // [1.1:0.1:2.4]
// Slope that leads the lip in, from upright (deg)
snap_catch_lead = 35;  // [24:1:45]
// Thickness of the arm (mm)
snap_catch_arm = 2;  // [1.4:0.1:3]
// Length of the arm, from its post to the lip; 0: 30 or as needed (mm)
snap_catch_arm_length = 0;  // [0:0.5:150]
// Length of the post that carries the arm (mm)
snap_catch_post = 6;  // [4:0.5:40]
/* [Fit] */
// Air gap, square to the walls (mm)
snap_catch_clearance = 0.3;  // [0.15:0.05:0.7]
// Play of the hinge that the lip must outlast (mm)
snap_catch_slack = 0.3;  // [0:0.05:0.7]
// Grip of the lip that is left after all play (mm)
snap_catch_hold = 0.6;  // [0.3:0.1:1]
// Strain that the plastic lives with (%)
snap_catch_strain = 0.7;  // [0.1:0.1:40]
/* [Quality] */
// Facets per full turn
snap_catch_facets = 64;  // [16:4:256]
// Thickest layer that prints it (mm)
snap_catch_layer = 0.3;  // [0.04:0.02:0.32]
// Width of a printed line (mm)
snap_catch_line_width = 0.45;  // [0.4:0.05:0.65]
/* [Hidden] */
snap_catch(part = snap_catch_part, angle = snap_catch_angle, swing = snap_catch_swing,
  reach = snap_catch_reach, keeper_height = snap_catch_keeper_height,
  hook_height = snap_catch_hook_height, wall = snap_catch_wall, hook_width = snap_catch_hook_width,
  lip = snap_catch_lip, lead = snap_catch_lead, arm = snap_catch_arm,
  arm_length = snap_catch_arm_length, post = snap_catch_post, clearance = snap_catch_clearance,
  slack = snap_catch_slack, hold = snap_catch_hold, strain = snap_catch_strain,
  facets = snap_catch_facets, layer = snap_catch_layer, line_width = snap_catch_line_width);
