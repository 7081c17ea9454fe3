"""A real browser with the screen of a small phone, which can be closed and started cold with what it kept."""

import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

from selenium import webdriver
from selenium.common.exceptions import StaleElementReferenceException
from selenium.webdriver.chrome.options import Options
from selenium.webdriver.chrome.service import Service
from selenium.webdriver.remote.webdriver import WebDriver
from selenium.webdriver.support.ui import WebDriverWait

T = TypeVar("T")

BROWSER = shutil.which("chromium") or ""
DRIVER = shutil.which("chromedriver") or ""

# What the console says when the app looks for news and there is no server: the normal case in the field.
NO_NEWS = "An unknown error occurred when fetching the script"
# What it says when the page itself asks a server that is not there; tests that want so add it to `expected`.
NO_SERVER = "net::ERR_CONNECTION_REFUSED"

FLAGS = (
    "--headless=new",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--disable-site-isolation-trials",
)


# The browser speaks American, whose habit is inches; who holds this phone measures in millimetres.
MILLIMETRES = """
try {
  localStorage.getItem('underchassis-lengths') ?? localStorage.setItem('underchassis-lengths', 'mm');
} catch {
  // A page without storage shows no lengths.
}
"""


class Phone:
    """A browser and its profile; `expected` holds the console errors that a test provokes."""

    def __init__(self, profile: Path, width: int = 360, height: int = 640, scripts: bool = True) -> None:
        self.profile = profile
        self.scripts = scripts
        self.size = (width, height)
        self.expected = [NO_NEWS]
        self._errors: list[str] = []
        self._lasting: list[str] = [MILLIMETRES]
        self._scripts: list[str] = []
        self._driver: WebDriver | None = self._started()
        self._run_before_pages(MILLIMETRES)

    @property
    def driver(self) -> WebDriver:
        """The running browser; AssertionError when it has been closed."""
        assert self._driver, "the browser is closed"
        return self._driver

    def cold_start(self) -> None:
        """Close the browser, if it runs, and start it again with everything it had stored."""
        self.close()
        self._driver = self._started()
        self._scripts = []
        for script in self._lasting:
            self._run_before_pages(script)

    def before_each_page(self, script: str) -> None:
        """Run a script in every page of this tab before the page's own, until `clear` or the end."""
        self._scripts.append(self._run_before_pages(script))

    def always_before_pages(self, script: str) -> None:
        """Run a script before the page's own in every page of the first tab, after a cold start too."""
        self._lasting.append(script)
        self._run_before_pages(script)

    def clear(self) -> None:
        """Leave the app, close further tabs, and forget what a test emulated, expected, ran and provoked."""
        first, *others = self.driver.window_handles
        for tab in others:
            self.driver.switch_to.window(tab)
            self.driver.close()
        self.driver.switch_to.window(first)
        self.driver.get("about:blank")
        self.driver.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": "", "features": []})  # type: ignore[attr-defined]
        for identifier in self._scripts:
            script = {"identifier": identifier}
            self.driver.execute_cdp_cmd("Page.removeScriptToEvaluateOnNewDocument", script)  # type: ignore[attr-defined]
        self._scripts = []
        self.expected = [NO_NEWS]
        self._collect()
        self._errors.clear()

    def close(self) -> None:
        """Close the browser and keep its console errors; nothing happens when it is closed."""
        if self._driver:
            self._collect()
            self._driver.quit()
            self._driver = None

    def until(self, condition: Callable[[WebDriver], T], why: str, seconds: float = 20) -> T:
        """Give the condition's first true value; TimeoutException with `why` and the console when none."""
        try:
            # The app may draw a part anew between finding it and asking it something.
            drawn_anew = [StaleElementReferenceException]
            wait = WebDriverWait(self.driver, seconds, 0.05, ignored_exceptions=drawn_anew)
            return wait.until(condition)
        except Exception as problem:
            self._collect()
            problem.add_note("\n".join([f"waited for: {why}", *self._errors]))
            raise

    def js(self, script: str, *arguments: Any) -> Any:
        """Give what an async function body returns; JavascriptException when it throws."""
        return self.driver.execute_script(
            f"return (async (...args) => {{{script}}})(...arguments)", *arguments
        )

    def unexpected_errors(self) -> list[str]:
        """Give the console's errors so far, but for those that contain one of the `expected` texts."""
        if self._driver:
            self._collect()
        return [line for line in self._errors if not any(text in line for text in self.expected)]

    def _run_before_pages(self, script: str) -> str:
        """Have a script run before each page's own; gives what it is known by."""
        command = "Page.addScriptToEvaluateOnNewDocument"
        return str(self.driver.execute_cdp_cmd(command, {"source": script})["identifier"])  # type: ignore[attr-defined]

    def _collect(self) -> None:
        for entry in self.driver.get_log("browser"):  # type: ignore[attr-defined]
            if entry["level"] == "SEVERE":
                self._errors.append(entry["message"])

    def _started(self) -> WebDriver:
        options = Options()
        options.binary_location = BROWSER
        width, height = self.size
        for flag in (*FLAGS, f"--window-size={width},{height}", f"--user-data-dir={self.profile}"):
            options.add_argument(flag)
        # A browser window has a least width of its own, so the phone's screen is emulated, in every tab.
        screen = {"width": width, "height": height, "pixelRatio": 2, "mobile": width < 800, "touch": True}
        options.add_experimental_option("mobileEmulation", {"deviceMetrics": screen})
        if not self.scripts:
            blocked = {"profile.managed_default_content_settings.javascript": 2}
            options.add_experimental_option("prefs", blocked)
        options.set_capability("goog:loggingPrefs", {"browser": "ALL"})
        driver = webdriver.Chrome(options=options, service=Service(DRIVER))
        driver.set_script_timeout(60)
        return driver
