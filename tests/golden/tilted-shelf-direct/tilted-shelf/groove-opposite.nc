(Sheet-music cabinet - jigcam VERSION, kit: Inch shop)
(file: tilted-shelf/groove-opposite.nc)
(joint: tilted shelf, board: side, hand: opposite)
(setup: flat, stock: 558.8 mm by 285.75 mm, 23.81 mm thick)
(zero: lower right corner, face)
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
X-119.7388 Y138.1143
Z1.5000
G1 Z0.2000 F1524
X-123.9489 Y157.9209 Z-2.6458 F3040
X-139.5266 Y231.2083
G3 X-145.4966 Y229.9393 I-2.9850 J-0.6345
G1 X-105.9211 Y43.7513
G3 X-99.9511 Y45.0203 I2.9850 J0.6345
G1 X-123.9489 Y157.9209
Z-2.4458 F1524
X-128.1589 Y177.7276 Z-5.2917 F3040
X-139.5266 Y231.2083
G3 X-145.4966 Y229.9393 I-2.9850 J-0.6345
G1 X-105.9211 Y43.7513
G3 X-99.9511 Y45.0203 I2.9850 J0.6345
G1 X-128.1589 Y177.7276
Z-5.0917 F1524
X-132.3689 Y197.5343 Z-7.9375 F3040
X-139.5266 Y231.2083
G3 X-145.4966 Y229.9393 I-2.9850 J-0.6345
G1 X-105.9211 Y43.7513
G3 X-99.9511 Y45.0203 I2.9850 J0.6345
G1 X-132.3689 Y197.5343
G0 Z5.0000
(finish the walls: One pass of the full depth, climb.)
X-121.9887 Y134.3901
Z1.5000
G1 Z-7.9375 F1524
G3 X-119.5432 Y138.1559 I-0.6601 J3.1056 F3048
G1 X-139.3309 Y231.2499
G3 X-145.6922 Y229.8978 I-3.1807 J-0.6761
G1 X-106.1167 Y43.7097
G3 X-99.7554 Y45.0618 I3.1806 J0.6761
G1 X-119.5432 Y138.1559
X-119.7511 Y139.1340
G3 X-123.5168 Y141.5795 I-3.1056 J-0.6601
G0 Z5.0000
M5
M30
