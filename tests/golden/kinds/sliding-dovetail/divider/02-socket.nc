(Sheet-music cabinet - jigcam VERSION, kit: Metric shop)
(file: divider/02-socket.nc)
(joint: divider, board: top, hand: as drawn)
(setup: flat, stock: 300 mm by 120 mm, 20 mm thick)
(zero: lower left corner, face)
(bit: dovetail 12.7 x 8, dovetail, diameter 12.7 mm)
(CAUTION: eye, ear and dust protection. Clamp the work. Hands off the path.)
(CAUTION: check zero, units and bit against the setup sheet. First run in air or foam.)
(Manuals of machine and bit, workplace rules and local code come first.)
(set Z zero anew with dovetail 12.7 x 8 in the spindle, on the top of the stock, outside the cut,)
(leave X and Y as they are)
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
(cut the socket: Full depth at once, in at the open end and back the same way, never lifted within.)
S22000 M3
G4 P6
X100.0000 Y127.8500
Z1.5000
G1 Z-8.0000 F1500
Y21.3500 F3280
Y127.8500
G0 Z5.0000
M5
M30
