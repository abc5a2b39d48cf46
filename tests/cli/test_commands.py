"""What every command owes: quick and narrow help, exit statuses, the right stream, no colour in a pipe, any width."""

from __future__ import annotations

import json
import os
import re
import shlex
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest
from click.testing import CliRunner
from support.jobs import job_table, kit_table, toml, write_job
from support.shop import content, jigcam

from jigcam.cli import COMMANDS, main
from jigcam.errors import InputError
from jigcam.joints import kind_names

HEAVY = ("numpy", "shapely", "pydantic", "rich", "tomlkit", "tomllib", "HersheyFonts")
GROUPS = {"bushing": ("offset", "pairs", "tolerance", "test", "adjust")}
EVERY = [[], *([name] for name in COMMANDS), *([group, each] for group, some in GROUPS.items() for each in some)]
ESCAPE = re.compile(r"\x1b")


def shell(*arguments: str | Path, **environment: str) -> subprocess.CompletedProcess[bytes]:
    """The program in a process of its own, its streams pipes."""
    kept = {
        key: value
        for key, value in os.environ.items()
        if key not in ("LANG", "LC_ALL", "PYTHONUTF8", "PYTHONIOENCODING", "COLUMNS", "NO_COLOR")
    }
    return subprocess.run(
        [sys.executable, "-m", "jigcam", *map(str, arguments)],
        capture_output=True,
        check=False,
        env=kept | environment,
        timeout=120,
    )


