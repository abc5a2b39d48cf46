(Sheet-music cabinet - jigcam VERSION, kit: Metric shop)
(file: divider/03-divider-left-tail.nc)
(joint: divider, board: divider, hand: as drawn)
(setup: upright, end grain: 120 mm by 18 mm)
(zero: operator's left edge, outside face, end grain)
(bit: dovetail 12.7 x 8, dovetail, diameter 12.7 mm)
(CAUTION: eye, ear and dust protection. Clamp the work. Hands off the path.)
(CAUTION: check zero, units and bit against the setup sheet. First run in air or foam.)
(Manuals of machine and bit, workplace rules and local code come first.)
(divider: left end up, outside face toward you)
(Clamp a backer of waste wood against the upper edge, flush with the end)
(dovetail 12.7 x 8: dial at 4, 22000 rpm)
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
(cut the cheeks: Full depth at once, in from the lower edge and back the same way.)
S22000 M3
G4 P6
X-8.3500 Y-2.5252
Z1.5000
G1 Z-7.8000 F1500
X120.5000 F3350
X-8.3500 F4000
G0 Z1.5000
Y20.5252
G1 Z-7.8000 F1500
X120.5000 F3350
X-8.3500 F4000
G0 Z5.0000
(cut the notch: Across the board, in from the outside face, after the cheeks.)
X4.7284 Y-8.3500
Z1.5000
G1 Z-7.8000 F1500
Y18.5000 F3350
Y-8.3500 F4000
X10.6764
Y18.5000 F3350
Y-8.3500 F4000
G0 Z1.5000
X4.7284
G1 Z-7.8000 F1500
X16.6243 F4000
Y18.5000 F3350
X16.5243 F4000
Y-8.3500
G0 Z5.0000
M5
M30
