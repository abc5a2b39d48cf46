(Sheet-music cabinet - jigcam VERSION, kit: Inch shop)
(file: tilted-shelf/groove.nc)
(joint: tilted shelf, board: side, hand: as drawn)
(setup: flat, stock: 558.8 mm by 285.75 mm, 23.81 mm thick)
(zero: lower left corner, face)
(bit: straight 1/4, straight, diameter 6.35 mm)
(CAUTION: eye, ear and dust protection. Clamp the work. Hands off the path.)
(CAUTION: check zero, units and bit against the setup sheet. First run in air or foam.)
(Manuals of machine and bit, workplace rules and local code come first.)
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
(clear the waste: 3 passes, climb, from the inside out, ramped entry.)
S19000 M3
G4 P5
X119.7388 Y138.1143
Z1.5000
G1 Z0.2000 F1524
X115.5288 Y118.3076 Z-2.6458 F3040
X99.9511 Y45.0203
G3 X105.9211 Y43.7513 I2.9850 J-0.6345
G1 X145.4966 Y229.9393
G3 X139.5266 Y231.2083 I-2.9850 J0.6345
G1 X115.5288 Y118.3076
Z-2.4458 F1524
X111.3187 Y98.5010 Z-5.2917 F3040
X99.9511 Y45.0203
G3 X105.9211 Y43.7513 I2.9850 J-0.6345
G1 X145.4966 Y229.9393
G3 X139.5266 Y231.2083 I-2.9850 J0.6345
G1 X111.3187 Y98.5010
Z-5.0917 F1524
X107.1087 Y78.6943 Z-7.9375 F3040
X99.9511 Y45.0203
G3 X105.9211 Y43.7513 I2.9850 J-0.6345
G1 X145.4966 Y229.9393
G3 X139.5266 Y231.2083 I-2.9850 J0.6345
G1 X107.1087 Y78.6943
G0 Z5.0000
(finish the walls: One pass of the full depth, climb.)
X123.3089 Y140.6014
Z1.5000
G1 Z-7.9375 F1524
G3 X119.5432 Y138.1559 I-0.6601 J-3.1057 F3048
G1 X99.7554 Y45.0618
G3 X106.1167 Y43.7097 I3.1807 J-0.6760
G1 X145.6922 Y229.8978
G3 X139.3309 Y231.2499 I-3.1806 J0.6760
G1 X119.5432 Y138.1559
X119.3353 Y137.1777
G3 X121.7808 Y133.4120 I3.1056 J-0.6601
G0 Z5.0000
M5
M30