@pytest.fixture(scope="module")
def job(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return write_job(tmp_path_factory.mktemp("job"), job_table("mm", length=60, name="Türe – 1"))


@pytest.mark.parametrize("words", EVERY, ids=" ".join)
def test_help_is_narrow_and_says_what_it_does(words: list[str]) -> None:
    run = jigcam(*words, "--help")
    assert run.status == 0
    assert run.err == ""
    assert all(len(line) <= 80 for line in run.out.splitlines())
    assert len(run.out.splitlines()) > 5
    if words and words != ["bushing"]:
        assert "--json" in run.out


@pytest.mark.parametrize("words", EVERY, ids=" ".join)
def test_help_folds_well_on_a_narrow_screen(words: list[str]) -> None:
    """Lines of 60 columns at the most, and no name broken at its hyphen: "metric-", and "shop" below it."""
    lines = CliRunner().invoke(main, [*words, "--help"], terminal_width=60).output.splitlines()
    assert max(map(len, lines)) <= 60
    assert [line for line in lines if re.search(r"\w-$", line)] == []
    assert not any("\u2011" in line for line in lines)


@pytest.mark.parametrize("words", EVERY, ids=" ".join)
def test_help_imports_nothing_heavy(words: list[str]) -> None:
    source = (
        "import sys\nfrom jigcam.cli import main\n"
        f"try:\n    main([*{words!r}, '--help'])\nexcept SystemExit:\n    pass\n"
        f"print([name for name in {HEAVY!r} if name in sys.modules])"
    )
    run = subprocess.run([sys.executable, "-c", source], capture_output=True, text=True, check=True)
    assert run.stdout.splitlines()[-1] == "[]"


def test_version_and_short_help() -> None:
    assert re.fullmatch(r"jigcam \d+\.\d+\.\d+\n", jigcam("--version").out)
    assert jigcam("-h").out == jigcam("--help").out


@pytest.mark.parametrize(
    "words",
    [
        ["mak"],
        ["make"],
        ["make", "--nonsense"],
        ["check"],
        ["prove", "x.nc"],
        ["bushing", "ofset"],
        ["start", "-o", "mine.toml"],
        ["start", "grove"],
        ["movement"],
        ["kit", "inch-shp"],
        ["bushing", "offset", "--bit", "12", "--bushing", "24"],
        ["bushing", "offset", "--bit", "wide", "--bushing", "24mm"],
        ["view", "nothing.nc"],
        ["view", "nothing.toml"],
        ["movement", "--wood", "chery", "--width", "10in"],
    ],
    ids=" ".join,
)
def test_wrong_usage_is_status_2_on_stderr(words: list[str]) -> None:
    run = jigcam(*words)
    assert run.status == 2
    assert run.out == ""
    assert run.err.strip()
    assert "Traceback" not in run.err


def test_bare_numbers_are_refused_with_the_two_ways_to_say_them() -> None:
    run = jigcam("bushing", "offset", "--bit", "12", "--bushing", "24mm")
    assert "mm" in run.err
    assert "in" in run.err
    assert jigcam("bushing", "offset", "--bit", "12", "--bushing", "24", "--units", "mm", "--json").status == 0


def test_misspelt_commands_and_names_get_the_nearest() -> None:
    assert "Did you mean 'make'?" in jigcam("mak").err
    assert "did you mean 'groove'?" in jigcam("start", "grove").err
    assert "did you mean 'case'?" in jigcam("start", "cases").err
    assert "did you mean 'black cherry'?" in jigcam("movement", "--wood", "blak chery", "--width", "10in").err


def test_movement_takes_degrees_of_either_kind() -> None:
    """A temperature of 70 was taken for °C without a word."""
    board = ("movement", "--wood", "black cherry", "--width", "10in", "--json")
    runs = [jigcam(*board, "--from", "30", t, "--to", "65", t) for t in ("70 F", "21.1111111 C", "21.1111111")]
    changes = [run.json["change_mm"] for run in runs]
    assert changes == pytest.approx([changes[0]] * 3)
    # Table 4-2, row for 70 °F (from memory): 6.2 and 12.0 %; Table 13-5: 0.00248 a point.
    assert changes[0] == pytest.approx(254.0 * 0.00248 * (12.0 - 6.2), abs=0.13)
    refused = jigcam(*board, "--from", "30", "70")
    assert refused.status == 2
    assert 'write "70 F" or "70 C"' in refused.err


def test_results_go_to_stdout_and_json_is_json(job: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    for words in (
        ["check", job],
        ["make", job, "-o", out],
        ["prove", out / "ture-1" / "groove.nc", "--job", job],
        ["view", job],
        ["view", out / "ture-1" / "groove.nc"],
        ["kit"],
        ["kit", "inch-shop"],
        ["start", "groove"],
        ["movement", "--wood", "black cherry", "--width", "10in"],
        ["bushing", "offset", "--bit", "1/2in", "--bushing", "3/4in", "--cut", "4in"],
    ):
        run = jigcam(*words)
        assert run.status == 0, run.err
        assert run.out.strip(), words
        assert run.err == "", words
        extra = ["--replace"] if words[0] == "make" else []
        told = jigcam(*words, *extra, "--json")
        assert told.status == 0
        assert json.loads(told.out)
        assert told.err == ""


def test_start_alone_lists_every_starter_in_a_line_and_says_what_to_type_next() -> None:
    """It complained of a missing argument, and did not say which there are."""
    run = jigcam("start")
    assert run.status == 0
    for name in (*kind_names(), "case", "kit"):
        assert re.search(rf"(?m)^  {name}  +[A-Z].{{20,}}$", run.out), name
    assert "next: jigcam start NAME -o mine.toml" in run.out
    assert max(map(len, run.out.splitlines())) <= 80


def test_a_command_without_its_job_says_where_jobs_come_from() -> None:
    run = jigcam("check")
    assert run.status == 2
    assert "Give the path of a job file; jigcam start lists jobs to start from" in " ".join(run.err.split())


def test_a_file_that_is_not_there_is_answered_with_the_one_beside_it(tmp_path: Path) -> None:
    (tmp_path / "shelf.toml").write_text("")
    run = jigcam("check", tmp_path / "shelve.toml")
    assert run.status == 2
    assert f"mend: did you mean {tmp_path / 'shelf.toml'}?" in " ".join(run.err.split())
    assert "did you mean" not in jigcam("check", tmp_path / "corner.toml").err


def test_view_shows_the_piece_where_the_job_is_one(tmp_path: Path) -> None:
    """It showed the joints one by one, and never what they come to."""
    case = tmp_path / "case.toml"
    assert jigcam("start", "case", "-o", case).status == 0
    titles = [each["title"] for each in jigcam("view", case, "--json").json["drawings"]]
    assert titles[:2] == ["Sheet-music case: put together", "Sheet-music case: pulled apart"]
    assert len(titles) > 4
    one = [each["title"] for each in jigcam("view", case, "--joint", "shelf", "--json").json["drawings"]]
    assert one
    assert not set(one) & set(titles[:2])


def test_make_is_the_call_that_python_makes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The same steps were written twice, once for the screen and once for Python."""
    asked: dict[str, object] = {}

    def refuse(*arguments: object, **more: object) -> None:
        asked.update(more, arguments=arguments)
        raise InputError("enough")

    monkeypatch.setattr("jigcam.workshop.calls.make", refuse)
    run = jigcam("make", "job.toml", "-o", tmp_path / "out", "--kit", "inch-shop", "--joint", "a", "--page", "--plan")
    assert (run.status, run.err) == (2, "error: enough\n")
    assert asked["arguments"] == (Path("job.toml"), "inch-shop", tmp_path / "out")
    assert {"joint": "a", "page": True, "plan": True, "replace": False}.items() <= asked.items()


def test_jigcam_alone_says_what_to_do_next_where_one_is(
    job: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """In an empty folder, beside a job, beside its files, after a change of the job, and in the midst of rubbish."""
    monkeypatch.chdir(tmp_path)
    assert "jigcam start groove -o shelf.toml" in jigcam().out
    mine = tmp_path / "my shelf.toml"
    mine.write_bytes(job.read_bytes())
    beside = jigcam().out
    assert "Where to begin" not in beside
    assert re.search(r"(?m)^ +jigcam check 'my shelf.toml' +cuts it virtually", beside)
    assert "jigcam piece" not in beside, "it has one joint"
    assert jigcam("make", mine).status == 0
    made = jigcam().out
    assert re.search(r"(?m)^ +out/ture-1/setup-sheet.txt +read this first", made)
    assert re.search(r"(?m)^ +jigcam prove out/ture-1/\S+\.nc --job 'my shelf.toml'", made)
    assert re.search(r"(?m)^ +jigcam make +'my shelf.toml' -o out --replace", made)
    later = (tmp_path / "out" / "manifest.json").stat().st_mtime + 5
    os.utime(mine, (later, later))
    assert "changed since its files in out were made" in jigcam().out
    mine.unlink()
    assert "Here are the files of a job: out" in jigcam().out
    (tmp_path / "out" / "manifest.json").write_text('{"jigcam": [1], "job": 3, "files": [{"joint": []}, 7]}')
    (tmp_path / "kit.toml").write_text('kit = "x"\n')
    (tmp_path / "folder.toml").mkdir()
    (tmp_path / "bytes.toml").write_bytes(b"\xff[[joints]]\n\x00")
    assert "Where to begin" in jigcam().out


def test_jigcam_alone_makes_a_folder_anew_as_it_was_made(
    job: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """With the kit and the paper that were asked for: the line without them turned it into a folder for other tools."""
    monkeypatch.chdir(tmp_path)
    Path("shelf.toml").write_bytes(job.read_bytes())
    Path("a friend's.toml").write_text(toml(kit_table("in")), "utf-8")
    made = jigcam("make", "shelf.toml", "-o", "friend", "--kit", "a friend's.toml", "--paper", "a4")
    assert made.status == 0, made.err
    before = content(Path("friend"))
    said = jigcam().out
    line = re.search(r"(?s)jigcam (make .* -o friend .*?--replace)", said)  # folded, where it is long
    assert line, said
    assert jigcam(*shlex.split(line[1])).status == 0
    assert content(Path("friend")) == before


def test_jigcam_alone_offers_no_folder_of_another_job(
    job: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A second job of the same piece, with the same title and names, was offered the files of the first to replace."""
    monkeypatch.chdir(tmp_path)
    first, second = tmp_path / "first.toml", tmp_path / "second.toml"
    first.write_bytes(job.read_bytes())
    assert jigcam("make", first).status == 0
    second.write_bytes(job.read_bytes())
    said = jigcam().out
    assert re.search(r"(?m)^ +jigcam make +first.toml -o out --replace", said)
    assert "second.toml -o out --replace" not in said
    assert re.search(r"(?m)^ +jigcam make +second.toml -o out-second\b", said), "out is taken"
    words = next(line.split()[1:6] for line in said.splitlines() if "make  second.toml" in line)
    assert jigcam(*words[:4]).status == 0, "what is offered works"
    assert re.search(r"(?m)^ +jigcam make +second.toml -o out-second --replace", jigcam().out)


@pytest.mark.parametrize("units", ["in", "mm"])
@pytest.mark.parametrize("name", [*kind_names(), "case"])
def test_a_starter_reminds_of_the_kit(name: str, units: str) -> None:
    kit = "metric-shop" if units == "mm" else "inch-shop"
    line = next(line for line in jigcam("start", name, "--units", units).out.splitlines() if line.startswith("kit "))
    assert f'"{kit}"' in line
    assert f"`jigcam kit {kit}`" in line
    assert "`jigcam start kit`" in line


@pytest.mark.parametrize(("units", "code"), [("in", "in writes G20"), ("mm", "mm writes G21")])
def test_the_starter_kit_writes_g_code_in_its_own_units(units: str, code: str) -> None:
    """The kit in inches asked for G-code in millimetres."""
    text = jigcam("start", "kit", "--units", units).out
    assert tomllib.loads(text)["machine"]["output_units"] == units
    assert code in text


@pytest.mark.parametrize("units", ["in", "mm"])
@pytest.mark.parametrize("kind", ["groove"])
def test_a_starter_passes_check(kind: str, units: str, tmp_path: Path) -> None:
    printed = jigcam("start", kind, "--units", units)
    assert (printed.status, printed.err) == (0, "")
    path = tmp_path / "mine.toml"
    path.write_text(printed.out, "utf-8")
    assert jigcam("check", path).status == 0
    other = tmp_path / "written.toml"
    assert jigcam("start", kind, "--units", units, "-o", other).status == 0
    assert other.read_text("utf-8") == printed.out
    again = jigcam("start", kind, "-o", other)
    assert again.status == 2
    assert other.read_text("utf-8") == printed.out


@pytest.mark.parametrize("command", ["check", "view"])
def test_any_stdout_will_do(command: str, job: Path) -> None:
    """ASCII, Latin-1 and UTF-8; whatever the encoding lacks is shown otherwise, never an error."""
    for environment in (
        {"LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"},
        {"PYTHONIOENCODING": "ascii"},
        {"PYTHONIOENCODING": "latin-1"},
        {"PYTHONIOENCODING": "utf-8"},
    ):
        run = shell(command, job, **environment)
        assert run.returncode == 0, run.stderr
        assert run.stderr == b""
        encoding = environment.get("PYTHONIOENCODING", "ascii")
        text = run.stdout.decode(encoding)
        assert not ESCAPE.search(text)
        if encoding == "utf-8":
            assert "Türe – 1" in text


@pytest.mark.parametrize("columns", [40, 57, 80, 132, 200])
def test_any_width_will_do(columns: int, job: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", str(columns))
    for command in ("check", "view"):
        run = jigcam(command, job)
        assert run.status == 0
        if command == "view":
            assert max(len(line) for line in run.out.splitlines()) <= columns


def test_colour_on_a_terminal_only_and_not_under_no_color(job: Path) -> None:
    """A pseudo-terminal shows colour, unless NO_COLOR is set (no-color.org) or the terminal is dumb."""
    pty = pytest.importorskip("pty")
    seen = {}
    for name, extra in {"plain": {}, "no": {"NO_COLOR": "1"}, "dumb": {"TERM": "dumb"}}.items():
        leader, follower = pty.openpty()
        environment = {key: value for key, value in os.environ.items() if key != "NO_COLOR"} | {"TERM": "xterm"} | extra
        run = subprocess.Popen(
            [sys.executable, "-m", "jigcam", "view", str(job)], stdout=follower, stderr=follower, env=environment
        )
        os.close(follower)
        text = b""
        while True:
            try:
                chunk = os.read(leader, 65536)
            except OSError:  # the other side was closed
                break
            if not chunk:
                break
            text += chunk
        os.close(leader)
        assert run.wait(60) == 0
        # The bar of a slow command may still move the cursor.
        seen[name] = re.search(rb"\x1b\[[0-9;]+m", text) is not None
    assert seen == {"plain": True, "no": False, "dumb": False}
    assert b"\x1b" not in shell("view", job).stdout


def test_a_reader_that_goes_away_is_no_crash(job: Path) -> None:
    """`jigcam view job | head -1`."""
    run = subprocess.Popen(
        [sys.executable, "-m", "jigcam", "view", str(job)], stdout=subprocess.PIPE, stderr=subprocess.PIPE
    )
    assert run.stdout is not None
    assert run.stderr is not None
    run.stdout.close()
    run.wait(60)
    assert b"Traceback" not in run.stderr.read()
    run.stderr.close()


@pytest.mark.parametrize("command", [("make",), ("start",), ("bushing", "test")])
def test_where_to_write_has_a_long_name_that_a_slip_is_led_to(command: tuple[str, ...]) -> None:
    """`--out`, as its default folder is called; `--output` was answered with `--joint` and `--kit`."""
    name = "mine.toml" if command == ("start",) else "mine"
    slip = jigcam(*command, "--output", name)
    assert slip.status == 2
    assert "--out" in slip.err.replace("--output", "")
