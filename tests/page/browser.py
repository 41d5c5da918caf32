"""A headless Chromium that opens pages from disk, and the pages that bothways makes."""
import json
import os
import subprocess
import sys
import tempfile

SKIPPED = 77

FLAGS = ["--headless=new", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
         "--disable-background-networking", "--disable-component-update", "--disable-sync", "--window-size=1100,900"]


def skip(reason):
    print("skipped: " + reason)
    sys.exit(SKIPPED)


def start():
    """The browser. Ends the test as skipped where Debian's packages are missing."""
    try:
        from selenium import webdriver
        from selenium.webdriver.chrome.options import Options
        from selenium.webdriver.chrome.service import Service
    except ImportError:
        skip("python3-selenium is not installed")
    for program in ("/usr/bin/chromium", "/usr/bin/chromedriver"):
        if not os.access(program, os.X_OK):
            skip(program + " is not installed (chromium, chromium-driver)")
    options = Options()
    options.binary_location = "/usr/bin/chromium"
    for flag in FLAGS:
        options.add_argument(flag)
    options.set_capability("goog:loggingPrefs", {"browser": "ALL"})
    return webdriver.Chrome(service=Service("/usr/bin/chromedriver"), options=options)


class Pages:
    """Makes pages in a folder of its own."""

    def __init__(self, program):
        self.program = program
        self.folder = tempfile.TemporaryDirectory(prefix="bothways-page-")

    def make(self, name, *arguments, command=("page",)):
        path = os.path.join(self.folder.name, name)
        run = subprocess.run([self.program, *command, *arguments, "-o", path], capture_output=True, text=True, check=False)
        if "without its page" in run.stderr.replace("\n ", ""):
            skip("bothways was built without its page (node-vega, esbuild)")
        if run.returncode != 0:
            raise AssertionError("bothways " + command[0] + ": " + run.stderr)
        return path

    def json(self, *arguments):
        run = subprocess.run([self.program, *arguments, "--format", "json"], capture_output=True, text=True, check=True)
        return json.loads(run.stdout)


def look(driver, path, width=1100, dark=False, media=""):
    """Opens a page at a width, light or dark."""
    driver.execute_cdp_cmd("Emulation.setEmulatedMedia", {
        "media": media, "features": [{"name": "prefers-color-scheme", "value": "dark" if dark else "light"}]})
    driver.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", {
        "width": width, "height": 900, "deviceScaleFactor": 1, "mobile": width < 500})
    driver.get("file://" + path)


def complaints(driver):
    """What the console says, but for plain remarks."""
    return [entry["message"] for entry in driver.get_log("browser") if entry["level"] in ("SEVERE", "WARNING")]
