"""A browser without a screen, driven by the Chrome DevTools Protocol over a pipe: messages end with a zero byte.

One process serves all tests of a session. Where there is no browser, whoever asks for one skips and says so.
"""

from __future__ import annotations

import base64
import contextlib
import fcntl
import json
import os
import select
import shutil
import signal
import subprocess
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

NAMES = ("chromium", "chromium-browser", "google-chrome", "chrome")
"""What the program may be called."""
PATIENCE = 90.0
"""s that an answer may take; a test that needs more has failed."""
ABOVE = 16
"""File descriptors that are given away lie above those that the browser wants, 3 and 4."""


def browser_path() -> str | None:
    """Where a browser is, None if there is none."""
    return next((found for name in NAMES if (found := shutil.which(name))), None)


class Tab:
    """One page. messages: all that it said to the console, and errors, since it was opened."""

    def __init__(self, browser: Browser, session: str, target: str) -> None:
        self._browser, self._session, self._target = browser, session, target
        self.messages: list[str] = []
        self.requests: list[str] = []

    def call(self, method: str, **params: Any) -> dict[str, Any]:
        """Ask the page's session something."""
        return self._browser.call(method, session=self._session, **params)

    def size(self, width: int, height: int, *, dark: bool = False) -> None:
        """The size of the page, and the colours that its reader prefers."""
        self.call("Emulation.setDeviceMetricsOverride", width=width, height=height, deviceScaleFactor=1, mobile=False)
        features = [{"name": "prefers-color-scheme", "value": "dark" if dark else "light"}]
        self.call("Emulation.setEmulatedMedia", features=features)

    def open(self, path: Path) -> None:
        """Load a file and wait until its script has drawn something."""
        self.messages.clear()
        self.requests.clear()
        self.call("Page.navigate", url=path.as_uri())
        self.wait("document.readyState === 'complete' && location.href.endsWith('.html')")

    def run(self, script: str) -> Any:
        """The value of an expression; a promise is waited for."""
        found = self.call("Runtime.evaluate", expression=script, returnByValue=True, awaitPromise=True)
        if "exceptionDetails" in found:
            raise AssertionError(found["exceptionDetails"].get("exception", found["exceptionDetails"]))
        return found["result"].get("value")

    def wait(self, condition: str, patience: float = PATIENCE) -> None:
        """Until an expression holds."""
        end = time.monotonic() + patience
        while not self.run(f"Boolean({condition})"):
            assert time.monotonic() < end, f"never: {condition}"
            time.sleep(0.02)

    def press(self, key: str, code: int, text: str = "") -> None:
        """A key, as a hand presses it. code: of the key in the protocol (windowsVirtualKeyCode)."""
        common = {"key": key, "code": "Space" if key == " " else key, "windowsVirtualKeyCode": code}
        self.call("Input.dispatchKeyEvent", type="keyDown", text=text, **common)
        self.call("Input.dispatchKeyEvent", type="keyUp", **common)

    def picture(self, path: Path) -> None:
        """What is on the screen, as PNG."""
        path.write_bytes(base64.b64decode(self.call("Page.captureScreenshot", format="png")["data"]))


class Browser:
    """A running browser."""

    def __init__(self, program: str, profile: Path) -> None:
        to_read, self._write = os.pipe()
        self._read, to_write = os.pipe()
        ends = [fcntl.fcntl(end, fcntl.F_DUPFD, ABOVE) for end in (to_read, to_write)]

        def hand_over() -> None:
            os.dup2(ends[0], 3)
            os.dup2(ends[1], 4)

        self._process = subprocess.Popen(
            [
                program,
                "--headless=new",
                "--no-sandbox",
                "--disable-gpu",
                "--no-first-run",
                "--disable-extensions",
                "--disable-background-networking",
                "--disable-component-update",
                f"--user-data-dir={profile}",
                "--remote-debugging-pipe",
                "about:blank",
            ],
            preexec_fn=hand_over,
            pass_fds=(3, 4),
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            start_new_session=True,
        )
        for end in (to_read, to_write, *ends):
            os.close(end)
        self._number, self._held = 0, b""
        self._tabs: dict[str, Tab] = {}

    def call(self, method: str, *, session: str | None = None, **params: Any) -> dict[str, Any]:
        """Ask, and wait for the answer; what pages say meanwhile goes to their tabs."""
        self._number += 1
        message = {"id": self._number, "method": method, "params": params}
        if session:
            message["sessionId"] = session
        os.write(self._write, json.dumps(message).encode() + b"\0")
        end = time.monotonic() + PATIENCE
        while True:
            said = self._message(end)
            if said.get("id") == self._number:
                assert "error" not in said, (method, said["error"])
                result: dict[str, Any] = said["result"]
                return result
            self._heard(said)

    def _message(self, end: float) -> dict[str, Any]:
        while b"\0" not in self._held:
            ready, _, _ = select.select([self._read], [], [], max(0.0, end - time.monotonic()))
            assert ready, "the browser does not answer"
            some = os.read(self._read, 1 << 20)
            assert some, "the browser has ended"
            self._held += some
        first, _, self._held = self._held.partition(b"\0")
        message: dict[str, Any] = json.loads(first)
        return message

    def _heard(self, said: dict[str, Any]) -> None:
        tab, params = self._tabs.get(said.get("sessionId", "")), said.get("params", {})
        if tab is None:
            return
        if said["method"] == "Runtime.consoleAPICalled":
            tab.messages.append(" ".join(str(each.get("value", each)) for each in params["args"]))
        elif said["method"] == "Runtime.exceptionThrown":
            tab.messages.append(json.dumps(params["exceptionDetails"]))
        elif said["method"] == "Log.entryAdded":
            tab.messages.append(params["entry"]["text"])
        elif said["method"] == "Network.requestWillBeSent":
            tab.requests.append(params["request"]["url"])

    def tab(self) -> Tab:
        """A new page."""
        target = self.call("Target.createTarget", url="about:blank")["targetId"]
        session = self.call("Target.attachToTarget", targetId=target, flatten=True)["sessionId"]
        self._tabs[session] = tab = Tab(self, session, target)
        for domain in ("Page", "Runtime", "Log", "Network"):
            tab.call(f"{domain}.enable")
        return tab

    def close(self) -> None:
        """Ends the browser, with all processes that it started."""
        with contextlib.suppress(AssertionError, OSError):
            self.call("Browser.close")
        for end in (self._write, self._read):
            os.close(end)
        try:
            self._process.wait(5.0)
        except subprocess.TimeoutExpired:
            os.killpg(self._process.pid, signal.SIGKILL)
            self._process.wait()


@contextlib.contextmanager
def running_browser(skip: Callable[[str], object]) -> Iterator[Browser]:
    """A browser as long as the block lasts. skip: told why, where there is none; it does not come back."""
    program = browser_path()
    if program is None:
        skip(f"no browser is installed (looked for {', '.join(NAMES)}): the page that plays the cut is not tried")
        raise AssertionError("not reached")
    with TemporaryDirectory(ignore_cleanup_errors=True) as profile:
        browser = Browser(program, Path(profile))
        try:
            yield browser
        finally:
            browser.close()
