"""Texts with one fault or remark each, by the rule that the reader names."""

from __future__ import annotations

OPENING = "G21 G98\nG0 X0 Y0 Z5\nF100\nS1000 M3\n"
"""Four lines without a fault: tool at (0, 0, 5), a feed, spindle turning."""

FAULTY_LINES = {
    # 3.3: what a line may hold
    "line-too-long": ["G1 X1" + " " * 252, "(" + "a" * 255 + ")"],
    "bad-character": [
        "G1 X1 ; no such comment",
        "X1 ! Y2",
        "G1 X1 %",
        "G1 X1)",
        "X1 é",
        "X1\x00",
        "G0 X1 / Y1",
        "X1-2",
        "G1 X1\rY2",
        "é",
    ],
    "line-number": ["X1 N10", "N100000 X1", "N X1", "N1.5 X1", "N-1 X1", "N1 N2 X1"],
    "unknown-letter": ["E1", "G1 X1 O100", "U1", "V1", "W1", "o1", "X1e3 Y1"],
    "bad-number": ["X1.2.3", "X", "X+", "X.", "G1 Y-.", "Xnan", "X--2", "X١", "G", "M"],
    "comment-nested": ["(one (two) three)", "G1 X1 (a(b"],
    "comment-unclosed": ["(never closed", "G1 X1 (open"],
    "comment-character": ["(caf\u00e9)", "(bell \x07)"],
    "word-repeated": ["G1 X1 X2", "F100 F200", "S1 S1", "T1 T2"],
    "same-group": [
        "G0 G1 X1",
        "G17 G18",
        "G90 G91",
        "G93 G94",
        "G20 G21",
        "G40 G41",
        "G43 G49 H1",
        "G98 G99",
        "G54 G55",
        "G61 G64",
        "G4 G10 P1 L2 X0",
        "M3 M4",
        "M7 M9",
        "M0 M30",
        "M48 M49",
    ],
    "too-many-m": ["M3 M8 M48 M6 M0"],
    "unknown-code": ["G5 X1", "G2.1 X1", "G-1 X1", "G100", "M10", "M3.5", "M-1", "G0.05 X1", "M" + "9" * 200],
    # 3.4, 3.5: axis words and the codes that use them
    "axis-words-missing": ["G0", "G1 F200", "G2 I1", "G3 J1", "G81 R1", "G38.2", "G10 L2 P1", "G92"],
    "axis-words-unused": ["G80\nX1", "G80\nF200 Y1"],
    "two-codes-use-axes": ["G1 G92 X1", "G0 G28 X1", "G2 G10 L2 P1 X1 I1", "G81 G30 Z1 R2"],
    "g80-axis-words": ["G80 X1", "G80 Z1 F2"],
    "word-unused": [
        "G1 X1 I1",
        "G0 X1 R1",
        "X1 L2",
        "G1 X1 P1",
        "G81 X1 Z1 R2 Q1",
        "G1 X1 K1",
        "G1 X1 J1",
        "D1",
        "H1",
        "G4 P1 L1",
        "G10 L2 P1 X0 R1",
    ],
    # 3.7 and elsewhere: values
    "feed-missing": ["F0\nG1 X1", "F0\nG2 X1 I0.5", "F0\nG81 Z1 R2 X0"],
    "feed-negative": ["F-1", "G1 X1 F-100", "X1 F-0.5"],
    "feed-inverse-time": ["G93 G1 X1", "G93 G1 X1 F2\nX2", "G93 G2 X1 I0.5", "G93 G1 X1 F0"],
    "speed-negative": ["S-1", "M3 S-1000"],
    "tool-number": ["T-1", "T1.5", "T100000"],
    "p-negative": ["G4 P-1"],
    "dwell-missing": ["G4"],
    "not-whole": ["G43 H1.5", "G41 D0.5 X1", "G10 L2.5 P1 X0", "G41 D-1 X1", "G81 X1 Z1 R2 L-1"],
    # 3.5.3: arcs
    "arc-end-missing": ["G2 Z1 I1", "G18 G2 Y1 I1", "G19 G2 X1 J1", "G3 Z1 R2"],
    "arc-offsets-missing": ["G2 X1", "G3 X1 Y1"],
    "arc-mixed-form": ["G2 X1 Y1 R1 I1", "G3 X1 R1 J1"],
    "arc-wrong-offset": ["G2 X2 I1 K0", "G18 G2 X2 I1 J0", "G19 G2 Y2 J1 I0", "G3 X2 R1 K1"],
    "arc-zero-radius": ["G2 X1 I0 J0", "G3 X1 R0"],
    "arc-radius-mismatch": ["G2 X2 I1.0011", "G3 X1 Y1 I0 J0.9", "G18 G2 X2 I1.5"],
    "arc-radius-too-small": ["G2 X2 R0.99", "G3 X2 Y2 R1"],
    "arc-same-point": ["G2 X0 Y0 R1", "G3 X0 R5"],
    "arc-start-unknown": ["G28\nG2 X1 I1"],
    # 3.5.5 and on: coordinate systems and offsets
    "g10-form": ["G10 L2 P0 X1", "G10 L2 P10 X1", "G10 L2 P1.5 X1", "G10 L1 P1 X1", "G10 P1 X1", "G10 L2 X1"],
    "g53-motion": ["G53 G2 X1 I0.5", "G53", "G80\nG53", "G53 G81 X1 Z1 R2"],
    "g53-incremental": ["G91 G53 G0 X1"],
    "compensation-plane": ["G18 G41 D1", "G19 G42 D1"],
    "length-offset-index": ["G43"],
    # 3.5.16: canned cycles
    "cycle-r-missing": ["G81 X1 Z1", "G81 X1 Z1 R2\nG85 X2 Z1"],
    "cycle-depth-missing": ["G81 X1 R2", "G18 G81 X1 Z1 R2"],
    "cycle-r-below-depth": ["G81 X1 Z1 R0", "G91 G81 X1 Z1 R1"],
    "cycle-repeats": ["G81 X1 Z1 R2 L0"],
    "cycle-peck": ["G83 X1 Z1 R2", "G83 X1 Z1 R2 Q0", "G83 X1 Z1 R2 Q-1"],
    "cycle-dwell-missing": ["G82 X1 Z1 R2", "G86 X1 Z1 R2", "G88 X1 Z1 R2", "G89 X1 Z1 R2"],
    "cycle-offsets-missing": ["G87 X1 Z1 R2 I1 J1"],
    "cycle-spindle": ["M5\nG84 X1 Z1 R2", "M4\nG84 X1 Z1 R2", "M5\nG86 X1 Z1 R2 P1", "M5\nG88 X1 Z1 R2 P1"],
    "cycle-inverse-time": ["G93 G81 X1 Z1 R2 F1"],
    "cycle-start-unknown": ["G28\nG81 X1 Y1 Z1 R2"],
    "cycle-too-long": ["G81 X1 Z1 R2 L99999", "G83 X1 Z-1 R2 Q0.00001"],
    # what the file does not say, so nobody can judge it from the file
    "expression-not-read": ["#1=2", "G1 X#1", "G1 X[1+2]", "X1 Y acos[0]", "G1 X1 ]"],
    "compensation-not-judged": ["G41 D1", "G42", "G1 G41 D1 X1"],
    "probe-not-judged": ["G38.2 Z-1"],
    "rotary-not-judged": ["G1 A90", "G0 X1 B1", "C1"],
}

WHOLE_FILES = {
    "program-end-missing": ["", "G21\nG0 X1\n", "M0\n", "(comment)\n"],
    "percent-unclosed": ["%\nG21\nM2\n", "%\n", "\n %\nG21\n"],
    "too-many-faults": ["Q\n" * 200],
    "cycle-retract": ["G21\nG0 X0 Y0 Z5\nF100 S1000 M3\nG81 X1 Z1 R2\nM2\n"],
}

REMARKABLE = {
    "block-delete": OPENING + "/G1 X1\nM2\n",
    "after-end": "G21\nM2\nG0 X1\n",
    "units-unstated": "G0 X1\nM2\n",
    "units-changed": OPENING + "G20\nM2\n",
    "position-unknown": OPENING + "G28\nM2\n",
    "other-zero": "G21\nG55\nG0 X0 Y0 Z5\nM2\n",
    "zero-moved": "G21\nG10 L2 P1 X0 Y0 Z0\nG0 X0 Y0 Z5\nM2\n",
}
