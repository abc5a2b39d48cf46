(Sheet-music cabinet - jigcam VERSION, kit: Metric shop)
(file: rail-to-post/mortise-1.nc)
(joint: rail to post, board: post, hand: as drawn)
(setup: flat, stock: 360 mm by 90 mm, 32 mm thick)
(zero: lower left corner, face)
(bit: straight 10, straight, diameter 10 mm)
(CAUTION: eye, ear and dust protection. Clamp the work. Hands off the path.)
(CAUTION: check zero, units and bit against the setup sheet. First run in air or foam.)
(Manuals of machine and bit, workplace rules and local code come first.)
(straight 10: dial at 4, 22000 rpm)
G17
G21
G40
G49
G80
G90
G94
G54
G61
G0 Z5.0000
(cut the mortise: 4 passes, along the centreline, ramped entry.)
S22000 M3
G4 P6
X85.0000 Y40.0000
Z1.5000
G1 Z0.2000 F1500
X101.7211 Z-2.1500 F3520
X85.0000 Z-4.5000
X115.0000
X98.9904 Z-6.7500
X115.0000 Z-9.0000
X85.0000
X101.0096 Z-11.2500
X85.0000 Z-13.5000
X115.0000
X98.9904 Z-15.7500
X115.0000 Z-18.0000
X85.0000
G0 Z5.0000
M5
M30
