(Sheet-music cabinet - jigcam VERSION, kit: Metric shop)
(file: corner/01-side-right-inside-of-tails.nc)
(joint: corner, board: side, hand: as drawn)
(setup: flat, stock: 200 mm by 60 mm, 16 mm thick)
(zero: lower left corner, face)
(bit: straight 10, straight, diameter 10 mm)
(CAUTION: eye, ear and dust protection. Clamp the work. Hands off the path.)
(CAUTION: check zero, units and bit against the setup sheet. First run in air or foam.)
(Manuals of machine and bit, workplace rules and local code come first.)
(side: inside face up)
(Run this file first, then turn the board over, end for end, its lower edge still toward you, for)
(the outside)
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
(cut the waste: In from the end, and back the same way, then the walls in one pass of the full)
(depth.)
S22000 M3
G4 P6
X-7.0000 Y5.8845
Z1.5000
G1 Z-3.0000 F1500
X9.8000 Y7.9845 F3520
X-7.0000 Y5.8845 F4000
Y4.5000
X9.8000 F3520
X-7.0000 F4000
Y6.0861
X10.0000 Y8.2111 F3520
X9.9000 Y8.0986 F4000
X-7.0000 Y5.9861
Y-7.0000
X10.0000
Y8.2111 F3520
X9.9000 Y8.0986 F4000
X-7.0000 Y5.9861
G0 Z5.0000
Y55.5000
Z1.5000
G1 Z-3.0000 F1500
X9.8000 F3520
X-7.0000 F4000
Y54.1155
X9.8000 Y52.0155 F3520
X-7.0000 Y54.1155 F4000
Y53.9139
X10.0000 Y51.7889 F3520
X9.9000 Y51.9014 F4000
X-7.0000 Y54.0139
Y67.0000
X10.0000
Y51.7889 F3520
X9.9000 Y51.9014 F4000
X-7.0000 Y54.0139
G0 Z5.0000
M5
M30
