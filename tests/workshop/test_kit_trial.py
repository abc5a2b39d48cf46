"""What a kit is good for agrees with what `check` says of the same starter."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest
from support.jobs import kit_table, toml
from support.shop import jigcam

from jigcam.joints import kind, kind_names
from jigcam.kit import Kit, load_kit, profiles_folder
from jigcam.workshop.kit_trial import Trial, lacks_of, trial_lines, try_kit


@pytest.fixture(scope="module")
def shop() -> dict[tuple[str, str], Trial]:
    return {(trial.kind, trial.way): trial for trial in try_kit(load_kit("inch-shop"))}


def test_the_shipped_shop_makes_every_starter_as_it_stands(shop: dict[tuple[str, str], Trial]) -> None:
    for name in kind_names():
        entry = kind(name).entry
        way = tomllib.loads(kind(name).starter("in"))["joints"][0].get("way", entry.model_fields["way"].default)
        assert shop[name, way].works, shop[name, way]
        assert shop[name, "hand"].works
    assert ("rabbet", "template") not in shop, "a rabbet has no template"


def test_what_stops_is_what_check_says(tmp_path: Path, shop: dict[tuple[str, str], Trial]) -> None:
    table = tomllib.loads(kind("mortise").starter("in"))
    table["joints"][0]["way"] = "template"
    (tmp_path / "job.toml").write_text(toml(table))
    run = jigcam("check", tmp_path / "job.toml", "--json")
    assert run.status == 1
    stops = [each["says"] for each in run.json["findings"] if each["level"] == "stop"]
    assert shop["mortise", "template"].why_not
    assert all(any(says.startswith(why) for says in stops) for why in shop["mortise", "template"].why_not)


def test_a_kit_of_hand_tools_makes_everything_by_hand_and_says_once_why_nothing_else() -> None:
    kit = Kit(kit="Hand tools", units="in")
    trials = try_kit(kit)
    assert {trial.way for trial in trials if trial.works} == {"hand"}
    assert {trial.kind for trial in trials if trial.works} == set(kind_names())
    lines = trial_lines(kit, trials, width=80)
    assert max(map(len, lines)) <= 80
    text = " ".join(" ".join(lines).split())
    assert text.count('way = "direct" cuts on a machine') == 1


def test_a_machine_without_a_vise_cuts_no_ends(tmp_path: Path) -> None:
    (tmp_path / "kit.toml").write_text(toml(kit_table("in", upright=None)))
    run = jigcam("kit", tmp_path / "kit.toml", "--check")
    assert run.status == 0, run.err
    says = " ".join(run.out.split())
    assert "cannot hold a board upright: its kit has no key upright in [machine]" in says
    assert "starter" not in says
    # And what the key would be good for, as tried with it: all kinds that cut ends, and no groove.
    (lack,) = jigcam("kit", tmp_path / "kit.toml", "--check", "--json").json["lacks"]
    assert lack["keys"] == "upright in [machine]"
    assert {"finger-joint", "half-blind-dovetail", "mortise", "sliding-dovetail"} == {
        each["kind"] for each in lack["makes"]
    }
    assert {each["way"] for each in lack["makes"]} == {"direct"}
    assert "it has no upright in [machine]: the width and thickness of the largest board" in says


def test_a_kit_of_hand_tools_is_told_what_a_machine_or_a_router_would_make() -> None:
    kit = Kit(kit="Hand tools", units="mm")
    lacks = {lack.keys: {trial.way for trial in lack.makes} for lack in lacks_of(kit, try_kit(kit))}
    assert lacks == {"[machine]": {"direct"}, "[router], no [sheet], no [[bushings]]": {"template"}}
    assert lacks_of(load_kit("inch-shop"), (Trial("mortise", "template", ("too deep",)),)) == ()


def test_a_faulty_kit_tells_its_faults_as_ever(tmp_path: Path) -> None:
    text = (profiles_folder() / "inch-shop.toml").read_text("utf-8")
    (tmp_path / "kit.toml").write_text(text.replace('kind           = "dovetail"', 'kind           = "dovetale"'))
    run = jigcam("kit", tmp_path / "kit.toml", "--check")
    assert run.status == 2
    assert "dovetale" in run.err
    assert jigcam("kit", "--check").status == 2


def test_a_dovetail_bit_of_another_angle_makes_a_sliding_dovetail_of_its_own(tmp_path: Path) -> None:
    """The starter asks for a slope, which the bit decides where it is left out: one of 14° was said to make none."""
    text = (profiles_folder() / "metric-shop.toml").read_text("utf-8")
    kit = tmp_path / "kit.toml"
    kit.write_text(re.sub(r"(?m)^angle( *)= [78]$", r"angle\1= 14", text))
    assert "14" in kit.read_text()
    trials = {(each["kind"], each["way"]): each for each in jigcam("kit", kit, "--check", "--json").json["trials"]}
    assert trials["sliding-dovetail", "direct"]["works"], trials["sliding-dovetail", "direct"]
    job = tmp_path / "job.toml"
    job.write_text(jigcam("start", "sliding-dovetail", "--kit", kit).out)
    refused = " ".join(jigcam("check", job, "--kit", kit).err.split())
    assert "leave slope out: the flanks then have the 14° of" in refused or "angle_of_flank out" in refused
    job.write_text(re.sub(r"(?m)^(slope|angle_of_flank) .*\n", "", job.read_text()))
    assert jigcam("check", job, "--kit", kit).status == 0
