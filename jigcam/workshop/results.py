"""JSON Schema of what the commands print with `--json`, and of `manifest.json`: their documented shape.

`VERSION` counts changes that a reader of the old shape would not survive: a key that goes, or one that comes to mean
something else; a later program may add keys, and its own schema has them. Lengths are mm where a key ends in `_mm` or
says nothing, angles degrees (`_deg`). How a mate fits (`fit`) is each kind's own: numbers and words by name.

Source: JSON Schema, draft 2020-12.
"""

from __future__ import annotations

from typing import Any

Shape = dict[str, Any]

VERSION = 1
DIALECT = "https://json-schema.org/draft/2020-12/schema"

TEXT: Shape = {"type": "string"}
NUMBER: Shape = {"type": "number"}
WHOLE: Shape = {"type": "integer"}
YES_OR_NO: Shape = {"type": "boolean"}


def _one_of(*words: str) -> Shape:
    return {"enum": list(words)}


def _list(of: Shape, count: int | None = None) -> Shape:
    return {"type": "array", "items": of, **({"minItems": count, "maxItems": count} if count else {})}


def _or_null(shape: Shape) -> Shape:
    return {"anyOf": [shape, {"type": "null"}]}


def _by_name(of: Shape) -> Shape:
    return {"type": "object", "additionalProperties": of}


def _table(about: str = "", /, *, may: Shape | None = None, **must: Shape) -> Shape:
    """An object with the keys it must have and those that it may have, and no others."""
    return {
        **({"description": about} if about else {}),
        "type": "object",
        "properties": {**must, **(may or {})},
        "required": list(must),
        "additionalProperties": False,
    }


def _as(name: str) -> Shape:
    return {"$ref": f"#/$defs/{name}"}


MATRIX = _list(_list(NUMBER, 3), 2)
"""Two rows of three: a point's x and y in another frame, from x, y and 1."""

PARTS: dict[str, Shape] = {
    "finding": _table(
        "What a rule or the proof says.",
        level=_one_of("stop", "caution", "note"),
        rule=TEXT,
        where=TEXT,
        says=TEXT,
    ),
    "fault": _table(
        "One fault of what was given; empty text where a field does not apply.",
        what=TEXT,
        where=TEXT,
        found=TEXT,
        wanted=TEXT,
        mend=TEXT,
    ),
    "bit": _table(name=TEXT, kind=TEXT, diameter=NUMBER, angle_deg=NUMBER),
    "bushing": _table(name=TEXT, outside=NUMBER, inside=NUMBER, collar=NUMBER),
    "corner": _table("What stands in a corner for the chisel.", x=NUMBER, y=NUMBER, z=NUMBER, size_mm=NUMBER),
    "load": _table("The worst of its kind in a file.", value=NUMBER, unit=TEXT, line=WHOLE),
    "loads": {"type": "object", "additionalProperties": {"anyOf": [_as("load"), NUMBER]}},
    "fit": {"description": "How the mate fits, as cut: the kind's own facts by name.", "type": "object"},
    "guide": {
        "description": "The hand-held router that rides the template which a file mills.",
        "type": "object",
        "properties": {
            "bit": _as("bit"),
            "bushing": _as("bushing"),
            "offset": NUMBER,
            "projection": NUMBER,
            "depth": NUMBER,
            "base_supported": NUMBER,
        },
    },
    "file": _table(
        "A file of the output folder.",
        file=TEXT,
        kind=_one_of("gcode", "dry-run", "preview", "sheet", "drawing"),
        joint=TEXT,
        sha256={"type": "string", "pattern": "^[0-9a-f]{64}$"},
        may={
            "joints": _list(TEXT),
            "board": TEXT,
            "hand": _one_of("as drawn", "opposite"),
            "setup": _one_of("flat", "upright", "template"),
            "output_units": _one_of("in", "mm"),
            "bit": _as("bit"),
            "bits": _list(_as("bit")),
            "guide": _as("guide"),
            "guides": _by_name(_as("guide")),
            "end": _one_of("left", "right"),
            "face": _one_of("outside", "inside"),
            "stock": _list(NUMBER, 3),
            "zero": TEXT,
            "placement": MATRIX,
            "seconds": NUMBER,
        },
    ),
    "proof": _table(
        "What the virtual cut of a joint, or of those of one sheet, comes to.",
        joint=TEXT,
        gouge_mm=NUMBER,
        left_mm=NUMBER,
        left_for_chisel=_list(_as("corner")),
        fit=_as("fit"),
        files=_list(_table(file=TEXT, gouge_mm=NUMBER, left_mm=NUMBER, motions=WHOLE, loads=_as("loads"))),
    ),
    "layer": _table(
        "What the virtual cut comes to between two heights of the file.",
        from_z=NUMBER,
        to_z=NUMBER,
        gouge_mm=NUMBER,
        left_mm=NUMBER,
        chisel_mm=NUMBER,
        gouge_mm2=NUMBER,
        left_mm2=NUMBER,
    ),
    "pair": _table(
        "A bit and a bushing, judged for a cut.",
        bit=TEXT,
        bushing=TEXT,
        ok=YES_OR_NO,
        offset_mm=NUMBER,
        opening_mm=NUMBER,
        play_mm=NUMBER,
        chip_room_mm=NUMBER,
        corner_radius_mm=NUMBER,
        laps=WHOLE,
        measured=YES_OR_NO,
        stack=_by_name(NUMBER),
        base=_or_null(_table(fraction=NUMBER, x_mm=NUMBER, y_mm=NUMBER, tips=YES_OR_NO)),
        reasons=_list(TEXT),
    ),
    "spread": _table(
        "How far a size may come out from what is drawn; u and U after the GUM.",
        worst_mm=NUMBER,
        u_mm=NUMBER,
        U_mm=NUMBER,
        monte_carlo=_table(mean_mm=NUMBER, u_mm=NUMBER, low_mm=NUMBER, high_mm=NUMBER),
        shares=_by_name(NUMBER),
    ),
    "chances": _table("Shares of all cuts.", tight=NUMBER, right=NUMBER, loose=NUMBER),
}
"""Shapes that others are made of."""

