(Sheet-music cabinet - jigcam VERSION, kit: Metric shop)
(file: corner/03-top-left-pins.nc)
(joint: corner, board: top, hand: as drawn)
(setup: upright, end grain: 60 mm by 15 mm)
(zero: operator's left edge, outside face, end grain)
(bit: straight 10, straight, diameter 10 mm)
(CAUTION: eye, ear and dust protection. Clamp the work. Hands off the path.)
(CAUTION: check zero, units and bit against the setup sheet. First run in air or foam.)
(Manuals of machine and bit, workplace rules and local code come first.)
(top: left end up, outside face toward you)
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
(cut the sockets: In rows along the outside face, the first from outside by climb milling, each)
(further one deeper in. Then each wall in one pass of the full depth, in from the outside face.)
S22000 M3
G4 P6
X43.6849 Y-7.0000
Z1.5000
G1 Z-8.0000 F1500
X42.9894 Y-1.4359 F1320
X17.0106 F3674.7
X17.4561 Y2.1282 F1320
X42.5439 F3674.7
X42.0984 Y5.6923 F1320
X17.9016 F3674.7
X18.3471 Y9.2564 F1320
X41.6529 F3674.7
X41.2074 Y12.8206 F1320
X18.7926 F3674.7
X43.6849 Y-7.0000 F4000
Z-16.0000 F1500
X42.9894 Y-1.4359 F1320
X17.0106 F3674.7
X17.4561 Y2.1282 F1320
X42.5439 F3674.7
X42.0984 Y5.6923 F1320
X17.9016 F3674.7
X18.3471 Y9.2564 F1320
X41.6529 F3674.7
X41.2074 Y12.8206 F1320
X18.7926 F3674.7
X19.3926 F4000
X16.9151 Y-7.0000
X16.1135
X19.0035 Y16.1202 F3520
X19.1035 F4000
X43.8865 Y-7.0000
X40.9965 Y16.1202 F3520
X40.8965 F4000
G0 Z5.0000
M5
M30
