"""The phone's database: one of an earlier form opens with everything kept."""

import json
from collections.abc import Callable

from selenium.webdriver.common.by import By

from tests.support.packs import FAMILY
from tests.support.phone import Phone
from tests.support.server import LiveServer
from tests.support.table import Table

# The first form, written down here once more: the app's own steps must be able to change without this test.
FIRST_FORM = """
const [set, findings, meta] = JSON.parse(args[0]);
await new Promise((resolve, reject) => {
  const request = indexedDB.open('underchassis', 1);
  request.onerror = () => reject(request.error);
  request.onupgradeneeded = () => {
    request.result.createObjectStore('sets', { keyPath: 'id' });
    request.result.createObjectStore('findings', { keyPath: ['set', 'key'] });
    request.result.createObjectStore('meta', { keyPath: 'key' });
  };
  request.onsuccess = () => {
    const database = request.result;
    const writing = database.transaction(['sets', 'findings', 'meta'], 'readwrite');
    writing.objectStore('sets').put(set);
    for (const row of findings) writing.objectStore('findings').put(row);
    writing.objectStore('meta').put(meta);
    writing.oncomplete = () => {
      database.close();
      resolve();
    };
  };
});
"""


def test_a_database_of_the_first_form_opens_with_everything_kept(
    live_server: LiveServer, browser: Callable[..., Phone]
) -> None:
    phone = browser()
    table = Table(phone, live_server.url)
    # The plain form has the app's origin and none of its scripts.
    phone.driver.get(f"{live_server.url}/form")
    assert phone.js("return (await indexedDB.databases()).length") == 0
    when = "2026-03-01T07:00:00.000Z"
    base = {"id": "a1", "family": FAMILY, "model_sheet": "tern-b", "created": when, "demo": False}
    values = {"title": "Tern B, early", "asking": 90, "check/loading-coil": {"option": "gone"}}
    findings = [{"set": "a1", "key": key, "value": value, "changed": when} for key, value in values.items()]
    last = {"key": "last", "value": {"place": "Quayside Sunday Market"}}
    phone.js(FIRST_FORM, json.dumps([base, findings, last]))

    table.open()
    table.tap(".set-row .row-link", "Tern B, early")
    assert "Gone" in table.said("loading-coil")
    assert table.find("#asking").get_attribute("value") == "90"
    table.answer("dial", "Gone")
    table.reload()
    assert "Gone" in table.said("dial")
    assert phone.js("return (await indexedDB.databases())[0].version") > 1
    table.open()
    table.new_set("Tern A")
    assert "Quayside Sunday Market" in table.find(".top .sub").text
    table.open()
    phone.until(lambda driver: len(driver.find_elements(By.CSS_SELECTOR, ".set-row")) == 2, "both sets")
