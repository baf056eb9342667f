"""A browser under test: Chromium through chromedriver, by the W3C WebDriver protocol over plain HTTP.

Only the standard library is used. A browser of its own profile is started for each use and ended with it.
"""

import base64
import json
import os
import shutil
import socket
import subprocess
import sys
import tempfile
import time
import urllib.error
import urllib.request

ELEMENT = "element-6066-11e4-a52e-4f735466cecf"
KEYS = {"Tab": "\ue004", "Enter": "\ue007", "Escape": "\ue00c", "Right": "\ue014", "Down": "\ue015", "Left": "\ue012"}


def needed(command, package):
    """The path of a program; ends the run with what to install where it is missing."""
    path = shutil.which(command)
    if not path:
        sys.exit(f"{command} is missing: install it (Debian: apt-get install {package})")
    return path


class Browser:
    """A headless browser; use it in a `with`."""

    def __init__(self, width=1280, height=720, scheme="light", script=True):
        self.size, self.scheme, self.script = (width, height), scheme, script

    def __enter__(self):
        driver, chromium = needed("chromedriver", "chromium-driver"), needed("chromium", "chromium")
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            port = free.getsockname()[1]
        self.base = f"http://127.0.0.1:{port}"
        self.profile = tempfile.mkdtemp(prefix="pages-")
        self.driver = subprocess.Popen(
            [driver, f"--port={port}"], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
            env={**os.environ, "HOME": self.profile},
        )
        try:
            self._wait_for_driver()
            self.session = None
            self.session = self._start(chromium)
            self.devtools("Page.enable")
            features = [{"name": "prefers-color-scheme", "value": self.scheme}]
            self.devtools("Emulation.setEmulatedMedia", features=features)
            self.resize(*self.size)
            if not self.script:
                self.devtools("Emulation.setScriptExecutionDisabled", value=True)
        except BaseException:
            self.__exit__()
            raise
        return self

    def __exit__(self, *_):
        if getattr(self, "session", None):
            try:
                self._send("DELETE", "")
            except (OSError, RuntimeError):
                pass
        self.driver.terminate()
        self.driver.wait(20)
        shutil.rmtree(self.profile, ignore_errors=True)

    def _wait_for_driver(self):
        for _ in range(300):
            if self.driver.poll() is not None:
                raise RuntimeError("chromedriver ended at once")
            try:
                with urllib.request.urlopen(self.base + "/status", timeout=5) as answer:
                    if json.load(answer)["value"]["ready"]:
                        return
            except OSError:
                pass
            time.sleep(0.1)
        raise RuntimeError("chromedriver did not get ready")

    def _start(self, chromium):
        arguments = ["--headless=new", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage",
                     "--hide-scrollbars", f"--user-data-dir={self.profile}/profile"]
        wish = {"browserName": "chrome", "goog:loggingPrefs": {"browser": "ALL"},
                "goog:chromeOptions": {"binary": chromium, "args": arguments}}
        answer = self._request("POST", self.base + "/session", {"capabilities": {"alwaysMatch": wish}})
        return answer["sessionId"]

    def _request(self, method, url, body=None):
        data = None if method in ("GET", "DELETE") else json.dumps(body or {}).encode()
        request = urllib.request.Request(url, data, {"Content-Type": "application/json"}, method=method)
        try:
            with urllib.request.urlopen(request, timeout=120) as answer:
                return json.load(answer)["value"]
        except urllib.error.HTTPError as error:
            told = json.load(error)["value"]
            raise RuntimeError(f"{method} {url}: {told.get('error')}: {told.get('message')}") from None

    def _send(self, method, path, body=None):
        return self._request(method, f"{self.base}/session/{self.session}{path}", body)

    def devtools(self, command, **params):
        return self._send("POST", "/goog/cdp/execute", {"cmd": command, "params": params})

    def resize(self, width, height, zoom=1):
        """The window's inside in CSS pixels; `zoom` 4 is what a reader gets who enlarges to 400 %."""
        self.devtools("Emulation.setDeviceMetricsOverride", width=width, height=height, deviceScaleFactor=zoom, mobile=False)

    def open(self, path, fragment=""):
        self._send("POST", "/url", {"url": "about:blank"})
        self._send("POST", "/url", {"url": f"file://{os.path.abspath(path)}{fragment}"})

    def run(self, script, *args):
        return self._send("POST", "/execute/sync", {"script": script, "args": list(args)})

    def run_later(self, script, *args):
        """Runs a script that calls its last argument when it is done."""
        return self._send("POST", "/execute/async", {"script": script, "args": list(args)})

    def find(self, selector):
        return self._send("POST", "/element", {"using": "css selector", "value": selector})

    def click(self, selector):
        self._send("POST", f"/element/{self.find(selector)[ELEMENT]}/click")

    def press(self, *keys):
        """Presses keys one after the other, wherever the focus is."""
        actions = []
        for key in keys:
            value = KEYS.get(key, key)
            actions += [{"type": "keyDown", "value": value}, {"type": "keyUp", "value": value}]
        self._send("POST", "/actions", {"actions": [{"type": "key", "id": "keys", "actions": actions}]})

    def log(self):
        """What the browser has told on its console since the last look."""
        return [line["message"] for line in self._send("POST", "/se/log", {"type": "browser"})]

    def picture(self, path, whole=False):
        """A screenshot; `whole` takes the page down to its end."""
        shot = self.devtools("Page.captureScreenshot", format="png", captureBeyondViewport=whole, **self._clip(whole))
        with open(path, "wb") as file:
            file.write(base64.b64decode(shot["data"]))

    def _clip(self, whole):
        if not whole:
            return {}
        size = self.devtools("Page.getLayoutMetrics")["cssContentSize"]
        return {"clip": {"x": 0, "y": 0, "width": size["width"], "height": min(size["height"], 12000), "scale": 1}}

    def paper(self):
        """The page printed, as the bytes of a PDF on A4."""
        printed = self.devtools("Page.printToPDF", paperWidth=8.27, paperHeight=11.69, printBackground=False)
        return base64.b64decode(printed["data"])
