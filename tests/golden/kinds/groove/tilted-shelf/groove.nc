(Sheet-music cabinet - jigcam VERSION, kit: Metric shop)
(file: tilted-shelf/groove.nc)
(joint: tilted shelf, board: side, hand: as drawn)
(setup: flat, stock: 240 mm by 200 mm, 20 mm thick)
(zero: lower left corner, face)
(bit: straight 10, straight, diameter 10 mm)
(CAUTION: eye, ear and dust protection. Clamp the work. Hands off the path.)
(CAUTION: check zero, units and bit against the setup sheet. First run in air or foam.)
(Manuals of machine and bit, workplace rules and local code come first.)
(CAUTION: shelf is 255 mm wide and the groove only 70 mm long, so it does not go in as it is: notch)
(185.15 mm in all from its entering end at its two edges, as you want the shelf to stand, 6 mm)
(deep, so that a tongue of 69.85 mm stays, or make the groove longer)
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
(clear the waste: 2 passes, climb, from the inside out, ramped entry.)
S22000 M3
G4 P6
X87.4386 Y81.7503
Z1.5000
G1 Z0.2000 F1500
X104.8808 Y96.3860 Z-3.0000 F3520
X109.5198 Y100.2786
G3 X108.2657 Y101.7732 I-0.6271 J0.7473
G1 X64.1033 Y64.7165
G3 X65.3574 Y63.2219 I0.6271 J-0.7473
G1 X104.8808 Y96.3860
Z-2.8000 F1500
X109.5198 Y100.2786 Z-3.6511 F3520
G3 X108.2657 Y101.7732 Z-4.0818 I-0.6271 J0.7473
G1 X97.8102 Y93.0000 Z-6.0000
X64.1033 Y64.7165
G3 X65.3574 Y63.2219 I0.6271 J-0.7473
G1 X109.5198 Y100.2786
G3 X108.2657 Y101.7732 I-0.6271 J0.7473
G1 X97.8102 Y93.0000
G0 Z5.0000
(finish the walls: One pass of the full depth, climb, at 4000 mm a minute for its thin chips.)
X85.8061 Y81.7512
Z1.5000
G1 Z-6.0000 F1500
G3 X87.5672 Y81.5971 I0.9576 J0.8034 F4000
G1 X109.6484 Y100.1254
G3 X108.1372 Y101.9264 I-0.7556 J0.9005
G1 X63.9747 Y64.8697
G3 X65.4859 Y63.0687 I0.7556 J-0.9005
G1 X87.5672 Y81.5971
X88.3332 Y82.2399
G3 X88.4873 Y84.0009 I-0.8035 J0.9575
G0 Z5.0000
M5
M30
