(Sheet-music cabinet - jigcam VERSION, kit: Metric shop)
(file: corner/01-side-right-fingers.nc)
(joint: corner, board: side, hand: as drawn)
(setup: upright, end grain: 60 mm by 12 mm)
(zero: operator's left edge, outside face, end grain)
(bit: straight 10, straight, diameter 10 mm)
(CAUTION: eye, ear and dust protection. Clamp the work. Hands off the path.)
(CAUTION: check zero, units and bit against the setup sheet. First run in air or foam.)
(Manuals of machine and bit, workplace rules and local code come first.)
(side: right end up, outside face toward you)
(Clamp a backer of waste wood behind the inside face, flush with the end)
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
(cut the slots: In from the outside face, and back the same way, then each cheek in one pass of the)
(full depth.)
S22000 M3
G4 P6
X17.2000 Y-7.0000
Z1.5000
G1 Z-4.0000 F1500
Y12.5000 F3520
Y-7.0000 F4000
Z-8.0000 F1500
Y12.5000 F3520
Y-7.0000 F4000
Z-12.0000 F1500
Y12.5000 F3520
Y-7.0000 F4000
X18.8000
Y12.5000 F3520
Y-7.0000 F4000
X19.0000
Y12.5000 F3520
X18.9000 F4000
Y-7.0000
X17.0000
Y12.5000 F3520
X17.1000 F4000
G0 Z5.0000
X41.2000 Y-7.0000
Z1.5000
G1 Z-4.0000 F1500
Y12.5000 F3520
Y-7.0000 F4000
Z-8.0000 F1500
Y12.5000 F3520
Y-7.0000 F4000
Z-12.0000 F1500
Y12.5000 F3520
Y-7.0000 F4000
X42.8000
Y12.5000 F3520
Y-7.0000 F4000
X43.0000
Y12.5000 F3520
X42.9000 F4000
Y-7.0000
X41.0000
Y12.5000 F3520
X41.1000 F4000
G0 Z5.0000
M5
M30