_JOB: dict[str, Shape] = {"job": TEXT, "kit": TEXT, "units": _one_of("in", "mm")}
_PROVED: dict[str, Shape] = {"findings": _list(_as("finding")), "proof": _list(_as("proof"))}
_PLAY = {"joint": TEXT, "play_mm": _table(found=NUMBER, asked=NUMBER), "too_loose_mm": NUMBER, "fits": YES_OR_NO}

RESULTS: dict[str, Shape] = {
    "make": _table(
        "A job's files: `manifest.json`. job_file: the name of the file that the job was read from, empty for none; "
        "options: what `jigcam make` was told beside the job and the folder.",
        jigcam=TEXT,
        **_JOB,
        job_file=TEXT,
        options=_list(TEXT),
        files=_list(_as("file")),
        **_PROVED,
    ),
    "check": _table("A job that is proved and not written.", **_JOB, **_PROVED),
    "prove": _table(
        "A file on disk against its job.",
        proved=YES_OR_NO,
        file=TEXT,
        joint=TEXT,
        hand=TEXT,
        setup=TEXT,
        gouge_mm=NUMBER,
        left_mm=NUMBER,
        left_for_chisel=_list(_as("corner")),
        layers=_list(_as("layer")),
        loads=_as("loads"),
        motions=WHOLE,
        findings=_list(_as("finding")),
        fit=_as("fit"),
        may={"joints": _list(TEXT)},
    ),
    "piece": _table(
        "The boards put together. Directions are those in which boards go in, in the frame of a part's first board.",
        boards=_list(_table(name=TEXT, count=WHOLE, length_mm=NUMBER, width_mm=NUMBER, thickness_mm=NUMBER)),
        closing=_list(_table(where=TEXT, error_mm=NUMBER)),
        order=_list(
            _table(
                moves=_list(TEXT),
                onto=_list(TEXT),
                direction=_list(NUMBER, 3),
                copies=_table(moves=_list(TEXT), onto=_list(TEXT)),
            )
        ),
        cut_list=_list(
            _table(
                "Boards that are alike: finished, as sawn out, and what is done to each.",
                name=TEXT,
                count=WHOLE,
                opposite_hand=WHOLE,
                wood=_or_null(TEXT),
                sawn=_or_null(TEXT),
                grain=TEXT,
                length_mm=NUMBER,
                width_mm=NUMBER,
                thickness_mm=NUMBER,
                rough_length_mm=NUMBER,
                rough_width_mm=NUMBER,
                rough_thickness_mm=NUMBER,
                board_feet=NUMBER,
                cubic_metres=NUMBER,
                work=_list(TEXT),
            )
        ),
        findings=_list(_as("finding")),
    ),
    "view": _table(
        "Pictures of text.",
        drawings=_list(_table(title=TEXT, text=TEXT)),
        may={"findings": _list(_as("finding"))},
    ),
    "kits": _table("The kits that are shipped.", kits=_list(TEXT), folder=TEXT),
    "kit": _table(
        "A kit; rpm, mm/min, mm/s², W.",
        kit=TEXT,
        units=_one_of("in", "mm"),
        router={"type": ["object", "null"]},
        sheet={"type": ["object", "null"]},
        machine={"type": ["object", "null"]},
        bits=_list(
            _table(
                name=TEXT,
                kind=TEXT,
                diameter=NUMBER,
                angle_deg=NUMBER,
                cutting_length=NUMBER,
                overall_length=NUMBER,
                shank=NUMBER,
                flutes=WHOLE,
            )
        ),
        bushings=_list(_as("bushing")),
        pairs=_list(
            _table(bit=TEXT, bushing=TEXT, ok=YES_OR_NO, offset_mm=NUMBER, chip_room_mm=NUMBER, reasons=_list(TEXT))
        ),
    ),
    "kit-check": _table(
        "Which joints a kit makes by which way, and which more with keys that it lacks.",
        kit=TEXT,
        lacks=_list(_table(keys=TEXT, makes=_list(_table(kind=TEXT, way=TEXT)))),
        trials=_list(_table(kind=TEXT, way=TEXT, works=YES_OR_NO, why_not=_list(TEXT))),
    ),
    "starters": _table("What there is to start from.", starters=_list(_table(kind=TEXT, says=TEXT))),
    "start": _table("A starter.", kind=TEXT, units=_one_of("in", "mm"), file=_or_null(TEXT), text=TEXT),
    "next": {
        "anyOf": [
            _table(
                "Settings of the router table for the next test piece.",
                **_PLAY,
                fence_both_faces_mm=NUMBER,
                fence_one_face_mm=NUMBER,
                out_of_fence_mm=_table(sheet=NUMBER, both_faces=NUMBER, one_face=NUMBER),
                socket_deeper_mm=_or_null(NUMBER),
                play_per_mm_of_fence=_table(both_faces=NUMBER, one_face=NUMBER),
                play_per_mm_of_depth=NUMBER,
            ),
            _table("What the job is to say for it.", **_PLAY, clearance_mm=_table(now=NUMBER, next=NUMBER)),
        ]
    },
    "movement": _table(
        "A board between two states of the air.",
        wood=TEXT,
        sawn=_one_of("quarter", "rift", "flat"),
        width_mm=NUMBER,
        coefficient_per_point=NUMBER,
        moisture_percent=_list(NUMBER, 2),
        change_mm=NUMBER,
        gap_mm=NUMBER,
        outside_known_range=YES_OR_NO,
    ),
    "bushing-offset": _table(
        "Sums of a bushing and a bit.",
        offset_mm=NUMBER,
        opening_mm=_or_null(NUMBER),
        cut_mm=_or_null(NUMBER),
        least_radius_mm=NUMBER,
        pattern=YES_OR_NO,
        bit_mm=NUMBER,
        bushing_mm=NUMBER,
        feed=_one_of("clockwise", "anticlockwise"),
    ),
    "bushing-pairs": _table(
        "Every pair of a kit for each cut, and for all openings of each sheet that joints share.",
        sheets=_list(
            _table(
                sheet=TEXT,
                joints=_list(TEXT),
                chosen=_by_name(_table(bit=TEXT, bushing=TEXT)),
                reasons=_list(TEXT),
                one_pair=_list(
                    _table(
                        bit=TEXT,
                        bushing=TEXT,
                        ok=YES_OR_NO,
                        wall_mm=_or_null(NUMBER),
                        base=_or_null(NUMBER),
                        reasons=_list(TEXT),
                    )
                ),
            )
        ),
        cuts=_list(
            _table(
                cut=TEXT,
                kit=TEXT,
                width_mm=NUMBER,
                depth_mm=NUMBER,
                pairs=_list(_as("pair")),
                recess_and_plug=_list(_table(bit=TEXT, recess=TEXT, plug=TEXT)),
                sharing_one_opening=_list(_list(_table(bit=TEXT, bushing=TEXT))),
            )
        ),
    ),
    "bushing-tolerance": _table(
        "How the fit of each joint may come out.",
        kit=TEXT,
        joints=_list(
            _table(
                joint=TEXT,
                mate=TEXT,
                width_mm=NUMBER,
                bit=TEXT,
                bushing=TEXT,
                clearance_drawn_mm=NUMBER,
                least_mm=NUMBER,
                most_mm=NUMBER,
                cuts=WHOLE,
                seed=WHOLE,
                turns=YES_OR_NO,
                measured=YES_OR_NO,
                limits_mm=_by_name(NUMBER),
                sources=_by_name(TEXT),
                width=_as("spread"),
                place=_as("spread"),
                clearance=_as("spread"),
                fits=_as("chances"),
                fits_normal=_as("chances"),
                attack_first=TEXT,
            )
        ),
    ),
    "bushing-adjust": _table(
        "A correction of a kit by a test cut.",
        bit=TEXT,
        bushing=TEXT,
        date=TEXT,
        opening_mm=NUMBER,
        measured_mm=NUMBER,
        true_difference_mm=NUMBER,
        bit_diameter_mm=_or_null(NUMBER),
        nominal_difference_mm=NUMBER,
        off_mm=NUMBER,
        file=TEXT,
        written=YES_OR_NO,
    ),
    "refused": _table("Exit status 1: refused by findings.", refused=TEXT, findings=_list(_as("finding"))),
    "faults": _table("Exit status 2: what was given cannot be used.", errors=_list(_as("fault"))),
}
"""What is printed, by the command; of `make` and `bushing test` it is the manifest."""
RESULTS["bushing-test"] = {**RESULTS["make"], "description": "A test coupon's files: `manifest.json`."}


def results_schema() -> Shape:
    """The schema of all results: one of `$defs`, each under its command's name."""
    return {
        "$schema": DIALECT,
        "$id": f"urn:jigcam:results:{VERSION}",
        "title": "Results of jigcam",
        "anyOf": [_as(name) for name in RESULTS],
        "$defs": {**RESULTS, **PARTS},
    }
