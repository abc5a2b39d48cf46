(Sheet-music cabinet - jigcam VERSION, kit: Metric shop)
(file: corner/03-top-left-outside-of-pins.nc)
(joint: corner, board: top, hand: as drawn)
(setup: flat, stock: 300 mm by 60 mm, 15 mm thick)
(zero: lower left corner, face)
(bit: straight 10, straight, diameter 10 mm)
(CAUTION: eye, ear and dust protection. Clamp the work. Hands off the path.)
(CAUTION: check zero, units and bit against the setup sheet. First run in air or foam.)
(Manuals of machine and bit, workplace rules and local code come first.)
(top: outside face up)
(The outside face comes first, then turn the board over, end for end, its lower edge still toward)
(you, for the inside)
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
(open the sockets: In from the end, to and fro.)
S22000 M3
G4 P6
X-7.0000 Y17.9839
Z1.5000
G1 Z-4.5000 F1500
X2.5000 F3520
Y42.0161
X6.6500
Y17.9839
X10.8000
Y42.0161
Y30.0000 F4000
X-7.0000
Y18.6163
Z-9.0000 F1500
X2.5000 F3520
Y41.3837
X6.6500
Y18.6163
X10.8000
Y41.3837
Y30.0000 F4000
X-7.0000
Y19.2488
Z-13.5000 F1500
X2.5000 F3520
Y40.7512
X6.6500
Y19.2488
X10.8000
Y40.7512
Y30.0000 F4000
X-7.0000
G0 Z5.0000
(cut the floors: 8 steps of 1.69 mm, and the floors to size, the walls keep 0.2 mm and more.)
Y17.3886
Z1.5000
G1 Z-1.6875 F1500
X11.0000 F3520
Y42.6114
X-7.0000
Y42.3742 F4000
Z-3.3750 F1500
X11.0000 F3520
Y17.6258
X-7.0000
Y17.8630 F4000
Z-5.0625 F1500
X11.0000 F3520
Y42.1370
X-7.0000
Y41.8999 F4000
Z-6.7500 F1500
X11.0000 F3520
Y18.1001
X-7.0000
Y18.3373 F4000
Z-8.4375 F1500
X11.0000 F3520
Y41.6627
X-7.0000
Y41.4255 F4000
Z-10.1250 F1500
X11.0000 F3520
Y18.5745
X-7.0000
Y18.8116 F4000
Z-11.8125 F1500
X11.0000 F3520
Y41.1884
X-7.0000
Y40.9512 F4000
Z-13.5000 F1500
X11.0000 F3520
Y19.0488
X-7.0000
G0 Z5.0000
M5
M30
