"""Drawings of bow-tie keys: a recess for each, the key itself, and the way its grain runs."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from support.goldens import assert_as_ever

from jigcam.joints import design, load_job
from jigcam.joints import kind as kind_named
from jigcam.joints.key.key import Key
from jigcam.joints.key.picture import scene_key
from jigcam.joints.key.template import KeyTemplate, key_template
from jigcam.kit import load_kit
from jigcam.units import Voice


def plan_of(path: Path, **changes: str) -> KeyTemplate:
    """Of the starter's keys; changes: lines of the joint, by key."""
    lines = kind_named("key").starter("mm").splitlines()
    for name, value in changes.items():
        lines = [f"{name} = {value}" if line.split("=")[0].strip() == name else line for line in lines]
    file = path / "key.toml"
    file.write_text("\n".join(lines) + "\n", "utf-8")
    job = load_job(file)
    key = design(job.joints[0], job)
    assert isinstance(key, Key)
    return key_template(key, load_kit("metric-shop"), voice=Voice("mm"))


def test_the_same_bytes_as_ever(tmp_path: Path) -> None:
    assert_as_ever("key", scene_key(plan_of(tmp_path)))


@pytest.mark.parametrize("angle", ["90", "60", "135"])
def test_recesses_stand_at_the_middles_of_the_keys(tmp_path: Path, angle: str) -> None:
    plan = plan_of(tmp_path, angle=angle)
    face = scene_key(plan).views[0]
    cuts = [item.shape for item in face.items if item.role == "cut"]
    assert len(cuts) == len(plan.key.centres)
    for cut, centre in zip(cuts, plan.key.centres, strict=True):
        x0, y0, x1, y1 = cut.bounds
        assert np.allclose(((x0 + x1) / 2, (y0 + y1) / 2), centre, atol=1e-3)


@pytest.mark.parametrize("angle", ["90", "60", "135"])
def test_the_key_by_itself_stands_upright_whatever_way_it_is_let_in(tmp_path: Path, angle: str) -> None:
    plan = plan_of(tmp_path, angle=angle)
    view = scene_key(plan).views[1]
    (outline,) = [item.shape for item in view.items if item.role == "stock"]
    x0, y0, x1, y1 = outline.bounds
    assert y1 - y0 == pytest.approx(plan.key.length - plan.inlay.gap, abs=0.01)
    assert x1 - x0 <= plan.key.ends + 0.01
    for line in (item.shape for item in view.items if item.role == "extension"):
        (a, _), (b, _) = line.start, line.end
        assert a == pytest.approx(b)


def test_one_key_has_no_number_and_no_spacing(tmp_path: Path) -> None:
    face = scene_key(plan_of(tmp_path, count="1")).views[0]
    assert "1" not in [label.text for label in face.labels]
    assert not any(dimension.along == "points" for dimension in face.dimensions)
