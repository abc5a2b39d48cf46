(Sheet-music cabinet - jigcam VERSION, kit: Metric shop)
(file: drawer/03-front-left-pins.nc)
(joint: drawer, board: front, hand: as drawn)
(setup: upright, end grain: 60 mm by 19 mm)
(zero: operator's left edge, outside face, end grain)
(bit: straight 10, straight, diameter 10 mm)
(CAUTION: eye, ear and dust protection. Clamp the work. Hands off the path.)
(CAUTION: check zero, units and bit against the setup sheet. First run in air or foam.)
(Manuals of machine and bit, workplace rules and local code come first.)
(front: left end up, outside face toward you)
(Nothing stands behind the inside face: from there the bit goes in)
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
(cut the sockets: In rows along the inside face, the first from outside by climb milling, each)
(further one deeper in. Then each wall in one pass of the full depth, in from the inside face.)
S22000 M3
G4 P6
X21.9401 Y26.0000
Z1.5000
G1 Z-12.0000 F1500
X21.2276 Y20.3000 F1320
X38.7724 F3645.3
X39.2349 Y16.6000 F1320
X20.7651 F3645.3
X20.3026 Y12.9000 F1320
X39.6974 F3645.3
X40.1599 Y9.2000 F1320
X19.8401 F3645.3
X38.2615 Y26.0000 F4000
X40.3865 Y9.0000 F3520
X19.6135
X19.7260 Y9.1000 F4000
X21.8385 Y26.0000
X21.7385
X19.6135 Y9.0000 F3520
X19.7260 Y9.1000 F4000
X21.8385 Y26.0000
G0 Z5.0000
M5
M30
