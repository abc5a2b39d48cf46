(Sheet-music cabinet - jigcam VERSION, kit: Metric shop)
(file: divider/01-socket-clear.nc)
(joint: divider, board: top, hand: as drawn)
(setup: flat, stock: 300 mm by 120 mm, 20 mm thick)
(zero: lower left corner, face)
(bit: straight 8, straight, diameter 8 mm)
(CAUTION: eye, ear and dust protection. Clamp the work. Hands off the path.)
(CAUTION: check zero, units and bit against the setup sheet. First run in air or foam.)
(Manuals of machine and bit, workplace rules and local code come first.)
(straight 8: dial at 4, 22000 rpm)
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
(cut along the centreline: 2 passes, along the centreline, in from the open end.)
S22000 M3
G4 P6
X100.0000 Y125.4257
Z1.5000
G1 Z-3.6000 F1500
Y21.3500 F3520
G0 Z5.0000
Y125.4257
Z1.5000
G1 Z-7.2000 F1500
Y21.3500 F3520
G0 Z5.0000
(finish the walls: One pass of the full depth, climb.)
X100.4257 Y71.6750
Z1.5000
G1 Z0.2000 F1500
Y122.0000 Z-6.8727 F3520
G3 X100.2695 Y122.3295 Z-6.9257 I-0.4257 J0.0000
G2 X100.0000 Y122.5711 Z-6.9766 I2.5325 J3.0962
X99.7305 Y122.3295 Z-7.0274 I-2.8020 J2.8546
G3 X99.5743 Y122.0000 Z-7.0804 I0.2695 J-0.3295
G1 Y121.1490 Z-7.2000
Y21.3500
G3 X100.4257 Y21.3500 I0.4257 J0.0000
G1 Y122.0000
G3 X100.2695 Y122.3295 I-0.4257 J0.0000
G2 X100.0000 Y122.5711 I2.5325 J3.0962
X99.7305 Y122.3295 I-2.8020 J2.8546
G3 X99.5743 Y122.0000 I0.2695 J-0.3295
G1 Y121.1490
G0 Z5.0000
M5
M30
