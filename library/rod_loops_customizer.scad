// rod_loops_customizer.scad - opens rod_loops.scad with its values in the Customizer
// Sliders reach as far as works while the others stay; what lies beyond goes into the text.
// Needs rod_loops.scad beside it. Written by scadgen 0.2.0.
// Fingerprint of this text as written: 5dac03e3eacbbf18

use <rod_loops.scad>

/* [Part] */
// What to draw
rod_loops_part = "both";  // [both, fixed, moving, fixed_relief, moving_relief]
// Angle drawn; 0 is how it prints (deg)
rod_loops_angle = 0;  // [0:1:110]
// Turn that the hinge must be free for (deg)
rod_loops_swing = 110;  // [10:5:180]
// Turn that flat faces stop; 0 for no such stop (deg)
rod_loops_stop_at = 0;  // [0, 110, 115, 120, 125, 130, 135, 140, 145, 150, 155, 160, 165, 170, 175]
// Turn at which a detent clicks; 0 for no detent (deg)
rod_loops_detent_at = 0;  // 5
// Second turn at which it clicks; 0 for none (deg)
rod_loops_detent_also = 0;  // 5
// Turn up to which, from detent_at, friction holds it; 0: it clicks (deg)
rod_loops_detent_to = 0;  // 5
/* [Size] */
// Length of the hinge along its axis (mm)
rod_loops_length = 40;  // [18.5:0.5:200]
// Knuckles that move; one more is fixed; 0: 2 or as needed
rod_loops_knuckles = 0;  // [0:1:4]
// Height of the axis over the bed; 0: as low as it can be (mm)
rod_loops_axis_height = 0;  // [0:0.5:150]
// Height of your wall that carries raised knuckles; 0: leaf alone (mm)
rod_loops_backing = 0;  // 0.5
// Diameter of the rod (mm)
rod_loops_rod = 5;  // [3:0.5:13.5]
// Wall of a loop above the roof of its bore (mm)
rod_loops_wall = 2.4;  // [1.4:0.1:8]
/* [Fit] */
// Air gap, square to the walls (mm)
rod_loops_clearance = 0.3;  // [0.2:0.05:0.8]
// Chamfer along the bed, for the first layer's spread (mm)
rod_loops_foot = 0.4;  // [0.3:0.1:1]
// Air gap between neighbouring loops; 0: 0.4 or as needed (mm)
rod_loops_gap = 0;  // [0:0.05:1]
/* [Leaves] */
// Length of a leaf; 0 leaves a plain stub (mm)
rod_loops_leaf_length = 15;  // [0:0.5:100]
// Thickness of a leaf (mm)
rod_loops_leaf_thickness = 4;  // [1.2:0.2:11.2]
// Radius of a leaf's free corners; 0: square (mm)
rod_loops_leaf_corner = 2;  // [0:0.5:20]
// Screws that hold a leaf
rod_loops_screw = 0;  // [0:none, 1:M3, 2:M4, 3:M5]
// Screws in a leaf, if any
rod_loops_screws = 2;  // [1:1:8]
// Series of the clearance holes (ISO 273)
rod_loops_hole_series = 1;  // [0:fine, 1:medium, 2:coarse]
// Countersink for a flat head
rod_loops_head = 1;  // [0:not sunk, 1:ISO 10642, 2:wood screw]
// How far noses and bumps of a detent stand out (mm)
rod_loops_detent_height = 1.5;  // [0.8:0.1:6]
// Length of a detent's arms, from the axis (mm)
rod_loops_detent_arm = 24;  // [6:0.5:100]
// Thickness of a detent's arms (mm)
rod_loops_detent_thickness = 1.4;  // [0.8:0.1:5]
/* [Quality] */
// Facets per full turn
rod_loops_facets = 64;  // [16:4:256]
// Thickest layer that prints it (mm)
rod_loops_layer = 0.3;  // [0.04:0.02:0.32]
// Width of a printed line (mm)
rod_loops_line_width = 0.45;  // [0.4:0.05:0.8]
// Longest bridge that the printers manage (mm)
rod_loops_bridge = 10;  // [5:1:25]
/* [Hidden] */
rod_loops(part = rod_loops_part, angle = rod_loops_angle, swing = rod_loops_swing,
  stop_at = rod_loops_stop_at, detent_at = rod_loops_detent_at, detent_also = rod_loops_detent_also,
  detent_to = rod_loops_detent_to, length = rod_loops_length, knuckles = rod_loops_knuckles,
  axis_height = rod_loops_axis_height, backing = rod_loops_backing, rod = rod_loops_rod,
  wall = rod_loops_wall, clearance = rod_loops_clearance, foot = rod_loops_foot,
  gap = rod_loops_gap, leaf_length = rod_loops_leaf_length,
  leaf_thickness = rod_loops_leaf_thickness, leaf_corner = rod_loops_leaf_corner,
  screw = rod_loops_screw, screws = rod_loops_screws, hole_series = rod_loops_hole_series,
  head = rod_loops_head, detent_height = rod_loops_detent_height, detent_arm = rod_loops_detent_arm,
  detent_thickness = rod_loops_detent_thickness, facets = rod_loops_facets, layer = rod_loops_layer,
  line_width = rod_loops_line_width, bridge = rod_loops_bridge);
