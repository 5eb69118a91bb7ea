"""A small client of the WebDriver protocol (W3C Recommendation, https://www.w3.org/TR/webdriver1/) for chromedriver."""

import base64
import json
import socket
import subprocess
import time
import urllib.error
import urllib.request

ELEMENT = "element-6066-11e4-a52e-4f735466cecf"  # section 12.1: the web element identifier


def free_port():
    with socket.socket() as s:
        s.bind(("127.0.0.1", 0))
        return s.getsockname()[1]


class Browser:
    def __init__(self, width=1366, height=768, scripts=True, dark=False):
        self.base = f"http://127.0.0.1:{free_port()}"
        self.process = subprocess.Popen(["chromedriver", "--port=" + self.base.rsplit(":", 1)[1]], stdout=subprocess.DEVNULL,
                                        stderr=subprocess.DEVNULL)
        options = {
            "binary": "/usr/bin/chromium",
            # No sandbox: tests may run as root in a container. No network of any kind.
            "args": ["--headless=new", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--hide-scrollbars",
                     f"--window-size={width},{height}"] + (["--force-dark-mode"] if dark else []),
            "prefs": {} if scripts else {"profile.managed_default_content_settings.javascript": 2},
        }
        capabilities = {"browserName": "chrome", "goog:chromeOptions": options,
                        "goog:loggingPrefs": {"browser": "ALL", "performance": "ALL"}}
        self.session = ""
        try:
            self.wait_for_driver()
            made = self.send("POST", "/session", {"capabilities": {"alwaysMatch": capabilities}})
            self.session = "/session/" + made["sessionId"]
        except BaseException:
            self.process.terminate()
            raise

    def wait_for_driver(self):
        for _ in range(100):
            try:
                self.send("GET", "/status")
                return
            except (urllib.error.URLError, ConnectionError):
                time.sleep(0.1)
        raise RuntimeError("chromedriver does not answer")

    def __enter__(self):
        return self

    def __exit__(self, *_):
        try:
            self.send("DELETE", self.session)
        finally:
            self.process.terminate()
            self.process.wait(20)

    def send(self, method, path, body=None):
        data = json.dumps(body).encode() if body is not None else None
        request = urllib.request.Request(self.base + path, data, {"Content-Type": "application/json"}, method=method)
        try:
            with urllib.request.urlopen(request, timeout=120) as answer:
                return json.load(answer)["value"]
        except urllib.error.HTTPError as error:
            raise RuntimeError(error.read().decode(errors="replace")[:2000]) from error

    def call(self, method, path, body=None):
        return self.send(method, self.session + path, body)

    def open(self, path):
        self.call("POST", "/url", {"url": "file://" + str(path)})

    def run(self, script, *args):
        return self.call("POST", "/execute/sync", {"script": script, "args": list(args)})

    def find(self, selector):
        found = self.call("POST", "/elements", {"using": "css selector", "value": selector})
        return [e[ELEMENT] for e in found]

    def type(self, element, keys):
        self.call("POST", f"/element/{element}/value", {"text": keys})

    def click(self, element):
        self.call("POST", f"/element/{element}/click", {})

    def log(self, kind):
        return self.call("POST", "/se/log", {"type": kind})

    def picture(self, element, path):
        with open(path, "wb") as file:
            file.write(base64.b64decode(self.call("GET", f"/element/{element}/screenshot")))

    def printed(self, width_cm, height_cm):
        page = {"page": {"width": width_cm, "height": height_cm}, "background": True}
        return base64.b64decode(self.call("POST", "/print", page))
