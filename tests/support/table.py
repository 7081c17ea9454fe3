"""What a person at the table does in the app, for the browser tests."""

from collections.abc import Callable

from selenium.webdriver.common.by import By
from selenium.webdriver.remote.webdriver import WebDriver
from selenium.webdriver.remote.webelement import WebElement

from tests.support.phone import Phone

Wanted = Callable[[WebElement], bool]


# What is off the screen counts as visible too: the page lays it out when somebody scrolls there.
VISIBLE = """
const [css, text] = arguments;
return [...document.querySelectorAll(css)]
  .find((element) => element.checkVisibility() && element.textContent.includes(text));
"""


class Table:
    """A person with the app open on a phone."""

    def __init__(self, phone: Phone, address: str) -> None:
        self.phone = phone
        self.address = address
        self._edge = "start"

    def open(self, where: str = "") -> None:
        """Open the app at a page and wait until it stands."""
        self.phone.driver.get(f"{self.address}/{where}")
        self.find("main[data-page]")

    def forget(self) -> None:
        """Leave the app and remove all it stored, as on a phone that never saw it; its files stay at hand."""
        if self.phone.driver.current_url != "about:blank":
            self.phone.driver.get("about:blank")
        everything = {"origin": self.address, "storageTypes": "all"}
        self.phone.driver.execute_cdp_cmd("Storage.clearDataForOrigin", everything)  # type: ignore[attr-defined]

    def forget_findings(self) -> None:
        """Leave the app and remove all that was entered, and keep the app itself for use without a signal."""
        self.phone.driver.get("about:blank")
        entered = {"origin": self.address, "storageTypes": "indexeddb,local_storage"}
        self.phone.driver.execute_cdp_cmd("Storage.clearDataForOrigin", entered)  # type: ignore[attr-defined]

    def reload(self) -> None:
        """Load the page again, as after closing the tab."""
        self.phone.driver.refresh()
        self.find("main[data-page]")

    def until_ready_offline(self) -> None:
        """Wait until the app is kept whole on the phone."""
        self.phone.js("await navigator.serviceWorker.ready;")
        self.phone.until(
            lambda driver: driver.execute_script("return Boolean(navigator.serviceWorker.controller)"),
            "the service worker to answer for this tab",
        )

    def find(self, css: str, text: str = "") -> WebElement:
        """Wait for a visible element whose text contains `text`."""

        def visible(driver: WebDriver) -> WebElement | None:
            hit: WebElement | None = driver.execute_script(VISIBLE, css, text)
            return hit

        found = self.phone.until(visible, f"{css} with the text {text!r}")
        assert found is not None
        return found

    def tap(self, css: str, text: str = "") -> None:
        """Tap an element, brought onto the screen first, each time somewhere else.

        A hand that taps the same place twice within a quarter of a second is taken for one that bounced.
        """
        element = self.find(css, text)
        self._edge = "start" if self._edge == "end" else "end"
        script = "arguments[0].scrollIntoView({block: arguments[1], behavior: 'instant'})"
        self.phone.driver.execute_script(script, element, self._edge)
        element.click()

    def type(self, css: str, text: str) -> None:
        """Replace what stands in a field."""
        element = self.find(css)
        self.phone.driver.execute_script("arguments[0].scrollIntoView({block: 'center'})", element)
        element.clear()
        element.send_keys(text)

    def new_set(self, name: str = "Tern B") -> str:
        """Start a set from the notebook in two taps; gives its address part `#/set/…`."""
        self.tap(".notebook > .button.strong")
        self.tap(".chooser .option", name)
        self.find("main[data-page='set'] .bar")
        return "#" + self.phone.driver.current_url.partition("#")[2]

    def answer(self, check: str, option: str) -> None:
        """Tap an option of a check and wait until it is on disk."""
        self.tap(f"#check-{check} .option", option)
        self.until_saved()

    def until_saved(self) -> None:
        """Wait until no mark of saving is left, which is when the database said `complete`."""
        self.phone.until(
            lambda driver: not driver.find_elements(By.CSS_SELECTOR, ".saving"), "everything to be on disk"
        )

    def price(self) -> str:
        """The range in the bottom bar."""
        return self.find(".bar-range").text

    def said(self, check: str) -> str:
        """The folded line of an answered check."""
        line = self.find(f"#check-{check} .folded-line")
        self.phone.driver.execute_script("arguments[0].scrollIntoView({block: 'center'})", line)
        return line.text
