"""Runs that are asked to end take away what they have begun, and end by the signal that asked them."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from support.jobs import job_table, write_job
from support.shop import content, jigcam

SLOW_DISK = """
import os, sys, time
real = os.fsync
def fsync(handle):
    real(handle)
    print("at work", flush=True)
    time.sleep(60)
os.fsync = fsync
from jigcam.cli import main
main(sys.argv[1:])
"""
"""The program on a disk so slow that every file can be waited for."""


def keyboard() -> None:
    """In a new process: signals from the keyboard count, as at a terminal; shells turn them off in the background."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)


def begun(*words: str | Path, before: Callable[[], object] | None = None) -> subprocess.Popen[bytes]:
    """The program, stopped while it writes its first file."""
    command = [sys.executable, "-c", SLOW_DISK, *map(str, words)]
    run: subprocess.Popen[bytes] = subprocess.Popen(
        command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, preexec_fn=before or keyboard
    )
    assert run.stdout is not None
    assert run.stdout.readline() == b"at work\n"
    return run


@pytest.fixture
def job(tmp_path: Path) -> Path:
    return write_job(tmp_path / "job", job_table("mm", length=60, width=12.5, receives=None))


@pytest.mark.parametrize("end", [signal.SIGTERM, signal.SIGHUP, signal.SIGINT])
@pytest.mark.parametrize("replace", [False, True])
def test_make_cleans_up(end: signal.Signals, replace: bool, tmp_path: Path, job: Path) -> None:
    out = tmp_path / "new" / "out"
    if replace:
        assert jigcam("make", job, "-o", out).status == 0
    before = content(tmp_path)
    run = begun("make", job, "-o", out, "--replace")
    assert len(list(out.parent.iterdir())) == 1 + replace
    run.send_signal(end)
    _, said = run.communicate(timeout=60)
    assert (run.returncode, said) == (-end, b"")
    assert content(tmp_path) == before
    assert {path.name for path in tmp_path.iterdir()} == {"job", "new"} - ({"new"} if not replace else set())


@pytest.mark.parametrize("end", [signal.SIGTERM, signal.SIGKILL])
def test_start_leaves_no_empty_file(end: signal.Signals, tmp_path: Path) -> None:
    run = begun("start", "groove", "-o", tmp_path / "new.toml")
    assert list(tmp_path.iterdir()) == [], "a file comes with all that is in it"
    run.send_signal(end)
    run.communicate(timeout=60)
    assert run.returncode == -end
    assert list(tmp_path.iterdir()) == []


def test_the_keyboard_ends_a_run_by_its_own_signal_and_not_by_a_status_of_refusal(tmp_path: Path) -> None:
    """A refused job is status 1; who stops a run is told nothing of that kind, and nor is the shell."""
    code = (
        "import os, signal; from jigcam.cli import main; import jigcam.workshop.loading as w;"
        "w.load_job = lambda path: os.kill(os.getpid(), signal.SIGINT); main(['check', 'job.toml'])"
    )
    run = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, timeout=60, check=False, preexec_fn=keyboard
    )
    assert (run.returncode, run.stdout, run.stderr) == (-signal.SIGINT, b"", b"\ninterrupted\n")


def test_a_hang_up_that_the_caller_ignores_stays_ignored(tmp_path: Path, job: Path) -> None:
    run = begun("make", job, "-o", tmp_path / "out", before=lambda: signal.signal(signal.SIGHUP, signal.SIG_IGN))
    run.send_signal(signal.SIGHUP)
    with pytest.raises(subprocess.TimeoutExpired):
        run.wait(timeout=1)
    os.kill(run.pid, signal.SIGTERM)
    run.communicate(timeout=60)
    assert run.returncode == -signal.SIGTERM


def test_a_kit_that_is_being_adjusted_stays_as_it_was(tmp_path: Path) -> None:
    from jigcam.kit import profiles_folder

    kit = tmp_path / "kit.toml"
    kit.write_bytes((profiles_folder() / "metric-shop.toml").read_bytes())
    before = content(tmp_path)
    pair = next(each for each in jigcam("kit", kit, "--json").json["pairs"] if each["ok"])
    offset = pair["offset_mm"]
    run = begun(
        *("bushing", "adjust", kit, "--pair", f"{pair['bit']},{pair['bushing']}"),
        *("--opening", f"{30 + 2 * offset}mm", "--measured", "30.02mm"),
    )
    run.send_signal(signal.SIGTERM)
    run.communicate(timeout=60)
    assert run.returncode == -signal.SIGTERM
    assert content(tmp_path) == before


def test_a_signal_that_a_library_swallows_is_not_lost() -> None:
    source = (
        "import os, signal\nfrom jigcam.interruption import interruptible, tidying_up\n"
        "with tidying_up():\n"
        "    try:\n        with interruptible():\n            os.kill(os.getpid(), signal.SIGTERM)\n"
        "    except BaseException:\n        print('swallowed', flush=True)\n"
        "    os.kill(os.getpid(), signal.SIGHUP)\n"
        "    print('tidied up', flush=True)\n"
        "print('went on')\n"
    )
    run = subprocess.run([sys.executable, "-c", source], capture_output=True, text=True, check=False)
    assert (run.returncode, run.stdout, run.stderr) == (-signal.SIGTERM, "swallowed\ntidied up\n", "")


AT_EACH_LINE = """
import os, shutil, signal, sys
from pathlib import Path
from attacks.writer import version
from jigcam.workshop import side_folder
from jigcam.workshop.folder import write_folder

OURS = ("folder.py", "side_folder.py", "contextlib.py", "interruption.py", "exchange.py")
root, way = Path(sys.argv[1]), sys.argv[2]
if way == "aside":
    side_folder.exchanged = lambda one, other: False

def asked_to_end_at(place, line):
    seen = 0
    def trace(frame, event, arg):
        nonlocal seen
        if not frame.f_code.co_filename.endswith(OURS):
            return None
        if event == "line":
            seen += 1
            if seen == line:
                os.kill(os.getpid(), signal.SIGTERM)
        return trace
    sys.settrace(trace)
    write_folder(place / "new" / "out" if way == "new" else place / "out", version(1), replace=True)
    sys.settrace(None)
    os._exit(0 if seen < line else 3)

line = 0
while True:
    line += 1
    place = root / str(line)
    place.mkdir()
    if way != "new":
        write_folder(place / "out", version(0))
    child = os.fork()
    if not child:
        asked_to_end_at(place, line)
    status = os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
    there = sorted(str(path.relative_to(place)) for path in place.iterdir())
    if status == 0:
        break
    if status != -signal.SIGTERM or there not in (([], ["new"]) if way == "new" else (["out"],)):
        print(f"line {line}: status {status}, {there}")
    if there == ["new"] and [path.name for path in (place / "new").iterdir()] != ["out"]:
        print(f"line {line}: {list((place / 'new').iterdir())}")
    shutil.rmtree(place)
print("done after more than 100 lines" if line > 100 else f"done after {line} lines")
"""
"""Folders written by processes of which each is asked to end one line of our code later than the one before it."""


@pytest.mark.parametrize("way", ["exchange", "aside", "new"])
def test_nothing_is_left_at_whatever_line_the_signal_comes(way: str, tmp_path: Path) -> None:
    """A signal between the working folder and the word that it is ours left that folder behind."""
    run = subprocess.run(
        [sys.executable, "-c", AT_EACH_LINE, str(tmp_path), way],
        capture_output=True,
        text=True,
        check=False,
        env={"PYTHONPATH": ":".join(sys.path)},
    )
    assert (run.stdout, run.stderr) == ("done after more than 100 lines\n", "")
