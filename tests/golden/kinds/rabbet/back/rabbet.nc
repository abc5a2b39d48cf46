(Sheet-music cabinet - jigcam VERSION, kit: Metric shop)
(file: back/rabbet.nc)
(joint: back, board: side, hand: as drawn)
(setup: flat, stock: 160 mm by 90 mm, 20 mm thick)
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
(clear the step: 2 passes, each in 2 lanes side by side, climb, the open end is met from outside,)
(so that it does not break out.)
S22000 M3
G4 P6
X167.0000 Y91.1000
Z1.5000
G1 Z-3.5000 F1500
X150.0000 F3520
X167.0000 F4000
Y87.2000
X150.0000 F3520
X167.0000 F4000
G0 Z5.0000
X20.2000 Y97.0000
Z1.5000
G1 Z-3.5000 F1500
Y91.1000 F3520
X167.0000
G0 Z5.0000
X20.2000 Y97.0000
Z1.5000
G1 Z-3.5000 F1500
Y91.1000 F4000
Y87.2000 F3520
X167.0000
G0 Z1.5000
Y91.1000
G1 Z-7.0000 F1500
X150.0000 F3520
X167.0000 F4000
Y87.2000
X150.0000 F3520
X167.0000 F4000
G0 Z5.0000
X20.2000 Y97.0000
Z1.5000
G1 Z-7.0000 F1500
Y91.1000 F3520
X167.0000
G0 Z5.0000
X20.2000 Y97.0000
Z1.5000
G1 Z-7.0000 F1500
Y91.1000 F4000
Y87.2000 F3520
X167.0000
G0 Z5.0000
(finish the shoulder: One pass of the full depth, climb, at 4000 mm a minute for its thin chips.)
Y87.0000
Z1.5000
G1 Z-7.0000 F1500
X150.0000 F4000
Y87.1000
G0 Z5.0000
X20.0000 Y97.0000
Z1.5000
G1 Z-7.0000 F1500
Y87.0000 F4000
X167.0000
G0 Z5.0000
M5
M30
