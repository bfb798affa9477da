// break_away_link_customizer.scad - opens break_away_link.scad with its values in the Customizer
// Sliders reach as far as works while the others stay; what lies beyond goes into the text.
// Needs break_away_link.scad beside it. Written by scadgen 0.2.0.
// Fingerprint of this text as written: d13038e924c30bb2

use <break_away_link.scad>

/* [Part] */
// What to draw
break_away_link_part = "both";  // [both, fixed, moving, fixed_relief, moving_relief]
// Angle drawn; 0 is how it prints (deg)
break_away_link_angle = 0;  // [-15:1:15]
// Bend, either way, by which the webs have snapped (deg)
break_away_link_swing = 15;  // [5:1:26]
/* [Size] */
// Thickness of the parts (mm)
break_away_link_thickness = 3;  // [0.9:0.1:5]
// Solid border at either end, to join to a part (mm)
break_away_link_border = 12;  // [2.5:0.5:100]
// Length of the edge along which the webs stand (mm)
break_away_link_edge = 60;  // [12:0.5:300]
// Gap between the parts (mm)
break_away_link_gap = 1.5;  // [1:0.1:10]
// Webs along the edge
break_away_link_webs = 3;  // [1:1:15]
// Width of a web (mm)
break_away_link_web_width = 1.6;  // [0.9:0.1:10]
// Thickness of a web (mm)
break_away_link_web = 0.9;  // [0.6:0.05:3]
// Thickness that a score line leaves of a web (mm)
break_away_link_left = 0.5;  // [0.2:0.05:0.75]
// Depth of the recess around the root of a web; 0: 1.2 or as needed (mm)
break_away_link_recess = 0;  // [0:0.1:6]
/* [Fit] */
// Air gap, square to the walls (mm)
break_away_link_clearance = 0.3;  // [0.15:0.05:0.8]
// Strength of the plastic, strong end (MPa)
break_away_link_strength = 60;  // [5:5:120]
// Push at the far edge of a part that snaps it (N)
break_away_link_effort = 20;  // [2:1:60]
/* [Quality] */
// Facets per full turn
break_away_link_facets = 64;  // [16:4:256]
// Thickest layer that prints it (mm)
break_away_link_layer = 0.3;  // [0.04:0.02:0.32]
// Width of a printed line (mm)
break_away_link_line_width = 0.45;  // [0.4:0.05:0.8]
/* [Hidden] */
break_away_link(part = break_away_link_part, angle = break_away_link_angle,
  swing = break_away_link_swing, thickness = break_away_link_thickness,
  border = break_away_link_border, edge = break_away_link_edge, gap = break_away_link_gap,
  webs = break_away_link_webs, web_width = break_away_link_web_width, web = break_away_link_web,
  left = break_away_link_left, recess = break_away_link_recess,
  clearance = break_away_link_clearance, strength = break_away_link_strength,
  effort = break_away_link_effort, facets = break_away_link_facets, layer = break_away_link_layer,
  line_width = break_away_link_line_width);
