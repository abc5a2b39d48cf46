"""What is true of every output folder, whatever the job: the contract of the manifest, every file read twice."""

from __future__ import annotations

import hashlib
import json
import tomllib
from pathlib import Path
from typing import Any

from support.outside_cut import RIDE_ERROR, SWEEP_ERROR, Verdict, Wanted, judge
from support.pygcode_reader import assert_pygcode_agrees
from support.shop import content

import jigcam

GOUGE, LEFT = 0.005, 0.010
"""mm: how far a cut may reach beyond its drawing, and how thick what it leaves may be."""

TOP = ["jigcam", "job", "job_file", "options", "kit", "units", "files", "findings", "proof"]
OF_EVERY_FILE = {"file", "kind", "joint", "sha256"}
OF_G_CODE = OF_EVERY_FILE | {"board", "hand", "setup", "output_units", "bit", "stock", "zero", "placement", "seconds"}
EXTRA = {"guide", "bits"}
"""Keys beyond the contract, for templates and for files with several bits."""
LONGEST_LINE = 256
"""Letters of a line, NISTIR 6556 section 3.3."""


def assert_folder_is_right(folder: Path, job: Path, kit: dict[str, Any]) -> dict[str, Verdict]:
    """Manifest, files, both readers, the proof's own numbers and the outside check; returns the outside verdicts."""
    table = tomllib.loads(job.read_text("utf-8"))
    manifest = json.loads((folder / "manifest.json").read_text("utf-8"))
    assert_manifest_is_right(manifest, folder, table, kit)
    for entry in manifest["files"]:
        if entry["kind"] in ("gcode", "dry-run"):
            assert_text_is_right((folder / entry["file"]).read_bytes(), entry, kit)
    for proof in manifest["proof"]:
        assert proof["gouge_mm"] <= GOUGE
        assert proof["left_mm"] <= LEFT
    verdicts = judge(folder, job)
    assert verdicts
    for where, verdict in verdicts.items():
        error = RIDE_ERROR if "template" in where else SWEEP_ERROR
        assert verdict.gouge <= GOUGE + error, where
        assert verdict.left <= LEFT + error, where
    return verdicts


def assert_manifest_is_right(manifest: dict[str, Any], folder: Path, job: dict[str, Any], kit: dict[str, Any]) -> None:
    """Its keys are those of the contract, and what they say is so."""
    assert list(manifest) == TOP
    assert manifest["jigcam"] == jigcam.__version__
    assert (manifest["job"], manifest["kit"], manifest["units"]) == (job["job"], kit["kit"], job["units"])
    there = content(folder)
    assert sorted(there) == sorted(["manifest.json", *(entry["file"] for entry in manifest["files"])])
    joints = {joint["name"]: joint for joint in job["joints"]}
    for entry in manifest["files"]:
        assert entry["kind"] in ("gcode", "dry-run", "preview", "sheet", "drawing")
        assert hashlib.sha256(there[entry["file"]]).hexdigest() == entry["sha256"]
        joint = joints[entry["joint"]]
        if entry["kind"] not in ("gcode", "dry-run"):
            assert set(entry) == OF_EVERY_FILE
            continue
        assert set(entry) - EXTRA == OF_G_CODE
        assert entry["board"] == joint["board"]
        assert entry["hand"] in ("as drawn", "opposite")
        assert entry["output_units"] == kit["machine"].get("output_units", "mm")
        assert entry["bit"]["name"] in [bit["name"] for bit in kit["bits"]]
        assert len(entry["stock"]) == 3
        assert entry["seconds"] > 0
        template = joint.get("way", "template") == "template"
        assert entry["setup"] == ("template" if template else "flat")
        if not template:
            board = Wanted.of(job, joint["name"]).board
            assert [round(size, 4) for size in board] == [round(size, 4) for size in entry["stock"]]
    for finding in manifest["findings"]:
        assert set(finding) == {"level", "rule", "where", "says"}
        assert finding["level"] in ("caution", "note")
        assert finding["says"]
        assert finding["rule"] == finding["rule"].lower()
        assert " " not in finding["rule"]
    for proof in manifest["proof"]:
        assert {"joint", "gouge_mm", "left_mm", "left_for_chisel", "fit"} <= set(proof)
    hands = {entry["hand"] for entry in manifest["files"] if entry["kind"] == "gcode" and entry["setup"] == "flat"}
    for joint in job["joints"]:
        if joint.get("way", "template") == "direct":
            assert hands == ({"as drawn", "opposite"} if joint.get("opposite_hand") else {"as drawn"})


def assert_text_is_right(raw: bytes, entry: dict[str, Any], kit: dict[str, Any]) -> None:
    """A G-code file as the standard has it, read alike by two readers, within the machine."""
    text = raw.decode("ascii")
    assert all(line == line.upper() for line in _bare(text))
    assert all(0 < len(line) <= LONGEST_LINE for line in text.splitlines())
    assert text.endswith("\n")
    reading = assert_pygcode_agrees(text)
    assert reading.units == entry["output_units"]
    words = " ".join(_bare(text))
    for omitted in kit["machine"].get("omit", []):
        assert omitted not in words.split()
    if not kit["machine"].get("arcs", True):
        assert not {"G2", "G3"} & set(words.split())
    tool_words = {"automatic": "M6", "pause": "M0"}
    if kit["machine"].get("tool_change", "file-per-bit") == "file-per-bit":
        assert not any(word in words.split() for word in tool_words.values())
        assert "bits" not in entry


def _bare(text: str) -> list[str]:
    """Lines without their comments."""
    return [line.split("(")[0].strip() for line in text.splitlines()]
