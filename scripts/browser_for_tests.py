"""Find a Chromium-like browser for the browser tests, or get one.

Looked for in this order: BROWSER_PATH, programs on the path, the usual places of Windows and macOS; then Debian's
package when we are root there; then the test library's own download, where there is internet.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

_PROGRAMS = (
    "chromium", "chromium-browser", "google-chrome-stable", "google-chrome", "chrome", "microsoft-edge", "msedge",
)  # fmt: skip
_PLACES = (
    "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
    "/Applications/Chromium.app/Contents/MacOS/Chromium",
    "/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge",
    r"C:\Program Files\Google\Chrome\Application\chrome.exe",
    r"C:\Program Files (x86)\Google\Chrome\Application\chrome.exe",
    r"C:\Program Files (x86)\Microsoft\Edge\Application\msedge.exe",
    r"C:\Program Files\Microsoft\Edge\Application\msedge.exe",
)


def installed_browser() -> str | None:
    """Return the path of a browser that is there, or None."""
    given = os.environ.get("BROWSER_PATH")
    if given and Path(given).exists():
        return given
    on_path = next((path for path in map(shutil.which, _PROGRAMS) if path), None)
    return on_path or next((place for place in _PLACES if Path(place).exists()), None) or _own_download()


def _own_download() -> str | None:
    """Return the test library's own browser when it was downloaded before."""
    code = "from playwright.sync_api import sync_playwright as s\nwith s() as p: print(p.chromium.executable_path)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    path = done.stdout.strip()
    return path if path and Path(path).exists() else None


def get_browser() -> str | None:
    """Return the path of a browser, installing one where we may; None when there is none to be had."""
    found = installed_browser()
    if found:
        return found
    if shutil.which("apt-get") and hasattr(os, "geteuid") and os.geteuid() == 0:
        print("no browser here; installing Debian's chromium for the browser tests ...", flush=True)
        quiet = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL, "check": False}
        environment = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
        subprocess.run(["apt-get", "update", "-qq"], env=environment, **quiet)
        subprocess.run(["apt-get", "install", "-y", "-qq", "chromium"], env=environment, **quiet)
        if found := installed_browser():
            return found
    print("no browser here; trying the test library's own download ...", flush=True)
    subprocess.run([sys.executable, "-m", "playwright", "install", "chromium"], capture_output=True, check=False)
    return installed_browser()
