(Sheet-music cabinet - jigcam VERSION, kit: Metric shop)
(file: corner/05-top-left-pins.nc)
(joint: corner, board: top, hand: as drawn)
(setup: flat, stock: 300 mm by 60 mm, 15 mm thick)
(zero: lower right corner, face)
(bit: dovetail 12.7 x 8, dovetail, diameter 12.7 mm)
(CAUTION: eye, ear and dust protection. Clamp the work. Hands off the path.)
(CAUTION: check zero, units and bit against the setup sheet. First run in air or foam.)
(Manuals of machine and bit, workplace rules and local code come first.)
(set Z zero anew with dovetail 12.7 x 8 in the spindle, on the top of the stock, outside the cut,)
(leave X and Y as they are)
(top: inside face up)
(The outside face has been opened first, lay the board on a flat spoilboard)
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
(cut the walls: Full depth at once, in from the end and back the same way, never lifted in a)
(socket.)
S22000 M3
G4 P6
X8.3500 Y18.2995
Z1.5000
G1 Z-15.0000 F1500
X-9.5500 F1910
Y18.3995 F4000
X8.3500
Y41.7005
X-9.5500 F1910
Y41.6005 F4000
X8.3500
G0 Z5.0000
M5
M30
