(Sheet-music cabinet - jigcam VERSION, kit: Metric shop)
(file: corner/04-top-left-web-of-pins.nc)
(joint: corner, board: top, hand: as drawn)
(setup: flat, stock: 300 mm by 60 mm, 15 mm thick)
(zero: lower right corner, face)
(bit: straight 10, straight, diameter 10 mm)
(CAUTION: eye, ear and dust protection. Clamp the work. Hands off the path.)
(CAUTION: check zero, units and bit against the setup sheet. First run in air or foam.)
(Manuals of machine and bit, workplace rules and local code come first.)
(top: inside face up)
(The outside face has been opened first, lay the board on a flat spoilboard)
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
(open the web: In from the end, to and fro.)
S22000 M3
G4 P6
X7.0000 Y19.4596
Z1.5000
G1 Z-2.0000 F1500
X-2.5000 F3520
Y40.5404
X-6.6500
Y19.4596
X-10.8000
Y40.5404
Y30.0000 F4000
X7.0000
G0 Z5.0000
(cut the floors: One pass of the full depth, in from the end.)
Y19.2596
Z1.5000
G1 Z-2.0000 F1500
X-11.0000 F3520
Y40.7404
X-10.9000 Y40.6404 F4000
X7.0000
Y40.7404
X-11.0000 F3520
X-10.9000 Y40.6404 F4000
X7.0000
G0 Z5.0000
M5
M30
