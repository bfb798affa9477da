// sheet_flexure_customizer.scad - opens sheet_flexure.scad with its values in the Customizer
// Sliders reach as far as works while the others stay; what lies beyond goes into the text.
// Needs sheet_flexure.scad beside it. Written by scadgen 0.2.0.
// Fingerprint of this text as written: 71501790428b7c3b

use <sheet_flexure.scad>

/* [Part] */
// What to draw
sheet_flexure_part = "both";  // [both, fixed, moving, fixed_relief, moving_relief]
// Angle drawn; 0 is how it prints (deg)
sheet_flexure_angle = 0;  // [-90:1:90]
// Fold upwards that it must be free for (deg)
sheet_flexure_swing = 90;  // [10:5:180]
// Fold downwards that it must be free for (deg)
sheet_flexure_swing_down = 90;  // [10:5:180]
/* [Size] */
// Thickness of the leaves (mm)
sheet_flexure_thickness = 3;  // [1.6:0.1:10]
// Solid border at either end, to join to a part (mm)
sheet_flexure_border = 12;  // [2:0.5:100]
// Width of the sheet, along the fold (mm)
sheet_flexure_sheet_width = 40;  // [3:0.5:300]
// Thickness of the web (mm)
sheet_flexure_web = 0.6;  // [0.6:0.6:1.8]
// Length of the web that bends; 0: 10 or as needed (mm)
sheet_flexure_web_length = 0;  // [0:0.5:200]
// Fillet from the web into a leaf (mm)
sheet_flexure_fillet = 1;  // [0.2:0.1:2.4]
/* [Fit] */
// Air gap, square to the walls (mm)
sheet_flexure_clearance = 0.3;  // [0.15:0.05:0.8]
// Strain that the plastic lives with (%)
sheet_flexure_strain = 5;  // [0.5:0.5:40]
/* [Quality] */
// Facets per full turn
sheet_flexure_facets = 64;  // [16:4:256]
// Thickest layer that prints it (mm)
sheet_flexure_layer = 0.3;  // [0.04:0.02:0.32]
// Width of a printed line (mm)
sheet_flexure_line_width = 0.45;  // [0.4:0.05:1.2]
// Straight segments that a bend is drawn in
sheet_flexure_segments = 24;  // [8:1:120]
/* [Hidden] */
sheet_flexure(part = sheet_flexure_part, angle = sheet_flexure_angle, swing = sheet_flexure_swing,
  swing_down = sheet_flexure_swing_down, thickness = sheet_flexure_thickness,
  border = sheet_flexure_border, sheet_width = sheet_flexure_sheet_width, web = sheet_flexure_web,
  web_length = sheet_flexure_web_length, fillet = sheet_flexure_fillet,
  clearance = sheet_flexure_clearance, strain = sheet_flexure_strain, facets = sheet_flexure_facets,
  layer = sheet_flexure_layer, line_width = sheet_flexure_line_width,
  segments = sheet_flexure_segments);
