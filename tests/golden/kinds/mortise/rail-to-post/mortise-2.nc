(Sheet-music cabinet - jigcam VERSION, kit: Metric shop)
(file: rail-to-post/mortise-2.nc)
(joint: rail to post, board: rail, hand: as drawn)
(setup: upright, end grain: 80 mm by 28 mm)
(zero: operator's left edge, outside face, end grain)
(bit: straight 10, straight, diameter 10 mm)
(CAUTION: eye, ear and dust protection. Clamp the work. Hands off the path.)
(CAUTION: check zero, units and bit against the setup sheet. First run in air or foam.)
(Manuals of machine and bit, workplace rules and local code come first.)
(rail: left end up, outside face toward you)
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
(cut the mortise: 5 passes, along the centreline, ramped entry.)
S22000 M3
G4 P6
X25.0000 Y14.0000
Z1.5000
G1 Z0.2000 F1500
X41.3654 Z-2.1000 F3520
X25.0000 Z-4.4000
X55.0000
X39.3462 Z-6.6000
X55.0000 Z-8.8000
X25.0000
X40.6538 Z-11.0000
X25.0000 Z-13.2000
X55.0000
X39.3462 Z-15.4000
X55.0000 Z-17.6000
X25.0000
X40.6538 Z-19.8000
X25.0000 Z-22.0000
X55.0000
G0 Z5.0000
M5
M30
